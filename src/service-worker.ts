/// <reference no-default-lib="true"/>
/// <reference lib="esnext" />
/// <reference lib="webworker" />
/// <reference types="@sveltejs/kit" />
import { build, files, prerendered, version } from '$service-worker';

// Keeps one whole version of the page, so that it opens without the server. A new version is fetched in the
// background and waits until every open page is closed, or until the athlete asks for it between sessions: no
// session ever sees its program change under it. That waiting is the browser's default; skipWaiting() is called
// for nothing but that one word, which a page sends only while it holds the lock that recording needs.
const worker = globalThis.self as unknown as ServiceWorkerGlobalScope;
const cacheName = `corner-minute-${version}`;
const kept = new Set([...build, ...files, ...prerendered, '/licences.txt', '/404.html']);

async function keepThisVersion() {
	const cache = await caches.open(cacheName);
	// Past the browser's own cache, where a file without a hash in its name could be of an older version.
	await cache.addAll([...kept].map((path) => new Request(path, { cache: 'reload' })));
}

async function dropOlderVersions() {
	const names = await caches.keys();
	await Promise.all(names.filter((name) => name !== cacheName).map((name) => caches.delete(name)));
	// The very first page is not yet in this worker's care, and may still want a part it has not loaded.
	await worker.clients.claim();
}

async function answer(request: Request, path: string) {
	const cache = await caches.open(cacheName);
	return (await cache.match(path)) ?? fetch(request);
}

/** What is asked for by an address that this version does not know: the server may, and offline our own page says so. */
async function answerUnknown(request: Request) {
	try {
		return await fetch(request);
	} catch (problem) {
		const page = await (await caches.open(cacheName)).match('/404.html');
		if (!page) throw problem;
		return new Response(page.body, { status: 404, headers: page.headers });
	}
}

worker.addEventListener('install', (event) => event.waitUntil(keepThisVersion()));
worker.addEventListener('message', (event) => {
	if (event.data === 'take over') event.waitUntil(worker.skipWaiting());
});
worker.addEventListener('activate', (event) => event.waitUntil(dropOlderVersions()));
worker.addEventListener('fetch', (event) => {
	const { origin, pathname } = new URL(event.request.url);
	if (event.request.method !== 'GET' || origin !== worker.location.origin) return;
	// A page may be asked for without its last slash.
	const path = event.request.mode === 'navigate' && !kept.has(pathname) ? `${pathname}/` : pathname;
	if (kept.has(path)) event.respondWith(answer(event.request, path));
	else if (event.request.mode === 'navigate') event.respondWith(answerUnknown(event.request));
});
