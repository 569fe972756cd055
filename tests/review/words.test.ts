import { describe, expect, it } from 'vitest';
import type { RestMeasure } from '$lib/physiology/recovery';
import type { RoundSummary } from '$lib/record/summary';
import type { Phase } from '$lib/rounds/timeline';
import { briefVerdict, dropWords, phaseWords, verdictWords } from '$lib/review/words';
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

describe('what the clock is doing', () => {
	const phase = (kind: Phase['kind'], more: Partial<Phase> = {}): Phase => ({
		kind,
		round: 2,
		startMs: 0,
		endMs: 60_000,
		plannedEndMs: 60_000,
		pauses: [],
		...more
	});

	it('is the round of so many, and that it is boxed again', () => {
		expect(phaseWords(phase('work'), 6)).toBe('Round 2 of 6');
		expect(phaseWords(phase('work', { attempt: 1 }), 6)).toBe('Round 2 of 6');
		expect(phaseWords(phase('work', { attempt: 2 }), 6)).toBe('Round 2 of 6 again');
		// Nobody knows how many the gym's own bell will ring.
		expect(phaseWords(phase('work'), undefined)).toBe('Round 2');
	});

	it('is a rest, or the pause before a block, by what it leads to', () => {
		expect(phaseWords(phase('rest'), 6)).toBe('Rest after round 2');
		expect(phaseWords(phase('rest', { toBlock: 2 }), 6)).toBe('Pause before block 2');
		expect(phaseWords(phase('closing'), 6)).toBe('The last minute');
	});

	it('is what stands before the first round and after the last', () => {
		expect(phaseWords(phase('get ready'), 6)).toBe('Get ready');
		expect(phaseWords(phase('get ready'), undefined)).toBe('Waiting for the first bell');
		expect(phaseWords(phase('warm-up'), 6)).toBe('Warm-up');
		expect(phaseWords(phase('cool-down'), 6)).toBe('Cool-down');
		expect(phaseWords(undefined, 6)).toBe('Over');
	});

	it('is called by what is measured in a guided measurement, and there alone', () => {
		expect(phaseWords(phase('work'), 1, 'threshold run')).toBe('The 20 minutes');
		expect(phaseWords(phase('work'), 1, 'resting')).toBe('Five quiet minutes');
		expect(phaseWords(phase('closing'), 3, 'recovery check')).toBe('Three minutes still');
		expect(phaseWords(phase('work'), 3, 'recovery check')).toBe('Round 2 of 3');
		expect(phaseWords(phase('closing'), 1, 'threshold run')).toBe('The last minute');
		expect(phaseWords(phase('closing'), 1, 'resting')).toBe('The last minute');
		expect(phaseWords(phase('warm-up'), 1, 'threshold run')).toBe('Warm-up');
		expect(phaseWords(undefined, 1, 'resting')).toBe('Over');
	});
});

describe('a drop in words', () => {
	it('is whole beats, and none where the rate has risen', () => {
		expect(dropWords(41.4)).toBe('41');
		expect(dropWords(0)).toBe('0');
		expect(dropWords(-0.3)).toBe('0');
		expect(dropWords(-4)).toBe('none (rose 4)');
	});
});
