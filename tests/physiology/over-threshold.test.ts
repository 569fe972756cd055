import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import type { Seconds } from '$lib/physiology/grid';
import { OverThresholdCounter, type OverThreshold, type WorkRound } from '$lib/physiology/over-threshold';
import { overSpells } from '$lib/physiology/over-spells';
import { overThreshold } from '$lib/physiology/threshold';
import { anyGrid, anyRound, delayed, numbersIn, withGaps } from './builders';

const line = 170;
const flat = (lengthS: number, bpm: number) => new Float64Array(lengthS).fill(bpm);
const wholeRound = { startS: 0, endS: 180, plannedEndS: 180 };

const rowOf = (seconds: Seconds, round: WorkRound = wholeRound, options = {}) =>
	overThreshold(seconds, [round], line, options)[0]!;

/** 180 s at 150, with 171 in the entries named. */
function over(...spans: [number, number][]): Seconds {
	const grid = flat(180, 150);
	for (const [from, to] of spans) grid.fill(171, from, to);
	return grid;
}

describe('overThreshold', () => {
	it('counts spells of three seconds and more, strictly above the unrounded line', () => {
		expect(rowOf(over([10, 12], [20, 23], [40, 50]))).toMatchObject({ overS: 13, spells: 2, longestS: 10 });
		expect(rowOf(flat(180, 170))).toMatchObject({ overS: 0, burstOverS: 0, spells: 0 });
		expect(overThreshold(flat(180, 170), [wholeRound], 169.9)[0]!.overS).toBe(170);
		expect(overThreshold(flat(180, 170), [wholeRound], 170.1)[0]!.overS).toBe(0);
	});

	it('splits a spell at the closing burst after finding it over the whole round', () => {
		expect(rowOf(over([169, 171]))).toMatchObject({ overS: 0, burstOverS: 0, spells: 0 });
		expect(rowOf(over([168, 171]))).toMatchObject({ overS: 2, burstOverS: 1, spells: 1, longestS: 2 });
		expect(rowOf(over([160, 180]))).toMatchObject({ overS: 10, burstOverS: 10, spells: 1, longestS: 10 });
		expect(rowOf(over([170, 180]))).toMatchObject({ overS: 0, burstOverS: 10, spells: 0, longestS: 0 });
	});

	it('measures the burst from the planned end, so a round cut short has none', () => {
		const cut = { startS: 0, endS: 100, plannedEndS: 180 };
		expect(rowOf(over([80, 180]), cut)).toMatchObject({ overS: 20, burstOverS: 0, workS: 100 });
		expect(rowOf(over([80, 180]), wholeRound, { burstS: 0 })).toMatchObject({ overS: 100, burstOverS: 0 });
	});

	it('lets a gap end a spell', () => {
		const row = rowOf(withGaps(over([40, 50]), [45]));
		expect(row).toMatchObject({ overS: 9, spells: 2, longestS: 5, coverage: 179 / 180 });
		expect(rowOf(withGaps(over([40, 44]), [42])).overS).toBe(0);
	});

	it('leaves a pause out of work and burst and ends the spell there', () => {
		const paused = { startS: 0, endS: 180, plannedEndS: 180, pauses: [{ startS: 100, endS: 160 }] };
		expect(rowOf(flat(180, 171), paused)).toMatchObject({
			overS: 110,
			burstOverS: 10,
			spells: 2,
			longestS: 100,
			workS: 120
		});
		// A pause inside the burst: five seconds of it come before, five after.
		const inBurst = { startS: 0, endS: 200, plannedEndS: 200, pauses: [{ startS: 175, endS: 195 }] };
		expect(rowOf(flat(200, 171), inBurst)).toMatchObject({ overS: 170, burstOverS: 10 });
	});

	it('gives each second to one phase only, whatever the fractions', () => {
		const rows = overThreshold(
			flat(60, 171),
			[
				{ startS: 0.2, endS: 20.4, plannedEndS: 20.4 },
				{ startS: 20.4, endS: 40.5, plannedEndS: 40.5 },
				{ startS: 40.5, endS: 60, plannedEndS: 60 }
			],
			line
		);
		expect(rows.map(({ workS }) => workS)).toEqual([20, 20, 20]);
	});

	it('shows by its coverage that a silent strap was not a quiet heart', () => {
		expect(rowOf(flat(180, NaN))).toMatchObject({ overS: 0, coverage: 0 });
		expect(rowOf(new Float64Array(0)).coverage).toBeUndefined();
	});

	it('ends for now with the grid where the round still runs or a pause never ended', () => {
		const endless = {
			startS: 0,
			endS: Infinity,
			plannedEndS: Infinity,
			pauses: [{ startS: 50, endS: Infinity }]
		};
		expect(rowOf(flat(90, 171), endless)).toMatchObject({ overS: 50, burstOverS: 0, workS: 50 });
	});

	it('refuses a line that is none', () => {
		expect(() => overThreshold(flat(10, 171), [wholeRound], NaN)).toThrow(/needs a threshold above 0 bpm/);
		expect(() => new OverThresholdCounter(170, NaN)).toThrow(RangeError);
		// No heart beats 0 or fewer times a minute, so all of a round would lie over such a line.
		for (const bpm of [0, -1, -Infinity, Infinity])
			expect(() => new OverThresholdCounter(bpm, 180)).toThrow(`not ${bpm} bpm and 180 s`);
		expect(new OverThresholdCounter(Number.MIN_VALUE, Infinity).push(60, 0).overForS).toBe(1);
	});

	/** The definition in another shape: a string of marks, spells found by a regular expression, then split. */
	function byDefinition(seconds: Seconds, round: WorkRound): Omit<OverThreshold, 'coverage'> {
		const isPaused = (i: number) => round.pauses!.some(({ startS, endS }) => i >= startS && i < endS);
		let marks = '';
		const planOf: number[] = [];
		let plan = 0;
		for (let i = round.startS; i < Math.min(round.endS, seconds.length); i++) {
			marks += isPaused(i) ? '|' : seconds[i]! > line ? 'x' : '.';
			planOf.push(plan);
			if (!isPaused(i)) plan++;
		}
		let plannedWorkS = 0;
		for (let i = round.startS; i < round.plannedEndS; i++) if (!isPaused(i)) plannedWorkS++;
		const answer = { overS: 0, burstOverS: 0, longestS: 0, spells: 0, workS: plan };
		for (const { 0: spell, index } of marks.matchAll(/x{3,}/g)) {
			const before = planOf.slice(index, index + spell.length).filter((s) => s < plannedWorkS - 10).length;
			answer.overS += before;
			answer.burstOverS += spell.length - before;
			answer.longestS = Math.max(answer.longestS, before);
			if (before > 0) answer.spells++;
		}
		return answer;
	}

	it('agrees with the definition in another shape, on any round', () => {
		fc.assert(
			fc.property(anyGrid(60, 150), anyRound, (seconds, round) => {
				expect(rowOf(seconds, round)).toMatchObject(byDefinition(seconds, round));
			}),
			{ numRuns: 1000 }
		);
	});

	it('never answers NaN, and shifts nothing by whole seconds', () => {
		const shifted = (round: WorkRound, byS: number): WorkRound => ({
			startS: round.startS + byS,
			endS: round.endS + byS,
			plannedEndS: round.plannedEndS + byS,
			pauses: round.pauses!.map(({ startS, endS }) => ({ startS: startS + byS, endS: endS + byS }))
		});
		fc.assert(
			fc.property(anyGrid(0, 150), anyRound, fc.integer({ min: 0, max: 999 }), (seconds, round, byS) => {
				const row = rowOf(seconds, round);
				expect(numbersIn(row).every(Number.isFinite)).toBe(true);
				expect(rowOf(delayed(seconds, byS), shifted(round, byS))).toEqual(row);
			})
		);
	});
});

