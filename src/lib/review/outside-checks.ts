import checkedAgainst from '$lib/physiology/checked-against.json';
import type { OutsideCheck } from '$lib/physiology/method-entry';

/** How far a measure and something outside lay apart at most: "0.57 beats". */
export const differenceWords = ({ largestDifference, unit }: OutsideCheck): string =>
	largestDifference === 0 ? 'none but rounding' : `${largestDifference} ${unit}`;

/** One check for the eye: what against, how many cases, and how far apart at most. */
export const checkWords = (check: OutsideCheck): string =>
	`${check.against}. ${check.cases} ${check.cases === 1 ? 'case' : 'cases'}, largest difference: ${differenceWords(check)}.`;

/** What tests have found of an entry; empty where nothing outside was there to check against. */
export const checksOf = (id: string): readonly OutsideCheck[] =>
	checkedAgainst.filter(({ entryId }) => entryId === id);
