import { describe, expect, it } from 'vitest';
import { snapshotOf } from '$lib/record/athlete-snapshot';
import { withThreshold } from '$lib/record/athlete-changes';
import { mergedCard } from '$lib/record/merged-card';
import { cardOn } from '$lib/record/put-right';
import type { Athlete } from '$lib/record/athlete';
import { measureRest } from '$lib/physiology/recovery';
import { takenBasisOf, withRunThreshold } from '$lib/review/run-threshold';
import { hardnessOf, hardRoundWords } from '$lib/review/hard-rounds';
import { readsLowWords } from '$lib/review/run-words';
import { thresholdBasisWords, thresholdWords } from '$lib/review/threshold-words';

const athlete: Athlete = { id: 'a', name: 'Nerea', birthYear: 1998 };
const snapshot = { athleteId: 'a', name: 'Nerea' };
// 170.4 less 5 % is 161.88.
const run = { meanBpm: 170.4, bpm: 161.88 };

describe('either reading of a threshold run', () => {
	it('is kept in whole beats, with which one it is', () => {
		expect(withRunThreshold(athlete, run, '20-minute mean', '2026-03-02')).toEqual({
			...athlete,
			thresholdBpm: 170,
			thresholdDate: '2026-03-02',
			thresholdSource: 'run',
			thresholdBasis: '20-minute mean'
		});
		expect(withRunThreshold(athlete, run, 'mean less 5 %', '2026-03-02')).toMatchObject({
			thresholdBpm: 162,
			thresholdBasis: 'mean less 5 %'
		});
	});

	it('is known as the one in use, the other is not', () => {
		for (const basis of ['20-minute mean', 'mean less 5 %'] as const)
			expect(takenBasisOf(run, withRunThreshold(athlete, run, basis, '2026-03-02'))).toBe(basis);
		expect(takenBasisOf(run, athlete)).toBeUndefined();
		expect(takenBasisOf(run, withThreshold(athlete, 170, '2026-03-02', 'typed'))).toBeUndefined();
	});

	it('is known too where it was kept before either was noted, unrounded and less 5 %', () => {
		expect(takenBasisOf(run, withThreshold(athlete, 161.88, '2026-03-02', 'run'))).toBe('mean less 5 %');
	});

	it('keeps what it stood on when the next one comes, and a typed one stands on none', () => {
		const kept = withRunThreshold(athlete, run, '20-minute mean', '2026-03-02');
		const typed = withThreshold(kept, 165, '2026-04-01', 'typed');
		expect(typed).not.toHaveProperty('thresholdBasis');
		expect(typed.olderThresholds).toEqual([
			{ bpm: 170, date: '2026-03-02', source: 'run', basis: '20-minute mean' }
		]);
		// A session of March stood on the mean, one of April on what was typed.
		expect(cardOn(typed, '2026-03-20')).toMatchObject({
			thresholdBpm: 170,
			thresholdBasis: '20-minute mean'
		});
		expect(cardOn(typed, '2026-04-02')).not.toHaveProperty('thresholdBasis');
		expect(cardOn(kept, '2026-03-01')).not.toHaveProperty('thresholdBasis');
	});

	it('goes along with its number into a session and into a card put together of two', () => {
		const kept = withRunThreshold(athlete, run, '20-minute mean', '2026-03-02');
		expect(snapshotOf(kept, 2026)).toMatchObject({ thresholdBpm: 170, thresholdBasis: '20-minute mean' });
		expect(mergedCard(athlete, { ...kept, id: 'b' })).toMatchObject({ thresholdBasis: '20-minute mean' });
		const typed = withThreshold(athlete, 165, '2026-04-01', 'typed');
		const both = mergedCard(typed, { ...kept, id: 'b' });
		expect(both).not.toHaveProperty('thresholdBasis');
		expect(both.olderThresholds).toEqual([
			{ bpm: 170, date: '2026-03-02', source: 'run', basis: '20-minute mean' }
		]);
	});

	it('is named wherever its number is', () => {
		expect(thresholdWords({ thresholdBpm: 161.88, thresholdBasis: 'mean less 5 %' })).toBe(
			'162, 20-minute mean less 5 %'
		);
		expect(thresholdWords({ thresholdBpm: 165 })).toBe('165');
		expect(thresholdWords({})).toBeUndefined();
		expect(thresholdBasisWords({ thresholdSource: 'run' })).toBe('from a threshold run');
		expect(thresholdBasisWords({ thresholdSource: 'typed' })).toBe('typed');
	});
});

describe('how low a run reads', () => {
	it('is said with its size, and how far this run rose', () => {
		const words = readsLowWords({ riseBpm: 11.6 });
		expect(words).toContain('1 to 9 beats under the true threshold, the mean less 5 % 10 to 17.');
		expect(words).toContain('the last five minutes lay 12 beats above the first five');
		for (const riseBpm of [undefined, 0.3, -4])
			expect(readsLowWords({ riseBpm })).not.toContain('In this run');
	});
});

describe('what a hard round is', () => {
	// Own rules: 90 % of the threshold, else 80 % of the maximum; 208 - 0.7 x 30 = 187, and 10 for its error.
	it.each([
		[
			{ thresholdBpm: 170, thresholdBasis: '20-minute mean' as const },
			'A round counts as hard from 153 beats at the bell: 90 % of the threshold of 170, 20-minute mean.'
		],
		[
			{ measuredMaxBpm: 190, ageYears: 30 },
			'A round counts as hard from 152 beats at the bell: 80 % of the measured maximum.'
		],
		[
			{ ageYears: 30 },
			'A round counts as hard from 158 beats at the bell: 80 % of the maximum that the age allows.'
		]
	])('says what it stands on: %o', (facts, words) => {
		expect(hardRoundWords({ ...snapshot, ...facts })).toBe(words);
	});

	it('says so too of a round that was not hard enough', () => {
		const measure = (facts: object) =>
			measureRest(
				Float64Array.from({ length: 70 }, () => 140),
				10,
				70,
				hardnessOf({ ...snapshot, ...facts })
			);
		expect(measure({ thresholdBpm: 170, thresholdBasis: '20-minute mean' }).reason).toBe(
			'The round was not hard enough to judge: 140 at the bell, 153 needed (90 % of the threshold of 170, 20-minute mean).'
		);
		expect(measure({ measuredMaxBpm: 190 }).reason).toMatch(/152 needed \(80 % of the measured maximum\)\.$/);
	});

	it('is not told where nothing tells it', () => {
		expect(hardRoundWords(snapshot)).toBeUndefined();
	});
});

describe('a threshold of another run', () => {
	it('is not taken for this one’s', () => {
		const other = { meanBpm: 165, bpm: 156.75 };
		for (const basis of ['20-minute mean', 'mean less 5 %'] as const)
			expect(takenBasisOf(run, withRunThreshold(athlete, other, basis, '2026-03-02'))).toBeUndefined();
	});

	it('says which reading it is, else from where it comes', () => {
		expect(thresholdBasisWords({ thresholdBasis: 'mean less 5 %', thresholdSource: 'run' })).toBe(
			'20-minute mean less 5 %'
		);
		expect(thresholdBasisWords({ thresholdBasis: '20-minute mean' })).toBe('20-minute mean');
		expect(thresholdBasisWords({ thresholdSource: 'run' })).toBe('from a threshold run');
		expect(thresholdBasisWords({})).toBe('typed');
	});
});
