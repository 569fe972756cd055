import { describe, expect, it } from 'vitest';
import { blocksOf } from '$lib/rounds/blocks';
import {
	fieldName,
	gapsOf,
	gapWords,
	readAnswers,
	shownFact,
	toldLater,
	withAnswers
} from '$lib/review/asked-facts';
import { costsOf } from '$lib/review/session-costs';
import { unpackReadings } from '$lib/record/columns';
import { makeRecord } from '../store/builders';

const nobody = { athleteId: 'a', name: 'Odalys' };

describe('what is asked for', () => {
	it('is just what each number lacks', () => {
		const known = { ...nobody, sex: 'female', ageYears: 27, thresholdBpm: 170 } as const;
		expect(gapsOf(known, false)).toEqual([
			{ gives: 'the energy', lacks: ['weightKg'] },
			{ gives: 'the load from the heart rate', lacks: ['restBpm'] }
		]);
		expect(gapsOf({ ...known, weightKg: 60, restBpm: 55 }, false)).toEqual([]);
	});

	it('is no year of birth for a load where a maximum was measured', () => {
		const load = gapsOf({ ...nobody, measuredMaxBpm: 190 }, false).find(({ gives }) => /load/.test(gives));
		expect(load?.lacks).toEqual(['sex', 'restBpm']);
	});

	it('is nothing for the energy under medicine that slows the heart, which no answer would give', () => {
		const gaps = gapsOf({ ...nobody, slowingMedicine: true }, false);
		expect(gaps.map(({ gives }) => gives)).not.toContain('the energy');
	});

	it('leaves energy out for whom weight and energy are hidden, and asks them for no weight', () => {
		const gaps = gapsOf(nobody, true);
		expect(gaps.map(({ gives }) => gives)).toEqual([
			'the load from the heart rate',
			'the time over it and near it'
		]);
		expect(gaps.flatMap(({ lacks }) => lacks)).not.toContain('weightKg');
	});

	it('is enough: with all of it told, each figure of the session is there', () => {
		const { head, body } = makeRecord();
		const told = { sex: 'female', ageYears: 27, weightKg: 60, restBpm: 55, thresholdBpm: 170 } as const;
		for (const gap of gapsOf(nobody, false)) expect(gap.lacks.length).toBeGreaterThan(0);
		const costs = costsOf(
			{ ...head, athlete: { ...nobody, ...told } },
			unpackReadings(body),
			[],
			blocksOf(head.plan)
		);
		expect(gapsOf({ ...nobody, ...told }, false)).toEqual([]);
		expect(costs.energy.value && costs.load.value !== undefined && costs.bands).toBeTruthy();
	});

	it('is put in a sentence', () => {
		expect(gapWords({ gives: 'the energy', lacks: ['sex', 'birthYear', 'weightKg'] })).toBe(
			'Sex, year of birth and weight give the energy'
		);
		expect(gapWords({ gives: 'the energy', lacks: ['weightKg'] })).toBe('Weight gives the energy');
	});
});

describe('an answer', () => {
	it('is read in the athlete’s units, with a point or a comma', () => {
		expect(readAnswers({ weightKg: '70,5', birthYear: '1999', sex: 'male' }, 'metric', 2026)).toEqual({
			told: { sex: 'male', weightKg: 70.5, birthYear: 1999 }
		});
		// A pound is 0.45359237 kg exactly (international agreement of 1959).
		const pounds = readAnswers({ weightKg: '150' }, 'imperial', 2026);
		expect('told' in pounds && pounds.told.weightKg).toBeCloseTo(68.0388555, 6);
		expect(fieldName('weightKg', 'imperial')).toBe('Weight, pounds');
		expect(shownFact('weightKg', { weightKg: 68.0388555 }, 'imperial')).toBe('150');
	});

	it('out of its range is named and nothing is taken', () => {
		expect(readAnswers({ weightKg: '700', birthYear: '1999' }, 'metric', 2026)).toEqual({
			field: 'weightKg',
			problem: 'A weight lies between 20 kg and 250 kg. Nothing was kept.'
		});
		expect(readAnswers({ thresholdBpm: 'fast' }, 'metric', 2026)).toHaveProperty('field', 'thresholdBpm');
		expect(readAnswers({ sex: '', weightKg: ' ' }, 'metric', 2026)).toEqual({
			problem: 'Nothing is filled in yet.'
		});
	});

	it('goes to the card where it has none, a weight by its day', () => {
		const card = {
			id: 'a',
			name: 'Odalys',
			thresholdBpm: 170,
			weightKg: 62,
			weights: [{ date: '2026-03-01', kg: 62 }]
		};
		const changed = withAnswers(card, { sex: 'female', thresholdBpm: 150, weightKg: 64 }, '2026-02-01');
		expect(changed).toMatchObject({ sex: 'female', thresholdBpm: 170, weightKg: 62 });
		expect(changed.weights).toEqual([
			{ date: '2026-02-01', kg: 64 },
			{ date: '2026-03-01', kg: 62 }
		]);
		expect(withAnswers({ id: 'a', name: 'O' }, { thresholdBpm: 150 }, '2026-02-01')).toMatchObject({
			thresholdBpm: 150,
			thresholdDate: '2026-02-01',
			thresholdSource: 'typed'
		});
	});

	it('stands beside a record with the age of that year', () => {
		expect(toldLater({ birthYear: 1999, weightKg: 60 }, 2026)).toEqual({ ageYears: 27, weightKg: 60 });
	});
});
