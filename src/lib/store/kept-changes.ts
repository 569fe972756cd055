import type { UseStore } from 'idb-keyval';

/**
 * Whoever shows kept things is told which of them were written, by whatever way and in whichever window. Told are the
 * first two parts of their keys: `athlete/<id>`, `edit/<session>`, `setting/units`. Caches are no news.
 */
export type KeptListener = (keys: ReadonlySet<string>, isOtherWindow: boolean) => void;

const listeners = new WeakMap<UseStore, Set<KeptListener>>();
let otherWindows: BroadcastChannel | undefined;

/** Notes every write of a transaction in `keys`. What a running session appends each second is none, nor is a cache. */
export function noting(objects: IDBObjectStore, keys: Set<string>): IDBObjectStore {
	const note = (key: unknown) => {
		const text = String(key instanceof IDBKeyRange ? key.lower : key);
		if (!text.startsWith('journal/') && !text.startsWith('here-')) keys.add(text.split('/', 2).join('/'));
	};
	return new Proxy(objects, {
		get(target, name) {
			const member: unknown = Reflect.get(target, name, target);
			if (typeof member !== 'function') return member;
			return (...given: unknown[]) => {
				if (name === 'put' || name === 'add') note(given[1]);
				else if (name === 'delete') note(given[0]);
				return member.apply(target, given) as unknown;
			};
		}
	});
}

/** Whether entries of one of these kinds were written. */
export const touches = (keys: ReadonlySet<string>, ...kinds: string[]) =>
	[...keys].some((key) => kinds.includes(key.split('/')[0] ?? ''));

/** Tells everybody who listens, once a transaction has completed. */
export function tellKept(store: UseStore, keys: ReadonlySet<string>): void {
	if (keys.size === 0) return;
	for (const listener of listeners.get(store) ?? []) listener(keys, false);
	otherWindows?.postMessage([...keys]);
}

/** Listens to what is written in this window and in others. Answers what ends it. */
export function onKept(store: UseStore, listener: KeptListener): () => void {
	const all = listeners.get(store) ?? new Set();
	listeners.set(store, all.add(listener));
	// A worker shows nothing, and some browsers have no channels: other windows are then read anew when they are opened.
	if (globalThis.document !== undefined && typeof globalThis.BroadcastChannel === 'function') {
		otherWindows ??= new BroadcastChannel('corner-minute kept');
		otherWindows.addEventListener('message', fromOutside);
	}
	function fromOutside({ data }: MessageEvent<string[]>) {
		listener(new Set(data), true);
	}
	return () => {
		all.delete(listener);
		otherWindows?.removeEventListener('message', fromOutside);
	};
}

/**
 * Reads again what a screen shows whenever something that concerns it is written, one reading at a time: much that is written
 * during one, by a visit to the shared folder say, is read by one more. Answers what ends it.
 *
 * @param read never rejects
 */
export function readAgainOnNews(
	store: UseStore,
	concerns: (keys: ReadonlySet<string>) => boolean,
	read: () => Promise<void>
): () => void {
	let isDue = false;
	let isReading = false;
	let isOver = false;
	async function readAgain() {
		isDue = true;
		if (isReading) return;
		isReading = true;
		while (isDue && !isOver) {
			isDue = false;
			await read();
		}
		isReading = false;
	}
	const stop = onKept(store, (keys) => concerns(keys) && void readAgain());
	return () => {
		isOver = true;
		stop();
	};
}
