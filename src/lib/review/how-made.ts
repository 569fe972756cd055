import type { ExplainedMethod, OutsideCheck, Source } from '$lib/physiology/method-entry';

export type { ExplainedMethod };

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
 * Every entry of the Methods screen, by the given way to fetch.
 *
 * @throws where the file cannot be had: the page was never opened before, and there is no network.
 */
export async function methodsFrom(fetching: typeof fetch): Promise<readonly ExplainedMethod[]> {
	const answer = await fetching('/methods/entries.json');
	if (!answer.ok) throw new Error(`The explanations could not be had (${answer.status}).`);
	return (await answer.json()) as readonly ExplainedMethod[];
}

let known: Promise<readonly ExplainedMethod[]> | undefined;

/** How a number was made; `undefined` where no entry has that id. Rejects as `methodsFrom`, and then tries afresh. */
export async function howMade(id: string): Promise<ExplainedMethod | undefined> {
	known ??= methodsFrom(fetch);
	try {
		return (await known).find((method) => method.id === id);
	} catch (problem) {
		known = undefined;
		throw problem;
	}
}
