import { describe, expect, it } from 'vitest';
import { classOf, limitAnswer } from '$lib/physiology/weight-limit';
import type { WeightFacts } from '$lib/physiology/weight';

const classesKg = [48, 51, 54, 57, 60, 63.5, 67, 71, 75, 80, 86, 92];

/** Who: sex, cm, years, kg, % fat, days since it was measured, factor of the day, mean training by its ends. */
type Row = [
	string,
	Partial<WeightFacts>,
	number,
	number,
	'sitting' | 'on your feet' | 'heavy work',
	number,
	number
];
const man: WeightFacts = { sex: 'male', heightCm: 178, ageYears: 26, bodyFatPercent: 15, bodyFatAgeDays: 7 };
const woman: WeightFacts = {
	sex: 'female',
	heightCm: 166,
	ageYears: 24,
	bodyFatPercent: 24,
	bodyFatAgeDays: 7
};
// name, what differs from the man or woman above, kg, limit, the day, days, mean training kcal
const thirty: Row[] = [
	['male, a kilo in eight weeks', man, 76, 75, 'on your feet', 56, 300],
	['male, four kilos in eight weeks', man, 79, 75, 'on your feet', 56, 300],
	['male, six kilos in eight weeks', man, 81, 75, 'on your feet', 56, 300],
	['male, four kilos in two weeks', man, 79, 75, 'on your feet', 14, 300],
	['male, sitting', man, 78, 75, 'sitting', 42, 200],
	['male, heavy work', man, 78, 75, 'heavy work', 28, 200],
	['male, lean', { ...man, bodyFatPercent: 8 }, 73, 71, 'on your feet', 56, 400],
	['male, very lean', { ...man, bodyFatPercent: 6 }, 72, 71, 'heavy work', 90, 100],
	['male, heavy', { ...man, bodyFatPercent: 30 }, 104, 92, 'on your feet', 112, 250],
	['male, heavy, soon', { ...man, bodyFatPercent: 30 }, 104, 92, 'on your feet', 56, 250],
	['male, tall and light', { ...man, heightCm: 190, bodyFatPercent: 14 }, 68, 63.5, 'heavy work', 150, 0],
	['male, hard training', man, 80, 75, 'on your feet', 60, 900],
	['male, of forty', { ...man, ageYears: 40, bodyFatPercent: 22 }, 84, 80, 'sitting', 70, 150],
	['male, tomorrow', man, 75.5, 75, 'on your feet', 1, 300],
	['male, today', man, 75.5, 75, 'on your feet', 0, 300],
	['female, a kilo in eight weeks', woman, 61, 60, 'on your feet', 56, 250],
	['female, three kilos in eight weeks', woman, 63, 60, 'on your feet', 56, 250],
	['female, three kilos in three weeks', woman, 63, 60, 'on your feet', 21, 250],
	['female, lean', { ...woman, bodyFatPercent: 15 }, 58, 57, 'heavy work', 70, 100],
	['female, at the floor of fat', { ...woman, bodyFatPercent: 14 }, 58, 54, 'heavy work', 200, 0],
	['female, heavy', { ...woman, bodyFatPercent: 36 }, 84, 75, 'on your feet', 120, 200],
	['female, sitting', woman, 62, 60, 'sitting', 50, 100],
	['minor of 15', { ...man, ageYears: 15 }, 58, 57, 'on your feet', 56, 300],
	['minor of 17', { ...woman, ageYears: 17 }, 55, 54, 'on your feet', 56, 300],
	['of 18, not confirmed', { ...man, ageYears: 18 }, 70, 67, 'on your feet', 56, 300],
	['of unknown age', { ...man, ageYears: undefined }, 70, 67, 'on your feet', 56, 300],
	['no plan wished', { ...man, hidesFuel: true }, 79, 75, 'on your feet', 56, 300],
	['pregnant', { ...woman, pregnant: true }, 63, 60, 'on your feet', 56, 250],
	['fat never measured', { ...man, bodyFatPercent: undefined }, 79, 75, 'on your feet', 56, 300],
	['fat measured long ago', { ...man, bodyFatAgeDays: 57 }, 79, 75, 'on your feet', 56, 300]
];

const factor = { sitting: 1.4, 'on your feet': 1.6, 'heavy work': 1.75 };

