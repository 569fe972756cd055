import { describe, expect, it } from 'vitest';
import {
	retestDueDays,
	weightsByDay,
	withFirstAnswer,
	withMeasuredFat,
	withThreshold,
	withWeight
} from '$lib/record/athlete-changes';
import { notComputed } from '$lib/record/not-computed';
import type { Athlete } from '$lib/record/athlete';

const athlete: Athlete = { id: 'a', name: 'Odalys' };

describe('a new threshold', () => {
	it('puts the old one among the older ones, with its date and source', () => {
		const first = withThreshold(athlete, 160, '2026-01-05', 'typed');
		expect(first).not.toHaveProperty('olderThresholds');
		expect(withThreshold(first, 165.5, '2026-03-02', 'run')).toEqual({
			...athlete,
			thresholdBpm: 165.5,
			thresholdDate: '2026-03-02',
			thresholdSource: 'run',
			olderThresholds: [{ bpm: 160, date: '2026-01-05', source: 'typed' }]
		});
	});

	it('is worth measuring again after eight weeks, or after what was set', () => {
		const known = withThreshold(athlete, 160, '2026-01-05', 'run');
		// Eight weeks are 56 days; January has 31 and February 28.
		expect(retestDueDays(known, '2026-03-02')).toBeUndefined();
		expect(retestDueDays(known, '2026-03-03')).toBe(57);
		expect(retestDueDays(known, '2026-03-03', 84)).toBeUndefined();
		expect(retestDueDays(athlete, '2026-03-03')).toBeUndefined();
	});
});

describe('a weight', () => {
	it('is kept by day, the last of a day standing, and the newest day is what the athlete weighs', () => {
		const twice = withWeight(withWeight(athlete, 70, '2026-01-06'), 69.5, '2026-01-06');
		expect(withWeight(twice, 71, '2026-01-05')).toMatchObject({
			weightKg: 69.5,
			weights: [
				{ date: '2026-01-05', kg: 71 },
				{ date: '2026-01-06', kg: 69.5 }
			]
		});
	});
});

describe('the weights by day', () => {
	it('are those of the log and the card, the card standing where it was put right afterwards', () => {
		const logged = { '2026-01-05': 71, '2026-01-06': 96 };
		const card = withWeight(withWeight(athlete, 96, '2026-01-06'), 69, '2026-01-06');
		const later = withWeight(card, 68.8, '2026-01-08');
		expect(weightsByDay(later, logged)).toEqual({
			'2026-01-05': 71,
			'2026-01-06': 69,
			'2026-01-08': 68.8
		});
	});
});

describe('the first answer', () => {
	const today = '2026-03-02';

	it('is a new threshold typed today, or the year of birth alone', () => {
		expect(withFirstAnswer(athlete, { thresholdBpm: 168 }, today)).toMatchObject({
			thresholdBpm: 168,
			thresholdDate: today,
			thresholdSource: 'typed'
		});
		expect(withFirstAnswer(athlete, { birthYear: 1999 }, today)).toEqual({ ...athlete, birthYear: 1999 });
	});

	it('leaves a threshold that is no new one as it was found', () => {
		const run = withThreshold(athlete, 168, '2026-01-05', 'run', '20-minute mean');
		expect(withFirstAnswer(run, { thresholdBpm: 168, birthYear: 1999 }, today)).toEqual({
			...run,
			birthYear: 1999
		});
		const typed = withFirstAnswer(run, { thresholdBpm: 170 }, today);
		expect(typed.olderThresholds).toEqual([
			{ bpm: 168, date: '2026-01-05', source: 'run', basis: '20-minute mean' }
		]);
		expect(typed).not.toHaveProperty('thresholdBasis');
		// Nothing is said of how the one before was found where nobody has said it.
		const bare = withThreshold({ ...athlete, thresholdBpm: 160 }, 165, today, 'typed');
		expect(bare.olderThresholds).toEqual([{ bpm: 160 }]);
	});
});

it('body fat as it was measured is the figure that all else goes by', () => {
	const measured = { percent: 14, day: '2026-03-02', method: 'impedance' as const };
	expect(withMeasuredFat(athlete, measured)).toEqual({
		...athlete,
		bodyFatPercent: 14,
		measuredFat: measured
	});
});

describe('what is not said', () => {
	const rest = { sex: 'female', weightKg: 60, thresholdBpm: 165 } as const;

	it('is left out where food is hidden, and medicine and pregnancy are named', () => {
		expect(notComputed({ ...athlete, ...rest, hidesFuel: true })).toEqual([
			'Year of birth is not given: no maximum is estimated.'
		]);
		expect(notComputed({ ...athlete, ...rest })).toEqual([
			'Year of birth is not given: no maximum is estimated and energy is not computed.'
		]);
		expect(notComputed({ ...athlete, hidesFuel: true, birthYear: 2000, thresholdBpm: 165 })).toEqual([
			'Sex is not given: the load from the heart rate is not computed.'
		]);
		expect(
			notComputed({ ...athlete, ...rest, birthYear: 2000, slowingMedicine: true, pregnant: true })
		).toEqual([
			'Medicine that slows the heart: no verdict on a rest is given, and rates mean little.',
			'Pregnancy: no figure here was made for it. A midwife or doctor decides what is trained.'
		]);
	});

	it('is named with what is then not computed', () => {
		expect(notComputed(athlete).join(' ')).toMatch(/Sex is not given.*Year of birth.*Weight.*No threshold/);
		const told = { ...athlete, sex: 'female', birthYear: 2000, weightKg: 60, thresholdBpm: 165 } as const;
		expect(notComputed(told)).toEqual([]);
	});
});
