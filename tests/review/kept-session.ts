import type { RestSummary, Summary } from '$lib/record/summary';
import { makeSummary } from './session-builders';

/** A judged rest of a minute that fell so far. */
export const makeRest = (
	drop60: number,
	verdict: RestSummary['verdict'] = 'under the band'
): RestSummary => ({
	kind: 'rest',
	startMs: 0,
	endMs: 60_000,
	drop60,
	rate60: 180 - drop60,
	verdict,
	nearEdge: false
});

/** A summary whose rests are judged and fell so far. */
export const summaryOf = (drops: readonly number[], overrides: Partial<Summary> = {}): Summary =>
	makeSummary({
		rounds: drops.map((drop, i) => ({
			round: i + 1,
			attempt: 1,
			startMs: i,
			endMs: i,
			rest: makeRest(drop)
		})),
		drop60Count: drops.length,
		lengthS: 0,
		workS: 0,
		...overrides
	});