/**
 * The rules once more, from their definitions: at least BMI 18.5, at least 5 or 12 % fat by the high end of fat-free mass
 * (measured +/- 2 points), at most 1 % a week, availability of 35 kcal/kg and resting expenditure (ten Haaf & Weijs 2014
 * +/- 10 %) held by the least intake, 7700 kcal a kilogram (Wishnofsky 1958), at least 0.05 kg a week of room.
 */
function isAllowed([, facts, kg, , day, days, kcal]: Row, goalKg: number): boolean {
	const fat = facts.bodyFatPercent!;
	const leanHighKg = kg * (1 - (fat - 2) / 100);
	const resting = (at: number) => 22.771 * at * (1 - fat / 100) + 484.264;
	const spent = (at: number) => resting(at) * factor[day] + kcal;
	const least = Math.max(35 * leanHighKg, 1.1 * resting(kg)) + 1.2 * kcal;
	const room = Math.max(0, Math.min(spent(kg), spent(goalKg)) - least);
	const perWeek = Math.min(0.01 * goalKg, (room * 7) / 7700);
	return (
		goalKg / (facts.heightCm! / 100) ** 2 >= 18.5 &&
		100 * (1 - leanHighKg / goalKg) >= (facts.sex === 'male' ? 5 : 12) &&
		perWeek >= 0.05 &&
		days > 0 &&
		((kg - goalKg) * 7) / days <= perWeek
	);
}

/** The least weight in whole tenths that is allowed, found by trying each. */
function leastOf(row: Row): number | undefined {
	const [, , kg, limitKg] = row;
	for (let tenths = Math.round(limitKg * 10); tenths < Math.round(kg * 10); tenths++)
		if (isAllowed(row, tenths / 10)) return tenths / 10;
	return undefined;
}

const answerOf = ([, facts, kg, limitKg, day, days, kcal]: Row) =>
	limitAnswer(facts, kg, limitKg, classesKg, days, day, { low: 0.8 * kcal, value: kcal, high: 1.2 * kcal });

describe('what the guard allows of a class limit', () => {
	it.each(thirty)('%s', (...row) => {
		const [, facts, kg, limitKg] = row;
		const answer = answerOf(row);
		const age = facts.ageYears;
		if (age === undefined || age < 19 || facts.hidesFuel || facts.pregnant) {
			expect(answer).toMatchObject({ kind: 'barred', classKg: classesKg.find((one) => one >= kg) });
			expect(answer).not.toHaveProperty('weeks');
			return;
		}
		if (facts.bodyFatPercent === undefined || facts.bodyFatAgeDays! > 56)
			return void expect(answer).toMatchObject({ kind: 'unknown' });
		if (isAllowed(row, limitKg)) {
			expect(answer.kind).toBe('safe');
			return void expect(answer.kind === 'safe' && answer.weeks.at(-1)?.kg.value).toBeCloseTo(limitKg, 8);
		}
		const least = leastOf(row);
		expect(answer.kind).toBe('unsafe');
		if (answer.kind !== 'unsafe') return;
		expect(answer.leastKg).toEqual(least === undefined ? undefined : expect.closeTo(least, 6));
		expect(answer.weeks.at(-1)?.kg.value).toEqual(least === undefined ? undefined : expect.closeTo(least, 6));
		expect(answer.classKg).toBe(classesKg.find((one) => one > limitKg && one >= (least ?? kg)));
	});

	it('comes to every answer among the thirty', () => {
		const kinds = thirty.map((row) => answerOf(row).kind);
		expect(new Set(kinds)).toEqual(new Set(['safe', 'unsafe', 'barred', 'unknown']));
		expect(kinds.filter((kind) => kind === 'safe').length).toBeGreaterThan(5);
		expect(kinds.filter((kind) => kind === 'unsafe').length).toBeGreaterThan(5);
	});

	it('asks nothing of whoever is within the limit, to the gram', () => {
		expect(answerOf(['', man, 75, 75, 'sitting', 10, 0])).toEqual({ kind: 'made' });
	});

	it('names no class where none that was typed can be made', () => {
		expect(classOf(93, classesKg)).toBeUndefined();
		const answer = limitAnswer(man, 79, 75, [75], 14, 'on your feet', { low: 0, value: 0, high: 0 });
		expect(answer).not.toHaveProperty('classKg');
	});

	it('never speaks of drying out', () => {
		expect(JSON.stringify(thirty.map(answerOf))).not.toMatch(/water|sweat|salt|sauna|fluid|dehydrat/i);
	});
});
