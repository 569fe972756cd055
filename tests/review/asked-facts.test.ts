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

	it('is everything of whom nothing is known, each number with just its own', () => {
		expect(gapsOf(nobody, false)).toEqual([
			{ gives: 'the energy', lacks: ['sex', 'birthYear', 'weightKg'] },
			{ gives: 'the load from the heart rate', lacks: ['sex', 'restBpm', 'birthYear'] },
			{ gives: 'the time over it and near it', lacks: ['thresholdBpm'] }
		]);
	});

	it('is the weight alone for what is typical, under medicine that slows the heart', () => {
		const slowed = { ...nobody, slowingMedicine: true } as const;
		expect(gapsOf(slowed, false)[0]).toEqual({ gives: 'what is typical for this work', lacks: ['weightKg'] });
		expect(gapsOf({ ...slowed, weightKg: 60 }, false).map(({ gives }) => gives)).toEqual([
			'the load from the heart rate',
			'the time over it and near it'
		]);
		expect(gapsOf(slowed, true).flatMap(({ lacks }) => lacks)).not.toContain('weightKg');
	});

	it('is put in a sentence', () => {
		const all = ['sex', 'birthYear', 'heightCm', 'weightKg', 'restBpm', 'thresholdBpm'] as const;
		expect(gapWords({ gives: 'it', lacks: [...all] })).toBe(
			'Sex, year of birth, height, weight, resting rate and threshold give it'
		);
		expect(gapWords({ gives: 'it', lacks: ['restBpm', 'sex'] })).toBe('Resting rate and sex give it');
		expect(gapWords({ gives: 'the energy', lacks: ['sex', 'birthYear', 'weightKg'] })).toBe(
			'Sex, year of birth and weight give the energy'
		);
		expect(gapWords({ gives: 'the energy', lacks: ['weightKg'] })).toBe('Weight gives the energy');
	});
});

