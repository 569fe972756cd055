import type { RestSummary, Summary } from '$lib/record/summary';

const rest = (drop60: number): RestSummary => ({
	kind: 'rest',
	startMs: 0,
	endMs: 60_000,
	drop60,
	rate60: 180 - drop60,
	verdict: 'under the band',
	nearEdge: false
});

/** A summary whose rests are judged and fell so far. */
export function makeSummary(drops: readonly number[], overrides: Partial<Summary> = {}): Summary {
	return {
		methodsVersion: 1,
		rounds: drops.map((drop, i) => ({ round: i + 1, attempt: 1, startMs: i, endMs: i, rest: rest(drop) })),
		drop60Count: drops.length,
		lengthS: 0,
		workS: 0,
		costs: {
			energy: { reason: 'unknown' },
			metWorkKJ: { reason: 'unknown' },
			load: { reason: 'unknown' },
			isMaxEstimated: true
		},
		unusual: [],
		ignoresContact: false,
		...overrides
	};
}
