import { describe, expect, it } from 'vitest';
import { inOnePosture } from '$lib/review/one-posture';
import { progressOf, type KeptSession } from '$lib/review/progress';
import { summaryOf } from '$lib/review/summary';
import { makeHead, makeRecord } from '../store/builders';

const rested = (day: number, posture: 'lying' | 'sitting', restBpm: number): KeptSession => ({
	head: makeHead({ id: `s${day}`, startedAt: `2026-03-0${day}T07:00:00.000Z` }),
	edit: {},
	summary: { ...summaryOf(makeRecord()), guided: { kind: 'resting', posture, restBpm, reasons: [] } }
});

describe('resting measurements', () => {
	it('are compared within the posture of the latest, and the others are counted', () => {
		const all = [rested(1, 'lying', 50), rested(2, 'sitting', 60), rested(3, 'lying', 51)];
		const { sessions, posture, leftOut } = inOnePosture(all);
		expect(progressOf(sessions, 'resting rate').map(({ value }) => value)).toEqual([50, 51]);
		expect({ posture, leftOut }).toEqual({ posture: 'lying', leftOut: 1 });
		expect(inOnePosture([...all, rested(4, 'sitting', 61)])).toMatchObject({
			posture: 'sitting',
			leftOut: 2
		});
	});

	it('are none where none was made', () => {
		expect(inOnePosture([])).toEqual({ sessions: [], posture: undefined, leftOut: 0 });
	});
});
