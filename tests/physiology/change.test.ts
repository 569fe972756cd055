import { linearRegression } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { byDay, changeOver, meanErrorOf, spreadOf, type DayValue } from '$lib/physiology/change';
import { changeSentence, differenceSentence } from '$lib/physiology/change-words';
import { yardsticks } from '$lib/physiology/yardstick';
import { chanceFrom } from './builders';
import { outside } from './outside';
import { daysOf } from './unchanging';

const { drop, threshold, rateShare } = yardsticks;
const days = (values: number[], count = 3): DayValue[] =>
	values.map((value, i) => ({ day: `${i}`, value, count }));

describe('the error of a mean', () => {
	it('keeps the share of the day, however many rests it has', () => {
		// 20 % of 50, half of the variance between days: root (50 + 50 / n).
		expect(meanErrorOf({ value: 50, count: 1 }, drop)).toBeCloseTo(10, 10);
		expect(meanErrorOf({ value: 50, count: 12 }, drop)).toBeCloseTo(Math.sqrt(50 + 50 / 12), 10);
		expect(meanErrorOf({ value: 50, count: 1e6 }, drop)).toBeGreaterThan(7.07);
	});

	it('goes by the athlete’s own spread where that is known', () => {
		// Half as much, and once and a half as much.
		expect(meanErrorOf({ value: 50, count: 1 }, drop, { units: 0.5 })).toBeCloseTo(5, 10);
		expect(meanErrorOf({ value: 50, count: 1 }, drop, { units: 1.5 })).toBeCloseTo(15, 10);
	});

	it('is never under 2 beats', () => {
		expect(meanErrorOf({ value: 3, count: 12 }, drop)).toBe(2);
	});
});

describe('the scales', () => {
	it.each(Object.entries(yardsticks))('of %s leads there and back', (_, { toUnits, fromUnits, errorAt }) => {
		for (const value of [1, 9.9, 10.1, 35, 160]) {
			expect(fromUnits(toUnits(value))).toBeCloseTo(value, 9);
			// One unit is one error, here by a small step.
			expect((toUnits(value + 1e-4) - toUnits(value - 1e-4)) / 2e-4).toBeCloseTo(1 / errorAt(value), 3);
		}
	});

	it('of drops goes through no drop at all', () => {
		for (const value of [-35, -10, -4, 0, 4])
			expect(drop.fromUnits(drop.toUnits(value))).toBeCloseTo(value, 9);
	});
});

describe('days', () => {
	it('that hold several sessions are one, by the number of rests', () => {
		const two = byDay([
			{ day: 'a', value: 40, count: 1 },
			{ day: 'b', value: 30, count: 2 },
			{ day: 'a', value: 46, count: 2 }
		]);
		// (40 + 2 x 46) / 3.
		expect(two).toEqual([
			{ day: 'a', value: 44, count: 3 },
			{ day: 'b', value: 30, count: 2 }
		]);
	});
});

