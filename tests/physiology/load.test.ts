import fc from '../by-chance';
import { mean, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { banisterLoad, sessionRatingLoad, weekOf, type LoadFacts } from '$lib/physiology/load';
import { anyGrid, numbersIn } from './builders';

const man: LoadFacts = { sex: 'male', restBpm: 60, maxBpm: 190 };
const woman: LoadFacts = { ...man, sex: 'female' };
const minutes = (count: number, bpm: number) => new Float64Array(60 * count).fill(bpm);
const loadOf = (seconds: Float64Array, athlete = man) => banisterLoad(seconds, athlete).value?.load;

describe('banisterLoad', () => {
	// Morton, Fitz-Clarke, Banister, J Appl Physiol 1990;69:1171-7, computed.
	it('gives an hour at 150 bpm its value', () => {
		expect(loadOf(minutes(60, 150))).toBeCloseTo(100.44, 3);
		// Women, by hand: 60 x 0.6923077 x 0.86 x exp(1.67 x 0.6923077) = 113.516.
		expect(loadOf(minutes(60, 150), woman)).toBeCloseTo(113.516, 2);
	});

	it('takes e for what it is, not for a misprint', () => {
		const share = 90 / 130;
		const misprinted = 60 * share * 0.64 * 2.712 ** (1.92 * share);
		expect(Math.abs(loadOf(minutes(60, 150))! - misprinted)).toBeGreaterThan(0.2);
	});

	it('counts intervals that the mean rate under-reads by 9 %', () => {
		// 6 x (3 min at 180 + 1 min at 130), computed.
		const cycle = Float64Array.from({ length: 240 }, (_, i) => (i < 180 ? 180 : 130));
		const intervals = Float64Array.from({ length: 6 * 240 }, (_, i) => cycle[i % 240]!);
		const ofTheMean = loadOf(minutes(24, mean(Array.from(intervals))))!;
		expect(1 - ofTheMean / loadOf(intervals)!).toBeCloseTo(0.09, 2);
	});

	it('moves by the amounts it names when the maximum is off by 10 bpm', () => {
		expect(Math.round(loadOf(minutes(60, 150), { ...man, maxBpm: 200 })!)).toBe(85);
		expect(Math.round(loadOf(minutes(60, 150), { ...man, maxBpm: 180 })!)).toBe(122);
	});

	it('is nothing at or under the resting rate, and goes on above the maximum', () => {
		expect(loadOf(minutes(10, 60))).toBe(0);
		expect(loadOf(minutes(10, 45))).toBe(0);
		expect(loadOf(minutes(10, 200))).toBeGreaterThan(loadOf(minutes(10, 190))!);
	});

	it('counts no gap and says how much it covers', () => {
		const grid = minutes(60, 150);
		grid.fill(NaN, 900);
		expect(banisterLoad(grid, man).value).toMatchObject({ countedS: 900, coverage: 0.25 });
		expect(loadOf(grid)).toBeCloseTo(100.44 / 4, 3);
	});

	it.each<[string, LoadFacts, RegExp]>([
		['the sex', { ...man, sex: undefined }, /sex is not given/],
		['a resting rate', { ...man, restBpm: undefined }, /No resting rate/],
		['a maximum', { ...man, maxBpm: undefined }, /No maximum/],
		['a resting rate under the maximum', { ...man, restBpm: 190 }, /cannot both be true/],
		['a possible maximum', { ...man, maxBpm: NaN }, /cannot both be true/]
	])('answers with the reason without %s', (_, athlete, reason) => {
		const answer = banisterLoad(minutes(1, 150), athlete);
		expect(answer.value).toBeUndefined();
		expect(answer.reason).toMatch(reason);
	});

	it('answers with the reason where nothing was read', () => {
		expect(banisterLoad(minutes(1, NaN), man).reason).toMatch(/No second has a heart-rate reading/);
	});

	it('adds up over any split of the seconds, and never answers NaN', () => {
		fc.assert(
			fc.property(anyGrid(0, 200), fc.nat(200), fc.constantFrom(man, woman), (grid, at, athlete) => {
				const answer = banisterLoad(grid, athlete);
				const apart = [grid.subarray(0, at), grid.subarray(at)].map((part) => loadOf(part, athlete) ?? 0);
				expect(answer.value?.load ?? 0).toBeCloseTo(apart[0]! + apart[1]!, 8);
				expect(numbersIn(answer).every((each) => Number.isFinite(each) && each >= 0)).toBe(true);
				expect(answer.value === undefined).toBe(answer.reason !== undefined);
			})
		);
	});

	it('rises with the rate above rest', () => {
		fc.assert(
			fc.property(fc.integer({ min: 60, max: 239 }), fc.constantFrom(man, woman), (bpm, athlete) => {
				expect(loadOf(minutes(1, bpm + 1), athlete)).toBeGreaterThan(loadOf(minutes(1, bpm), athlete)!);
			})
		);
	});
});

describe('sessionRatingLoad', () => {
	it('is rating times minutes', () => {
		// Foster et al., J Strength Cond Res 2001;15:109-115.
		expect(sessionRatingLoad(7, 60)).toBe(420);
		expect([sessionRatingLoad(0, 60), sessionRatingLoad(10, 0)]).toEqual([0, 0]);
	});

	it('refuses what is no rating and no length', () => {
		const refused = [
			sessionRatingLoad(10.5, 60),
			sessionRatingLoad(-1, 60),
			sessionRatingLoad(NaN, 60),
			sessionRatingLoad(5, -1),
			sessionRatingLoad(5, Infinity)
		];
		expect(refused).toEqual(refused.map(() => undefined));
	});
});

describe('weekOf', () => {
	it('works out monotony and strain as by hand', () => {
		// Foster, Med Sci Sports Exerc 1998;30:1164-8. Mean 200; squares 10000 + 40000 + 40000 + 0 + 40000 + 90000 +
		// 40000 = 260000, SD sqrt(260000 / 6) = 208.167; monotony 0.96077, strain 1345.08.
		const week = weekOf([300, 0, 400, 200, 0, 500, 0]);
		expect(week.weeklyLoad).toBe(1400);
		expect(week.monotony).toBeCloseTo(0.96077, 5);
		expect(week.strain).toBeCloseTo(1345.08, 2);
		expect(week.reason).toBeUndefined();
	});

	it('agrees with simple-statistics on any week', () => {
		const anyWeek = fc.array(fc.integer({ min: 0, max: 900 }), { minLength: 7, maxLength: 7 });
		fc.assert(
			fc.property(anyWeek, (loads) => {
				fc.pre(new Set(loads).size > 1);
				const week = weekOf(loads);
				const monotony = mean(loads) / sampleStandardDeviation(loads);
				expect(week.monotony).toBeCloseTo(monotony, 8);
				expect(week.strain).toBeCloseTo(7 * mean(loads) * monotony, 4);
				expect(numbersIn(week).every(Number.isFinite)).toBe(true);
			})
		);
	});

	it('knows no monotony of equal days, rest days among them', () => {
		for (const load of [0, 300, 0.1]) {
			const week = weekOf(Array(7).fill(load));
			expect(week.weeklyLoad).toBeCloseTo(7 * load, 9);
			expect([week.monotony, week.strain]).toEqual([undefined, undefined]);
			expect(week.reason).toMatch(/All seven days are equal/);
		}
	});

	it('makes no zero of a day whose load is unknown', () => {
		const week = weekOf([300, undefined, 400, 0, undefined, 200, 0]);
		expect(week).toEqual({ reason: expect.stringMatching(/load of 2 days of the week is unknown/) });
	});

	it('refuses what is no week', () => {
		expect(() => weekOf([1, 2, 3])).toThrow(/seven days, not 3/);
		expect(() => weekOf([1, 2, 3, 4, 5, 6, -7])).toThrow(/0 or more and finite, not -7/);
		expect(() => weekOf([1, 2, 3, 4, 5, 6, NaN])).toThrow(RangeError);
	});
});
