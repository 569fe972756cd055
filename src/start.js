// `npm start`: takes the port, builds the page, serves it. `--no-build` serves what stands in build/.
// The port is fixed because a browser keeps one database per origin: on another port the saved sessions
// would seem to be gone, so a taken port ends the start instead of moving it. `--port` is for the browser
// stories alone, which must not meet a Corner Minute in use.
import { existsSync, readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { connect } from 'node:net';
import process from 'node:process';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import sirv from 'sirv';
import { cacheControlOf, securityHeaders } from './response-headers.js';

const root = fileURLToPath(new URL('..', import.meta.url));
// `localhost` means either of them, depending on the system and the browser.
const hosts = ['127.0.0.1', '::1'];

/** @typedef {import('node:http').RequestListener} Handler */

const { values: options } = parseArgs({
	options: {
		port: { type: 'string', default: '4360' },
		'no-build': { type: 'boolean', default: false }
	}
});
const port = Number(options.port);
const address = `http://localhost:${port}/`;

/** @type {Handler} */
const beingBuilt = (_request, response) => {
	response.writeHead(503, {
		...securityHeaders,
		'Content-Type': 'text/plain; charset=utf-8',
		'Retry-After': '5'
	});
	response.end('Corner Minute is being built. Load this page again in a moment.\n');
};

/** @type {Handler} */
let handler = beingBuilt;

for (const host of hosts) if (await isAnswering(host)) await giveUpThePort(host);
// The port is held before the build starts: two starts at once cannot both write build/.
const held = await Promise.all(hosts.map(hold));
if (!held.includes(true)) await giveUpThePort('127.0.0.1');

if (!options['no-build']) await build();
if (!existsSync(`${root}build/index.html`)) {
	console.error('There is no built page in build/ yet: run `npm start` once without --no-build.');
	process.exit(1);
}
handler = pagesOf(`${root}build`);
console.log(`Corner Minute is ready at ${address}  (Ctrl+C ends it)`);

/**
 * @param {string} host
 * @returns {Promise<boolean>}
 */
function isAnswering(host) {
	return new Promise((resolve) => {
		const socket = connect({ host, port, timeout: 1000 });
		const answer = (/** @type {boolean} */ is) => () => {
			socket.destroy();
			resolve(is);
		};
		socket.once('connect', answer(true)).once('error', answer(false)).once('timeout', answer(false));
	});
}

/**
 * Listens on one address. False where this machine lacks the address family; the other one is then enough.
 *
 * @param {string} host
 * @returns {Promise<boolean>}
 */
function hold(host) {
	return new Promise((resolve) => {
		const server = createServer((request, response) => handler(request, response));
		server.once('error', (/** @type {NodeJS.ErrnoException} */ error) => {
			if (error.code === 'EADDRINUSE') void giveUpThePort(host);
			else resolve(false);
		});
		server.listen({ port, host }, () => resolve(true));
	});
}

/**
 * Says in one line who holds the port, and ends.
 *
 * @param {string} host
 */
async function giveUpThePort(host) {
	const url = `http://${host.includes(':') ? `[${host}]` : host}:${port}/manifest.webmanifest`;
	const said = await fetch(url, { signal: AbortSignal.timeout(2000) }).then(
		(response) => response.text(),
		() => ''
	);
	console.error(
		said.includes('Corner Minute')
			? `Corner Minute is already running at ${address} - open that address, or end the other one first.`
			: `Port ${port} is held by another program. End that program and start again: Corner Minute always uses this port, because the browser keeps the sessions by address.`
	);
	process.exit(1);
}

async function build() {
	process.chdir(root);
	const vite = await import('vite');
	await vite.build({ logLevel: 'error' });
}

/**
 * @param {string} folder
 * @returns {Handler}
 */
function pagesOf(folder) {
	const serve = sirv(folder, {
		etag: true,
		// As the adapter has packed them: script goes out at a third of its size.
		brotli: true,
		gzip: true,
		setHeaders(response, pathname) {
			response.setHeader('Cache-Control', cacheControlOf(pathname));
		}
	});
	const unknown = readFileSync(`${folder}/404.html`);
	return (request, response) => {
		for (const [name, value] of Object.entries(securityHeaders)) response.setHeader(name, value);
		serve(request, response, () => {
			response.writeHead(404, {
				'Content-Type': 'text/html; charset=utf-8',
				'Cache-Control': cacheControlOf('/404.html')
			});
			response.end(unknown);
		});
	};
}
