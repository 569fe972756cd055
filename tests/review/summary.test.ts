import { describe, expect, it } from 'vitest';
import { packReadings } from '$lib/record/columns';
import type { RecordHead } from '$lib/record/head';
import { longestMeasuredMs } from '$lib/record/limits';
import { assertMeasurable, livedPhases, measured, NotMeasurable, summaryOf } from '$lib/review/summary';
import { recoveryCheckPlan } from '$lib/rounds/guided-plans';
import { timelineOf } from '$lib/rounds/timeline';
import { makeHead, makeReading } from '../store/builders';
import { twoRounds } from './two-rounds';

describe('what a session comes to', () => {
	// The builders' athlete has a threshold of 171.5, so a round is hard from 154.35 (90 %, own rule).
	it('is every round with its rest, by hand for two rounds at 180 and at 160', () => {
		const summary = summaryOf(twoRounds());
		expect(summary).toMatchObject({ peakBpm: 180, meanDrop60: 35, drop60Count: 2, lengthS: 240, workS: 120 });
		expect(summary.rounds).toMatchObject([
			{
				...{ round: 1, attempt: 1, startMs: 0, endMs: 60_000, averageBpm: 180, peakBpm: 180, coverage: 1 },
				rest: { kind: 'rest', startMs: 60_000, endMs: 120_000, bellBpm: 180, drop60: 40, coverage: 1 }
			},
			{
				...{ round: 2, averageBpm: 160, peakBpm: 160 },
				rest: { kind: 'closing', bellBpm: 160, rate60: 130, drop60: 30, verdict: 'under the band' }
			}
		]);
		// What all of the session was of is said once, by its plan.
		expect(summary.rounds[0]).not.toHaveProperty('activity');
		expect(summary).not.toHaveProperty('guided');
	});

	it('has the seconds over the threshold outside the closing burst, the last ten of a round (own rule)', () => {
		const summary = summaryOf(twoRounds());
		expect(summary.rounds.map(({ over }) => [over?.overS, over?.burstOverS])).toEqual([
			[50, 10],
			[0, 0]
		]);
		expect(summary.overS).toBe(50);
		expect(summaryOf(twoRounds({}, [180, 140, 180, 130])).overS).toBe(100);
	});

	it('knows no time over a threshold that nobody knows', () => {
		const summary = summaryOf(twoRounds({ athlete: { athleteId: 'ath-1', name: 'Nerea' } }));
		expect(summary.overS).toBeUndefined();
		expect(summary.rounds.map(({ over }) => over)).toEqual([undefined, undefined]);
	});

	it('ends where the session ended: a round that was left has no rest', () => {
		const summary = summaryOf(twoRounds({ endedMs: 150_000 }));
		expect(summary.rounds.map(({ endMs, rest }) => [endMs, rest?.kind])).toEqual([
			[60_000, 'rest'],
			[150_000, undefined]
		]);
		expect(summary).toMatchObject({ lengthS: 150, workS: 90, meanDrop60: 40, drop60Count: 1, unusual: [] });
		// One that ended at the very bell of a phase lived nothing of it.
		expect(summaryOf(twoRounds({ endedMs: 120_000 })).rounds).toHaveLength(1);
	});

	it('has no mean where no drop was measured, and no peak without a rate', () => {
		const summary = summaryOf({ ...twoRounds(), body: packReadings([]) });
		expect(summary).toMatchObject({ drop60Count: 0, overS: 0, unusual: [] });
		expect([summary.meanDrop60, summary.peakBpm, summary.rounds[0]!.averageBpm]).toEqual([
			undefined,
			undefined,
			undefined
		]);
	});

	it('counts the work of whoever joined late from then on, and the length as well', () => {
		const summary = summaryOf(twoRounds({ joinedMs: 30_000 }));
		expect(summary).toMatchObject({ lengthS: 210, workS: 90 });
		expect(livedPhases(twoRounds({ joinedMs: 30_000 }).head)[0]).toMatchObject({
			startMs: 30_000,
			endMs: 60_000
		});
	});

	it('leaves pauses out of the work and of its mean', () => {
		// Twenty seconds on, ten seconds of pause with a rate of 60, and forty seconds on.
		const amendments: RecordHead['amendments'] = [
			{ kind: 'pause', atMs: 20_000 },
			{ kind: 'resume', atMs: 30_000 }
		];
		const head = { ...twoRounds().head, amendments, endedMs: 70_000 };
		const readings = Array.from({ length: 70 }, (_, s) =>
			makeReading({ ms: s * 1000 + 500, bpm: s >= 20 && s < 30 ? 60 : 170 })
		);
		const summary = summaryOf({ head, body: packReadings(readings) });
		expect(summary.workS).toBe(60);
		expect(summary.rounds[0]).toMatchObject({ averageBpm: 170, endMs: 70_000 });
	});

	it('reads no drop from one strap’s heart to another’s', () => {
		const dropsWith = (ms: number) =>
			summaryOf(twoRounds({ strapChanges: [{ ms, strapName: 'Strap 2', practice: false }] })).rounds.map(
				({ rest }) => rest?.drop60
			);
		expect(dropsWith(90_000)).toEqual([undefined, 30]);
		// Changed at the end of a rest, it was of one strap to its end; the next bell is long enough after.
		expect(dropsWith(120_000)).toEqual([40, 30]);
	});

	it('has a recovery speed of still minutes that follow a curve, and of none that are too short', () => {
		const plan = recoveryCheckPlan(20);
		const { startMs, endMs } = timelineOf(plan).find(({ kind }) => kind === 'closing')!;
		const bellS = startMs / 1000;
		const readings = Array.from({ length: endMs / 1000 }, (_, s) =>
			makeReading({
				ms: s * 1000 + 500,
				bpm: s < bellS ? 180 : Math.round(120 + 60 * Math.exp(-(s - bellS + 0.5) / 60))
			})
		);
		const restOf = (endedMs: number) =>
			summaryOf({
				head: makeHead({ plan, amendments: [], events: [], endedMs }),
				body: packReadings(readings)
			}).rounds.at(-1)!.rest!;
		expect(restOf(endMs).recovery!.tauS).toBeGreaterThan(58);
		expect(restOf(endMs).recovery!.tauS).toBeLessThan(62);
		expect(restOf(endMs - 2000).recovery).toBeUndefined();
		expect(summaryOf(twoRounds()).rounds.every(({ rest }) => rest!.recovery === undefined)).toBe(true);
	});
});

describe('what is too long to be measured', () => {
	const tooLong = { endedMs: longestMeasuredMs + 1 };

	it('is more than a day of boxing and the longest sleep, and says so for people', () => {
		expect(() => assertMeasurable({ endedMs: longestMeasuredMs })).not.toThrow();
		expect(() => assertMeasurable(tooLong)).toThrow(NotMeasurable);
		expect(() => assertMeasurable({ endedMs: NaN })).toThrow(NotMeasurable);
		expect(() => summaryOf(twoRounds(tooLong))).toThrow(
			'It lasts more than 8 days, which no session does: the clock of the computer was set meanwhile, or the file is wrong.'
		);
	});

	it('is kept without a summary', () => {
		const record = twoRounds(tooLong);
		expect(measured(record)).toEqual(record);
		expect(measured(twoRounds())).toEqual({ ...twoRounds(), summary: summaryOf(twoRounds()) });
	});
});
