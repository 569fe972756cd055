/** What the service worker understands; it says the same words. */
const takeOverWord = 'take over';

/**
 * Calls back with a new version of the page once it lies complete in this browser and waits. It waits for as
 * long as any page of the old one is open, unless it is asked in with `takeOver`. The answer ends the watch.
 */
export function watchForUpdate(onWaiting: (worker: ServiceWorker) => void): () => void {
	const { serviceWorker } = navigator as Partial<Navigator>;
	const watch = new AbortController();
	const { signal } = watch;
	async function start(workers: ServiceWorkerContainer) {
		const registration = await workers.ready;
		// The very first version has nothing to wait for.
		const tell = () => {
			if (registration.waiting && workers.controller && !signal.aborted) onWaiting(registration.waiting);
		};
		tell();
		registration.addEventListener(
			'updatefound',
			() => registration.installing?.addEventListener('statechange', tell, { signal }),
			{ signal }
		);
		registration.installing?.addEventListener('statechange', tell, { signal });
	}
	if (serviceWorker) void start(serviceWorker);
	return () => watch.abort();
}

/** Lets a waiting version in. Every page is told by `onTakenOver`. */
export function takeOver(worker: ServiceWorker): void {
	worker.postMessage(takeOverWord);
}

/** Calls back when another version has taken over this page's requests, in whichever tab that was asked for. */
export function onTakenOver(call: () => void): () => void {
	const { serviceWorker } = navigator as Partial<Navigator>;
	const watch = new AbortController();
	let hadController = Boolean(serviceWorker?.controller);
	serviceWorker?.addEventListener(
		'controllerchange',
		() => {
			// The first version takes charge of a page that had none: nothing changes for it.
			if (hadController) call();
			hadController = true;
		},
		{ signal: watch.signal }
	);
	return () => watch.abort();
}
