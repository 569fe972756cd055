import type { MethodEntry, Source } from '$lib/physiology/method-entry';

/** A source for the eye, with how far it was read: "Foster, Med Sci Sports Exerc 1998;30:1164-8 (abstract)". */
export const sourceWords = (source: Source): string =>
	typeof source === 'string' ? source : `${source.text} (${source.seen})`;

/**
 * How a number was made; `undefined` where no entry has that id. The entries come after the screen that shows the
 * number, which does not wait for them. Rejects where they cannot be had: there is no network, and no copy here.
 */
export async function howMade(id: string): Promise<MethodEntry | undefined> {
	const { allMethods } = await import('$lib/physiology/all-methods');
	return allMethods.find((method) => method.id === id);
}
