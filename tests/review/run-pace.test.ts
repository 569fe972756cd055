import { describe, expect, it } from 'vitest';
import { thresholdRunPlan } from '$lib/rounds/guided-plans';
import { runWorkKJ } from '$lib/review/run-pace';
import { livedPhases } from '$lib/review/summary';
import { distanceField } from '$lib/review/units';
import { makeHead } from '../store/builders';

const plan = thresholdRunPlan(600);
const head = makeHead({
	plan,
	amendments: [],
	endedMs: 2_170_000,
	athlete: { athleteId: 'ath-1', name: 'Nerea', weightKg: 60 }
});
const costOf = (distanceKm?: number, changed: Partial<typeof head> = {}) => {
	const whole = { ...head, ...changed };
	return runWorkKJ(whole, livedPhases(whole), distanceKm);
};

describe('what a threshold run costs by its pace', () => {
	it('is that of its speed, warm-up and cool-down left out', () => {
		// 6 miles an hour are 2 miles in 20 minutes: code 12050, 9.8 MET (Ainsworth et al. 2011), x 4.184 x 60 kg / 3.
		expect(costOf(2 * 1.609344).value).toBeCloseTo((9.8 * 4.184 * 60) / 3, 6);
	});

	it('lies well over that of jogging at any pace that a threshold run has', () => {
		// Jogging, code 12020: 7.5 MET (Herrmann et al. 2024).
		const jogging = (7.5 * 4.184 * 60) / 3;
		for (const km of [3, 3.5, 4, 5]) expect(costOf(km).value).toBeGreaterThan(1.15 * jogging);
	});

	it('reckons with the time that was run where it was stopped early', () => {
		// 2 miles in 15 of the 20 minutes are 8 miles an hour: code 12090, 11.8 MET.
		const endedMs = 600_000 + 10_000 + 900_000;
		expect(costOf(2 * 1.609344, { endedMs }).value).toBeCloseTo((11.8 * 4.184 * 60) / 4, 6);
	});

	it.each([
		[undefined, {}, /pace, which is not known: say above how far/],
		[1.5, {}, /4.5 km an hour/],
		[9, {}, /27.0 km an hour/],
		[4, { athlete: { athleteId: 'ath-1', name: 'Nerea' } }, /body mass is not given/],
		[4, { endedMs: 500_000 }, /no run/]
	])('is not told of %s km and %o', (km, changed, reason) => {
		expect(costOf(km, changed).value).toBeUndefined();
		expect(costOf(km, changed).reason).toMatch(reason);
	});
});

it('a distance is typed in miles or kilometres and kept in kilometres', () => {
	// The international mile: 1.609344 km, exactly.
	expect(distanceField.stored(2, 'imperial')).toBeCloseTo(3.218688, 10);
	expect(distanceField.shown(3.218688, 'imperial')).toBe(2);
	expect(distanceField.stored(4, 'metric')).toBe(4);
});