describe('overSpells', () => {
	it('finds spells where they are, in two parts where one reaches into the burst', () => {
		expect(overSpells(over([10, 12], [20, 23], [160, 180]), wholeRound, line)).toEqual([
			{ startS: 20, endS: 23, inBurst: false },
			{ startS: 160, endS: 170, inBurst: false },
			{ startS: 170, endS: 180, inBurst: true }
		]);
	});

	it('ends a spell at a gap and at a pause', () => {
		const paused = { ...wholeRound, pauses: [{ startS: 50, endS: 60 }] };
		expect(overSpells(withGaps(over([40, 70]), [45]), paused, line)).toEqual([
			{ startS: 40, endS: 45, inBurst: false },
			{ startS: 46, endS: 50, inBurst: false },
			{ startS: 60, endS: 70, inBurst: false }
		]);
	});

	it('covers the very seconds of the row, on any round', () => {
		fc.assert(
			fc.property(anyGrid(60, 150), anyRound, (seconds, round) => {
				const row = rowOf(seconds, round);
				const spells = overSpells(seconds, round, line);
				const lengthS = (inBurst: boolean) =>
					spells
						.filter((spell) => spell.inBurst === inBurst)
						.reduce((sum, { startS, endS }) => sum + endS - startS, 0);
				expect([lengthS(false), lengthS(true)]).toEqual([row.overS, row.burstOverS]);
				for (const { startS, endS } of spells)
					expect(Math.min(...seconds.subarray(startS, endS))).toBeGreaterThan(line);
			})
		);
	});
});

describe('OverThresholdCounter', () => {
	it('fed live, second by second, has at every moment the row of what was boxed so far', () => {
		fc.assert(
			fc.property(anyGrid(1, 100), fc.integer({ min: 0, max: 100 }), (seconds, plannedS) => {
				const counter = new OverThresholdCounter(line, plannedS);
				seconds.forEach((bpm, i) => {
					counter.push(bpm, i);
					const round = { startS: 0, endS: i + 1, plannedEndS: plannedS };
					expect(counter.row).toEqual(rowOf(seconds, round));
				});
			})
		);
	});

	it('takes seconds left out as gaps and repeated ones not at all', () => {
		const counter = new OverThresholdCounter(line, 180);
		for (const second of [0, 1, 2, 3, 3, 2, 6, 7]) counter.push(171, second);
		expect(counter.row).toMatchObject({ overS: 4, spells: 1, workS: 8, coverage: 6 / 8 });
		expect(counter.push(171, 8).overForS).toBe(3);
		expect(counter.row.spells).toBe(2);
	});

	it('says at once how long the spell has lasted, and where the burst begins', () => {
		const counter = new OverThresholdCounter(line, 50);
		const now = Array.from({ length: 50 }, (_, i) => counter.push(i < 2 ? 150 : 171, i));
		expect(now[2]).toEqual({ overForS: 1, inBurst: false });
		expect(now.findIndex(({ inBurst }) => inBurst)).toBe(40);
		expect(now[49]!.overForS).toBe(48);
	});

	it('starts a new spell after a pause', () => {
		const counter = new OverThresholdCounter(line, 60);
		for (let i = 0; i < 4; i++) counter.push(171, i);
		counter.breakSpell();
		expect(counter.push(171, 4).overForS).toBe(1);
		expect(counter.row.overS).toBe(4);
	});
});
