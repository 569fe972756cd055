import type { Verdict } from '$lib/physiology/recovery';
import type { RoundSummary, Summary } from '$lib/record/summary';

/** A round of three minutes with the drop of the rest behind it. */
export const makeRound = (
	round: number,
	drop60: number | undefined,
	verdict: Verdict = 'in the band'
): RoundSummary => ({
	round,
	attempt: 1,
	startMs: (round - 1) * 240_000,
	endMs: (round - 1) * 240_000 + 180_000,
	rest: {
		kind: 'rest',
		startMs: (round - 1) * 240_000 + 180_000,
		endMs: round * 240_000,
		verdict,
		nearEdge: false,
		...(drop60 !== undefined && { drop60, drop60ErrorBpm: drop60 * 0.2 })
	}
});

/** Three rounds of three minutes without a threshold, and nothing measured but what is given. */
export const makeSummary = (overrides: Partial<Summary> = {}): Summary => ({
	methodsVersion: 1,
	rounds: [],
	drop60Count: 0,
	lengthS: 720,
	workS: 540,
	costs: {
		energy: { reason: 'unknown' },
		metWorkKJ: { reason: 'unknown' },
		load: { reason: 'unknown' },
		isMaxEstimated: true
	},
	unusual: [],
	ignoresContact: false,
	...overrides
});
