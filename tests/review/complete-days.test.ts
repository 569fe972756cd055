import { describe, expect, it } from 'vitest';
import { completeDays } from '$lib/review/complete-days';
import { makeDay, makeEntry, makeTraining, restDay } from './training-days';

describe('which of the last days are complete', () => {
	const card = { id: 'ath-1', name: 'Nerea' };
	const days = new Map([
		['2026-03-08', { ...restDay, allTraining: true }],
		['2026-03-09', { ...makeDay(makeEntry({ minutes: 30 })), allFood: false }]
	]);
	const trainings = new Map([['2026-03-10', [makeTraining({ effort: 7 })]]]);

	it('is said of seven days, the newest first, with what was trained', () => {
		const told = completeDays(card, days, trainings, '2026-03-10');
		expect(told.map(({ date }) => date)).toEqual(
			[10, 9, 8, 7, 6, 5, 4].map((day) => `2026-03-${String(day).padStart(2, '0')}`)
		);
		expect(told.slice(0, 4).map(({ words }) => words)).toEqual([
			'pads, 60 min, effort 7',
			'pads, 30 min, effort 6',
			'rest',
			'nothing entered'
		]);
	});

	it('is not so until somebody says so, of the day or of every day', () => {
		const saidOf = (more: object) =>
			completeDays({ ...card, ...more }, days, trainings, '2026-03-10')
				.slice(0, 3)
				.map(({ allTraining, allFood }) => [allTraining, allFood]);
		expect(saidOf({})).toEqual([
			[false, false],
			[false, false],
			[true, false]
		]);
		// What was said of the one day stands.
		expect(saidOf({ entersAllTraining: true, entersAllFood: true })).toEqual([
			[true, true],
			[true, false],
			[true, true]
		]);
	});
});