describe('a change', () => {
	it('is not spoken of under three days of drops or two threshold runs', () => {
		expect(changeOver(days([30, 60]), drop)).toEqual({ kind: 'too few', days: 2, needed: 3 });
		expect(changeOver(days([150]), threshold)).toMatchObject({ kind: 'too few' });
	});

	it('goes along the line through the days', () => {
		const values = [150, 149, 158, 161];
		const change = changeOver(days(values, 1), threshold);
		const { m, b } = linearRegression(values.map((value, i) => [i, value]));
		if (change.kind === 'too few') throw new Error('four days are enough');
		expect(change.from).toBeCloseTo(b, 9);
		expect(change.to).toBeCloseTo(b + 3 * m, 9);
	});

	// Error of 4 bpm until three runs say better (own rule): two runs differ beyond 2.228 (Student's t of ten) x root 2 x 4
	// = 12.6.
	it.each([
		[[150, 165]],
		[[150, 158, 165]],
		[[150, 150, 165]],
		[[150, 165, 165]],
		[[150, 150, 165, 165]],
		[[150, 154, 160, 165]]
	])('is told of a threshold that rose: %s', (values) => {
		expect(changeOver(days(values, 1), threshold).kind).toBe('higher');
		expect(changeOver(days(values.toReversed(), 1), threshold).kind).toBe('lower');
	});

	it.each([[[150, 158]], [[160, 163, 158]], [[150, 165, 152, 163]]])(
		'is not told of a threshold that wanders: %s',
		(values) => {
			expect(changeOver(days(values, 1), threshold).kind).toBe('no clear change');
		}
	);

	it('is never told of drops that are small all along, up or down', () => {
		expect(changeOver(days([-6, -6, 6, 6, 6, 6], 12), drop).kind).toBe('no clear change');
		expect(changeOver(days([-6, 6], 12), { ...drop, leastDays: 2 }).kind).toBe('no clear change');
	});

	it('shows in a rate after one minute as a share of the threshold only beyond its 8 %', () => {
		expect(changeOver(days([86, 84, 82], 3), rateShare).kind).toBe('no clear change');
		expect(changeOver(days([95, 90, 84, 80, 75, 70, 66, 62], 3), rateShare).kind).toBe('lower');
	});

	it('finds a smaller change in an athlete who wanders less, from five days on', () => {
		const even = spreadOf(days([40, 41, 40, 39, 40, 41, 40, 39]), drop);
		expect(even.units).toBeLessThan(0.7);
		expect(spreadOf(days([40, 41, 40, 39]), drop)).toMatchObject({ units: 1, isOwn: false });
		expect(spreadOf(days([20, 60, 22, 64, 18, 66, 25]), drop).units).toBeGreaterThan(1.5);
		// Neither a drift nor a step half-way passes for scatter.
		for (const values of [
			[30, 33, 36.3, 39.93, 43.92, 48.32],
			[30, 30, 30, 50, 50, 50],
			[30, 30, 50, 50, 50]
		])
			expect(spreadOf(days(values), drop).units).toBeLessThan(0.8);
	});
});

