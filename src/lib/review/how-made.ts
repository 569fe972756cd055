import checkedAgainst from '$lib/physiology/checked-against.json';
import type { MethodEntry, OutsideCheck, Source } from '$lib/physiology/method-entry';

/** A source for the eye, with how far it was read: "Foster, Med Sci Sports Exerc 1998;30:1164-8 (abstract)". */
export const sourceWords = (source: Source): string =>
	typeof source === 'string' ? source : `${source.text} (${source.seen})`;

/** How far a measure and something outside lay apart at most: "0.57 beats". */
export const differenceWords = ({ largestDifference, unit }: OutsideCheck): string =>
	largestDifference === 0 ? 'none but rounding' : `${largestDifference} ${unit}`;

/** One check for the eye: what against, how many cases, and how far apart at most. */
export const checkWords = (check: OutsideCheck): string =>
	`${check.against}. ${check.cases} ${check.cases === 1 ? 'case' : 'cases'}, largest difference: ${differenceWords(check)}.`;

/**
 * How a number was made; `undefined` where no entry has that id. The entries come after the screen that shows the
 * number, which does not wait for them. Rejects where they cannot be had: there is no network, and no copy here.
 */
export async function howMade(id: string): Promise<MethodEntry | undefined> {
	const { allMethods } = await import('$lib/physiology/all-methods');
	return allMethods.find((method) => method.id === id);
}

/** What tests have found of an entry; empty where nothing outside was there to check against. */
export const checksOf = (id: string): readonly OutsideCheck[] =>
	checkedAgainst.filter(({ entryId }) => entryId === id);
