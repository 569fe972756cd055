import type { DayEntry, TrainingDay } from '$lib/record/day';
import type { KeptTraining } from '$lib/review/training';

/** Invented days and trainings with fixed values; each override is what a test is about. */

export const makeEntry = (overrides: Partial<DayEntry> = {}): DayEntry => ({
	id: 'e1',
	activity: 'pads',
	minutes: 60,
	effort: 6,
	madeAt: '2026-03-02T19:00:00.000Z',
	...overrides
});

export const makeDay = (...entries: DayEntry[]): TrainingDay => ({ entries });

export const restDay: TrainingDay = { entries: [], rest: true };

export const makeTraining = (overrides: Partial<KeptTraining> = {}): KeptTraining => ({
	id: 's1',
	groupId: 'g1',
	startedAt: '2026-03-02T18:00:00.000Z',
	athleteId: 'ath-1',
	title: 'Six on the pads',
	activity: 'pads',
	minutes: 60,
	drops: [],
	...overrides
});