describe('10,000 simulated athletes', () => {
	const levels = [25, 35, 45];
	const any = (chance: ReturnType<typeof chanceFrom>, low: number, high: number) =>
		Math.floor(chance.between(low, high + 1));

	const simulated = outside(
		'change',
		'Simulated athletes who do not change, in 100 told of a change: 10,002 whose drops scatter as assumed, 10,000 by 25 % and 10,000 by 30 % (none would be right)',
		'in 100'
	);

	it('who do not change are told of a change in at most 5 %', () => {
		const chance = chanceFrom(4711);
		const told = levels.flatMap((level) =>
			Array.from({ length: 3334 }, () => {
				const series = daysOf(chance, {
					days: any(chance, 3, 12),
					rests: () => any(chance, 1, 12),
					trueDrop: () => level
				});
				return changeOver(series, drop).kind;
			})
		);
		const share = told.filter((kind) => kind !== 'no clear change').length / told.length;
		expect(share).toBeLessThan(0.05);
		simulated.take(100 * share, 0);
		// A rule that never speaks would pass too.
		expect(share).toBeGreaterThan(0.01);
	});

	it.each([
		[0.25, 0.05, 0.065],
		[0.3, 0.065, 0.09]
	])(
		'who scatter more than assumed are told of a change as often as Methods says: %s',
		(errorShare, from, to) => {
			// Coefficients of variation of 15 to 32 %: Al Haddad et al., Int J Sports Med 2011;32:598-605.
			const chance = chanceFrom(2011);
			const told = Array.from({ length: 10_000 }, (_, i) => {
				const series = daysOf(chance, {
					days: any(chance, 3, 12),
					rests: () => any(chance, 1, 12),
					trueDrop: () => levels[i % 3]!,
					errorShare
				});
				return changeOver(series, drop).kind;
			}).filter((kind) => kind !== 'no clear change').length;
			expect(simulated.take(told / 100, 0) / 100).toBeGreaterThan(from);
			expect(told / 10_000).toBeLessThan(to);
		}
	);

	it('come to what Methods says', () => simulated.settle());

	it('two sessions of whom are told apart in at most 5 %', () => {
		const chance = chanceFrom(12);
		const told = Array.from({ length: 10_000 }, (_, i) => {
			const pair = daysOf(chance, {
				days: 2,
				rests: () => any(chance, 1, 12),
				trueDrop: () => levels[i % 3]!
			});
			return changeOver(pair, { ...drop, leastDays: 2 }).kind;
		}).filter((kind) => kind !== 'no clear change').length;
		expect(told / 10_000).toBeLessThan(0.05);
		expect(told).toBeGreaterThan(0);
	});

	it.each([
		['a step half-way', (i: number, n: number) => (i < Math.floor(n / 2) ? 0 : 1)],
		['a step half-way, of an odd number later', (i: number, n: number) => (i < Math.ceil(n / 2) ? 0 : 1)],
		['a drift', (i: number, n: number) => i / (n - 1)]
	])('who change by what is stated as the smallest are told so in four of five: %s', (name, wayAt) => {
		const chance = chanceFrom(99);
		for (const level of levels) {
			const told = Array.from({ length: 1000 }, () => {
				const counts = Array.from({ length: any(chance, 3, 12) }, () => any(chance, 1, 12));
				const series = (trueDrop: (i: number) => number) =>
					daysOf(chance, { days: counts.length, rests: (i) => counts[i]!, trueDrop });
				const still = changeOver(
					series(() => level),
					drop
				);
				if (still.kind === 'too few') throw new Error('three days are enough');
				const moved = (by: number) =>
					changeOver(
						series((i) => level + by * wayAt(i, counts.length)),
						drop
					).kind;
				return [moved(still.smallestRise) === 'higher', moved(-still.smallestFall) === 'lower'];
			});
			for (const way of [0, 1]) {
				const share = told.filter((ways) => ways[way]).length / told.length;
				expect(share).toBeGreaterThan(0.77);
				// Nor is it far too large: a drift of that size is not found by all.
				if (name === 'a drift') expect(share).toBeLessThan(0.88);
			}
		}
	});
});

describe('the words of a change', () => {
	it('say what is too few', () => {
		expect(changeSentence({ kind: 'too few', days: 1, needed: 3 }, 'beats')).toBe(
			'Too few to speak of a change: measured on one day, and it takes 3.'
		);
		expect(changeSentence({ kind: 'too few', days: 2, needed: 3 }, 'beats')).toBe(
			'Too few to speak of a change: measured on 2 days, and it takes 3.'
		);
	});

	it('never call steady what is only not clear, and say what would have shown', () => {
		const change = { kind: 'no clear change', days: 6, from: 38.2, to: 41.6 } as const;
		const smallest = { smallestRise: 15.2, smallestFall: 10.6 };
		expect(changeSentence({ ...change, ...smallest }, 'beats')).toBe(
			'No clear change (from 38 to 42, by the line through 6 days). A rise of 16 or a fall of 11 beats would show four times in five, a smaller one less often.'
		);
		const even = { smallestRise: 13, smallestFall: 13 };
		expect(differenceSentence({ ...change, ...even }, 'drops', 'beats')).toMatch(
			/no clear change\. A change of 13 beats/
		);
	});

	it('say a change with its size', () => {
		const change = { kind: 'lower', days: 6, from: 48, to: 30, smallestRise: 12, smallestFall: 9 } as const;
		expect(changeSentence(change, 'beats')).toBe(
			'Clearly lower: 18 beats, from 48 to 30, by the line through 6 days. That is more than the error explains.'
		);
	});
});
