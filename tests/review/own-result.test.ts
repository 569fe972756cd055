import { describe, expect, it } from 'vitest';
import type { Athlete } from '$lib/record/athlete';
import type { GuidedSummary, Summary } from '$lib/record/summary';
import { takenOf, withResult } from '$lib/review/own-result';

const owner: Athlete = { id: 'ath-1', name: 'Nerea', thresholdBpm: 160, restBpm: 58 };
const startedAt = '2026-03-02T12:00:00.000Z';
const result = (guided: Partial<GuidedSummary>) => ({ guided }) as unknown as Pick<Summary, 'guided'>;
const run = (bpm: number | undefined) => ({ bpm }) as unknown as Parameters<typeof takenOf>[2];

describe('the result of a guided measurement', () => {
	it('goes to the card with its day, and is taken from then on', () => {
		const measured = result({ kind: 'threshold run' });
		expect(takenOf(owner, measured, run(164))).toBeUndefined();
		const card = withResult(owner, measured, run(164), 'mean less 5 %', startedAt)!;
		expect(card).toMatchObject({ thresholdBpm: 164, thresholdDate: '2026-03-02' });
		expect(takenOf(card, measured, run(164))).toBe('mean less 5 %');
	});

	it('is a resting rate in the posture in which it was measured', () => {
		const measured = result({ kind: 'resting', restBpm: 54, posture: 'lying' });
		const card = withResult(owner, measured, undefined, undefined, startedAt);
		expect(card).toMatchObject({ restBpm: 54, restDate: '2026-03-02', restPosture: 'lying' });
		expect(takenOf(card, measured, undefined)).toBe('resting rate');
	});

	it('is nothing to take where nothing could be measured', () => {
		expect(takenOf(owner, result({ kind: 'resting' }), undefined)).toBeUndefined();
		expect(
			withResult(owner, result({ kind: 'threshold run' }), run(undefined), undefined, startedAt)
		).toBeUndefined();
		expect(takenOf(owner, result({ kind: 'threshold run' }), run(undefined))).toBeUndefined();
		expect(takenOf(undefined, result({ kind: 'resting', restBpm: 54 }), undefined)).toBeUndefined();
	});
});

describe('a resting rate for the card', () => {
	it('is one of lying or sitting, in no other posture', () => {
		const taken = (posture?: 'lying' | 'sitting' | 'standing') =>
			withResult(owner, result({ kind: 'resting', restBpm: 54, posture }), undefined, undefined, startedAt)
				?.restPosture;
		expect(taken('sitting')).toBe('sitting');
		expect(taken('lying')).toBe('lying');
		expect(taken('standing')).toBeUndefined();
		expect(taken()).toBeUndefined();
	});
});
