import { describe, expect, it } from 'vitest';
import { inLengthWords, inOneLength } from '$lib/review/one-length';
import { progressOf, type KeptSession } from '$lib/review/progress';
import { reportedPoints } from '$lib/review/report-text';
import { summaryOf } from '$lib/review/summary';
import { makeHead, makeRecord } from '../store/builders';

/** A recovery check whose still minutes lasted so long; without a tau where the fall gave none. */
function checked(day: number, recoveryS: number, tauS?: number): KeptSession {
	const summary = summaryOf(makeRecord());
	const round = summary.rounds.find(({ rest }) => rest?.kind === 'closing')!;
	const rest = { ...round.rest!, endMs: round.rest!.startMs + recoveryS * 1000 };
	return {
		head: makeHead({ id: `s${day}`, startedAt: `2026-03-0${day}T07:00:00.000Z` }),
		edit: {},
		summary: {
			...summary,
			rounds: [{ ...round, rest }],
			guided: { kind: 'recovery check', tauS, tauErrorS: tauS && 4, reasons: [] }
		}
	};
}

describe('time constants', () => {
	const all = [checked(1, 180, 60), checked(2, 300, 75), checked(3, 180, 58), checked(4, 180)];

	it('are compared within the length of the latest recovery that has one, and the others are counted', () => {
		const { sessions, recoveryS, leftOut } = inOneLength(all);
		expect(progressOf(sessions, 'tau').map(({ value }) => value)).toEqual([60, 58]);
		expect({ recoveryS, leftOut }).toEqual({ recoveryS: 180, leftOut: 1 });
		expect(inOneLength([...all, checked(5, 300, 71)])).toMatchObject({ recoveryS: 300, leftOut: 2 });
	});

	it('name their length and what was left out, in a report too', () => {
		const unit = 's, over 3:00; 1 over another time left out';
		expect(inLengthWords('s', inOneLength(all))).toBe(unit);
		const reported = reportedPoints(all).find(({ name }) => name === 'Recovery speed')!;
		expect(reported.unit).toBe(unit);
		expect(reported.points.map(({ value }) => value)).toEqual([60, 58]);
	});

	it('are none where none was found', () => {
		expect(inOneLength([checked(1, 180)])).toEqual({ sessions: [], recoveryS: undefined, leftOut: 0 });
		expect(inLengthWords('seconds', inOneLength([]))).toBe('seconds');
	});
});
