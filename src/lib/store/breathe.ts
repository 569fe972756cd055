import { promisifyRequest } from 'idb-keyval';

/** Awaited amid long work and told the share done by then, 0 to 1, so that a page stays alive. Ends the work by rejecting. */
export type Breathe = (share: number) => Promise<void>;

/** Told the share done, 0 to 1; ends the work by throwing. */
export type Tell = (share: number) => void;

/** The work was called off by whoever asked for it. */
export class Cancelled extends Error {
	override readonly name = 'Cancelled';
}

/** A work that somebody may call off: `show` is told the share done, at first 0. */
export function cancellable(show: Tell): { tell: Tell; cancel: () => void } {
	let isCancelled = false;
	show(0);
	return {
		tell(share) {
			if (isCancelled) throw new Cancelled();
			show(share);
		},
		cancel() {
			isCancelled = true;
		}
	};
}

/** So many entries are worked on between two breaths: some hundredths of a second. */
const entriesPerBreath = 50;

/**
 * Resolves in a task of its own, so that what the browser has waiting, a press or a frame, comes between two pieces of
 * work that would hold the page together.
 */
export const nextTask = () => new Promise<void>((resolve) => setTimeout(resolve));

/** Lets the page live for a moment, then tells the share. */
export function breathing(tell: Tell): Breathe {
	return async (share) => {
		await nextTask();
		tell(share);
	};
}

/** The same within a transaction, which stays open only while a request of its own is awaited. */
export function breathingIn(objects: IDBObjectStore, tell: Tell): Breathe {
	return async (share) => {
		await promisifyRequest(objects.count(''));
		tell(share);
	};
}

/** The members of a list in turn, with a breath after every few: `from` and `to` are the shares at either end. */
export async function* inBreaths<T>(
	list: readonly T[],
	breathe: Breathe,
	from = 0,
	to = 1
): AsyncGenerator<readonly T[]> {
	for (let i = 0; i < list.length; i += entriesPerBreath) {
		yield list.slice(i, i + entriesPerBreath);
		await breathe(from + ((to - from) * Math.min(list.length, i + entriesPerBreath)) / list.length);
	}
}