describe('the field of a fact', () => {
	it('is named with the unit that is typed into it', () => {
		const facts = ['sex', 'birthYear', 'heightCm', 'weightKg', 'restBpm', 'thresholdBpm'] as const;
		expect(facts.map((fact) => fieldName(fact, 'metric'))).toEqual([
			'Sex used by the formulas',
			'Year of birth',
			'Height, cm',
			'Weight, kg',
			'Resting rate, beats a minute',
			'Threshold, beats a minute'
		]);
		expect(fieldName('heightCm', 'imperial')).toBe('Height, inches');
		expect(fieldName('weightKg', 'imperial')).toBe('Weight, pounds');
		expect(fieldName('birthYear', 'imperial')).toBe('Year of birth');
	});

	it('shows what is known to the tenth, and is empty where nothing is', () => {
		const told = {
			sex: 'female',
			birthYear: 1999,
			heightCm: 170.18,
			weightKg: 60.04,
			restBpm: 55.26
		} as const;
		const shown = (fact: Parameters<typeof shownFact>[0], units: 'metric' | 'imperial') =>
			shownFact(fact, told, units);
		expect(shown('sex', 'metric')).toBe('female');
		expect(shown('birthYear', 'imperial')).toBe('1999');
		expect(shown('heightCm', 'metric')).toBe('170.2');
		// An inch is 2.54 cm exactly (international agreement of 1959): 67 x 2.54 is 170.18.
		expect(shown('heightCm', 'imperial')).toBe('67');
		expect(shown('weightKg', 'metric')).toBe('60');
		expect(shown('restBpm', 'imperial')).toBe('55.3');
		expect(shown('thresholdBpm', 'metric')).toBe('');
		expect(shownFact('weightKg', {}, 'imperial')).toBe('');
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

	it('counts at both ends of its range, and no further', () => {
		const ends = {
			birthYear: [1926, 2018, 1],
			heightCm: [100, 230, 0.1],
			weightKg: [20, 250, 0.1],
			restBpm: [30, 120, 1],
			thresholdBpm: [90, 220, 1]
		} as const;
		for (const [fact, [low, high, step]] of Object.entries(ends)) {
			const answered = (value: number) => readAnswers({ [fact]: String(value) }, 'metric', 2026);
			for (const value of [low, high]) expect(answered(value)).toEqual({ told: { [fact]: value } });
			for (const value of [low - step, high + step]) expect(answered(value)).toHaveProperty('field', fact);
		}
	});

	it('is told its range in the units in which it was typed', () => {
		const problem = (typed: Parameters<typeof readAnswers>[0], units: 'metric' | 'imperial') => {
			const answer = readAnswers(typed, units, 2026);
			return 'problem' in answer && answer.problem;
		};
		expect(problem({ restBpm: '300' }, 'imperial')).toBe(
			'A resting rate lies between 30 and 120. Nothing was kept.'
		);
		expect(problem({ birthYear: '26' }, 'metric')).toBe(
			'A year of birth lies between 1926 and 2018. Nothing was kept.'
		);
		expect(problem({ heightCm: '67' }, 'metric')).toBe(
			'A height lies between 100 cm and 230 cm. Nothing was kept.'
		);
		// 39.4 and 90.6 inches; 44.1 and 551.2 pounds, of which 14 are a stone.
		expect(problem({ heightCm: '170' }, 'imperial')).toBe(
			'A height lies between 3 ft 3.4 in and 7 ft 6.6 in. Nothing was kept.'
		);
		expect(problem({ weightKg: '5' }, 'imperial')).toBe(
			'A weight lies between 44.1 lb (3 st 2.1 lb) and 551.2 lb (39 st 5.2 lb). Nothing was kept.'
		);
		expect(readAnswers({ heightCm: ' 67 ' }, 'imperial', 2026)).toEqual({ told: { heightCm: 67 * 2.54 } });
	});

	it('of a sex that no formula knows is none, and a year of birth is a whole one', () => {
		expect(readAnswers({ sex: 'female' }, 'metric', 2026)).toEqual({ told: { sex: 'female' } });
		expect(readAnswers({ sex: 'x' }, 'metric', 2026)).toEqual({ problem: 'Nothing is filled in yet.' });
		expect(readAnswers({ birthYear: '1999.4' }, 'metric', 2026)).toEqual({ told: { birthYear: 1999 } });
	});

	it('fills each empty place of a card and overwrites none', () => {
		const told = { sex: 'male', birthYear: 1999, heightCm: 170, restBpm: 55 } as const;
		const empty = { id: 'a', name: 'Odalys' };
		const full = { ...empty, sex: 'female', birthYear: 2001, heightCm: 165, restBpm: 60 } as const;
		expect(withAnswers(empty, told, '2026-02-01')).toEqual({ ...empty, ...told });
		expect(withAnswers(full, told, '2026-02-01')).toEqual(full);
		for (const fact of ['sex', 'birthYear', 'heightCm', 'restBpm'] as const) {
			const one = { [fact]: told[fact] };
			expect(withAnswers(empty, one, '2026-02-01')).toEqual({ ...empty, ...one });
			expect(withAnswers({ ...empty, [fact]: full[fact] }, told, '2026-02-01')).toEqual({
				...{ ...empty, ...told },
				[fact]: full[fact]
			});
		}
		// A key without a value is another card than one without the key.
		expect(Object.keys(withAnswers(empty, {}, '2026-02-01'))).toEqual(['id', 'name']);
	});

	it('leaves what the athlete weighs now, where that was entered without a day', () => {
		const card = { id: 'a', name: 'Odalys', weightKg: 62 };
		expect(withAnswers(card, { weightKg: 64 }, '2026-02-01')).toEqual({
			...card,
			weights: [{ date: '2026-02-01', kg: 64 }]
		});
	});

	it('leaves a weight of the same day alone', () => {
		const weights = [
			{ date: '2026-02-01', kg: 61 },
			{ date: '2026-03-01', kg: 62 }
		];
		const card = { id: 'a', name: 'Odalys', weightKg: 62, weights };
		expect(withAnswers(card, { weightKg: 64 }, '2026-02-01')).toEqual(card);
		expect(withAnswers({ id: 'a', name: 'Odalys' }, { weightKg: 64 }, '2026-02-01')).toMatchObject({
			weightKg: 64,
			weights: [{ date: '2026-02-01', kg: 64 }]
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
		expect(Object.keys(toldLater({ weightKg: 60 }, 2026))).toEqual(['weightKg']);
	});
});
