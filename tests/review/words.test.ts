import { describe, expect, it } from 'vitest';
import type { RestMeasure } from '$lib/physiology/recovery';
import type { RoundSummary } from '$lib/record/summary';
import { briefVerdict, verdictWords } from '$lib/review/words';
import { meanDropOf } from '$lib/review/mean-words';

describe('a verdict', () => {
	// The band is common practice, no source.
	it('is said of the rest, and says where an edge is too close, in the band too', () => {
		expect(verdictWords({ verdict: 'under the band', nearEdge: false })).toBe('slower than gyms look for');
		expect(verdictWords({ verdict: 'in the band', nearEdge: true })).toBe(
			'what gyms look for, too close to call'
		);
		expect(verdictWords({ verdict: 'over the band', nearEdge: false })).toBe('above the band');
		expect(verdictWords({ verdict: 'not judged', nearEdge: false })).toBe('not judged');
	});

	it('is short where there is little room', () => {
		expect(briefVerdict({ verdict: 'in the band', nearEdge: false })).toBe('in the band');
		expect(briefVerdict({ verdict: 'in the band', nearEdge: true })).toBe('too close to call');
	});
});

describe('a mean drop', () => {
	const round = (verdict: RestMeasure['verdict']) =>
		({ rest: { verdict, nearEdge: false } }) as unknown as RoundSummary;

	it('says how many judged rests it is of', () => {
		const rounds = [round('in the band'), round('not judged'), round('under the band')];
		expect(meanDropOf({ drop60Count: 2, rounds })).toBe('mean of 2 judged rests');
		expect(meanDropOf({ drop60Count: 1, rounds: [round('in the band')] })).toBe('mean of 1 judged rest');
	});

	it('says where none was judged or measured', () => {
		expect(meanDropOf({ drop60Count: 3, rounds: [round('not judged')] })).toBe(
			'mean of 3 rests that were not judged'
		);
		expect(meanDropOf({ drop60Count: 0, rounds: [] })).toBe('no rest of a full minute with a clean signal');
	});
});
