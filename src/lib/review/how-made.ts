import type { ExplainedMethod } from '$lib/physiology/method-entry';

export type { ExplainedMethod };

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
