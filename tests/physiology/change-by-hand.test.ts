import { describe, expect, it } from 'vitest';
import { changeOver, spreadOf, type DayValue, type Spread } from '$lib/physiology/change';
import { studentsT } from '$lib/physiology/students-t';
import { yardsticks } from '$lib/physiology/yardstick';

const { threshold, drop } = yardsticks;
const daysOf = (...values: number[]): DayValue[] =>
	values.map((value, i) => ({ day: `2026-03-0${i + 1}`, value, count: 1 }));

describe('the spread of one athlete', () => {
	it('is the yardstick’s own before there are days enough', () => {
		expect(spreadOf(daysOf(150, 170), threshold)).toEqual({ units: 1, degrees: 10, isOwn: false });
		expect(spreadOf(daysOf(30, 60, 30, 60), drop)).toEqual({ units: 1, degrees: 5, isOwn: false });
	});

	it('is pooled from what the days lie off a line with a step half-way', () => {
		// In errors of 4 beats: 40, 42, 40, 42, 41. Off their line lie -0.6, 1.2, -1, 0.8 and -0.4, whose squares are 3.6; a step
		// after the second day takes 1.2 of these, one after the third 0.533. So 2.4 is left, beside the 10 of the yardstick.
		const { units, degrees, isOwn } = spreadOf(daysOf(160, 168, 160, 168, 164), threshold);
		expect([degrees, isOwn]).toEqual([12, true]);
		expect(units).toBeCloseTo(Math.sqrt(12.4 / 12), 9);
	});

	it('takes neither a drift nor a step for scatter', () => {
		for (const days of [daysOf(150, 156, 162, 168, 174), daysOf(150, 150, 150, 170, 170)])
			expect(spreadOf(days, threshold).units).toBeCloseTo(Math.sqrt(10 / 12), 9);
	});
});

describe('a change over four thresholds', () => {
	// The line through four days knows its rise to 3 / sqrt(5) errors.
	const riseError = 3 / Math.sqrt(5);
	const known: Spread = { units: 1, degrees: 10, isOwn: false };

	it('is one beyond 2.228 errors of the rise: 2.989 of 4 beats', () => {
		expect(changeOver(daysOf(160, 164, 168, 172), threshold, known)).toMatchObject({
			kind: 'higher',
			days: 4,
			from: 160,
			to: 172
		});
		expect(changeOver(daysOf(172, 168, 164, 160), threshold, known).kind).toBe('lower');
		expect(changeOver(daysOf(160, 163.9, 167.8, 171.7), threshold, known).kind).toBe('no clear change');
	});

	it('would show four times in five from that and 0.879 errors more on', () => {
		const change = changeOver(daysOf(160, 164, 168, 172), threshold, known);
		if (change.kind === 'too few') throw new Error('Four days were too few.');
		const bpm = 4 * (studentsT(0.975, 10) + studentsT(0.8, 10)) * riseError;
		expect(bpm).toBeCloseTo(16.67, 2);
		expect(change.smallestRise).toBeCloseTo(bpm, 6);
		expect(change.smallestFall).toBeCloseTo(bpm, 6);
	});

	it('takes more where the athlete’s own scatter is known from a few days alone', () => {
		const [claim, power] = [studentsT(0.975, 7), studentsT(0.8, 7)];
		const unsure = Math.sqrt(1 + (claim ** 2 + (claim + power) ** 2) / 14);
		const own: Spread = { units: 1.5, degrees: 7, isOwn: true };
		const change = changeOver(daysOf(160, 164, 168, 172), threshold, own);
		if (change.kind === 'too few') throw new Error('Four days were too few.');
		expect(change.kind).toBe('no clear change');
		expect(change.smallestRise).toBeCloseTo(4 * 1.5 * (claim + power * unsure) * riseError, 6);
	});
});
