import { describe, expect, it } from 'vitest';
import { packReadings } from '$lib/record/columns';
import type { RecordHead } from '$lib/record/head';
import type { SessionRecord } from '$lib/record/body';
import { thresholdResultOf } from '$lib/review/guided-summary';
import { livedPhases, summaryOf } from '$lib/review/summary';
import { recoveryCheckPlan, restingPlan, thresholdRunPlan } from '$lib/rounds/guided-plans';
import type { Plan } from '$lib/rounds/plan';
import { timelineOf } from '$lib/rounds/timeline';
import { makeHead, makeReading } from '../store/builders';

/** A guided session with a reading in every second, stopped at `endedMs` where that is given. */
function made(
	plan: Plan,
	bpmAt: (s: number) => number,
	{
		endedMs = timelineOf(plan).at(-1)!.endMs,
		rrMs
	}: { endedMs?: number; rrMs?: (s: number) => number[] } = {}
): SessionRecord {
	const readings = Array.from({ length: Math.floor(endedMs / 1000) }, (_, s) =>
		makeReading({ ms: s * 1000 + 500, bpm: Math.round(bpmAt(s)), rrMs: rrMs?.(s) ?? [] })
	);
	return { head: makeHead({ plan, amendments: [], events: [], endedMs }), body: packReadings(readings) };
}
const guidedOf = (...what: Parameters<typeof made>) => summaryOf(made(...what)).guided;

describe('a guided measurement', () => {
	it('that was stopped before its work says so, whatever it was', () => {
		for (const plan of [thresholdRunPlan(600), recoveryCheckPlan(20)])
			expect(guidedOf(plan, () => 100, { endedMs: 60_000 })).toEqual({
				kind: plan.kind,
				posture: plan.posture,
				reasons: ['The measurement was stopped before it began.']
			});
	});

	it('of the threshold has the mean of the run and 5 % less (common practice, no source)', () => {
		// 160 in the first half and 180 in the other.
		const guided = guidedOf(thresholdRunPlan(0), (s) => (s < 610 ? 160 : 180));
		expect(guided).toEqual({
			...{ kind: 'threshold run', posture: undefined, coverage: 1, reasons: [] },
			meanBpm: 170,
			thresholdBpm: 161.5
		});
	});

	it('of the threshold says first how short it was', () => {
		const guided = guidedOf(thresholdRunPlan(0), () => 160, { endedMs: 490_000 })!;
		// The run began after ten seconds.
		expect(guided.reasons[0]).toBe(
			'The run was stopped after 8:00 of 20:00: too short to show the rate you could hold to the end.'
		);
		expect(guided.thresholdBpm).toBeUndefined();
	});

	it('of the resting rate is the lowest minute after the first, with its posture', () => {
		const rate = (s: number) => (s < 60 ? 45 : s >= 150 && s < 210 ? 56 : 60);
		const guided = guidedOf(restingPlan('sitting'), rate, { rrMs: (s) => [s % 2 ? 1000 : 1040] })!;
		expect(guided).toMatchObject({
			kind: 'resting',
			posture: 'sitting',
			restBpm: 56,
			coverage: 1,
			reasons: []
		});
		// Every neighbour differs by 40 (Task Force 1996).
		expect(guided.rmssdMs).toBeCloseTo(40, 0);
		expect(guided.badBeatShare).toBe(0);
	});

	it('of the resting rate tells nothing of minutes that were not held to their end', () => {
		const guided = guidedOf(restingPlan('lying'), () => 58, { endedMs: 299_000, rrMs: () => [1000] })!;
		expect(guided.restBpm).toBeUndefined();
		expect(guided.rmssdMs).toBeUndefined();
		expect(guided.coverage).toBe(1);
		expect(guided.reasons[0]).toMatch(/^The five quiet minutes are not over/);
	});

	it('of the resting rate stands without intervals, and says that none came', () => {
		const guided = guidedOf(restingPlan('lying'), () => 58)!;
		expect(guided).toMatchObject({ restBpm: 58 });
		expect(guided.rmssdMs).toBeUndefined();
		expect(guided.reasons).toHaveLength(1);
		expect(guided.reasons[0]).toMatch(/intervals/i);
	});
});

describe('a recovery check', () => {
	const plan = recoveryCheckPlan(20);
	const closing = timelineOf(plan).find(({ kind }) => kind === 'closing')!;
	const bellS = closing.startMs / 1000;
	const falling = (s: number) => (s < bellS ? 180 : 120 + 60 * Math.exp(-(s - bellS + 0.5) / 60));

	it('has tau of its still minutes, for 120 + 60 exp(-t/60)', () => {
		const guided = guidedOf(plan, falling)!;
		expect(guided).toMatchObject({ kind: 'recovery check', posture: 'standing', coverage: 1, reasons: [] });
		expect(guided.tauS).toBeGreaterThan(58);
		expect(guided.tauS).toBeLessThan(62);
		expect(guided.tauErrorS).toBeGreaterThan(0);
	});

	it('says that they were not held to their end, or that they follow no curve', () => {
		const short = guidedOf(plan, falling, { endedMs: closing.endMs - 2000 })!;
		expect(short.tauS).toBeUndefined();
		expect(short.reasons).toEqual([
			'The three still minutes were not held to their end, so tau cannot be told.'
		]);
		const flat = guidedOf(plan, (s) => (s < bellS ? 180 : 130 + 20 * (s % 2)))!;
		expect(flat.tauS).toBeUndefined();
		expect(flat.reasons).toEqual(['The fall does not follow one curve closely enough, so tau is not shown.']);
	});

	it('says that it was stopped before them, after a round as well as in one', () => {
		const [second] = timelineOf(plan).filter(({ kind, round }) => kind === 'work' && round === 2);
		for (const endedMs of [second!.startMs, second!.startMs + 60_000])
			expect(guidedOf(plan, () => 170, { endedMs })).toEqual({
				kind: 'recovery check',
				posture: 'standing',
				reasons: ['The check was stopped before its three still minutes.']
			});
	});
});

describe('a threshold run with its answers', () => {
	// From 160 to 180: 170 in the middle, and the pace rose.
	const rising = made(thresholdRunPlan(0), (s) => (s < 610 ? 160 : 180));
	const reasonsOf = ({ head, body }: SessionRecord, feeling?: 'something left' | 'far too easy') =>
		thresholdResultOf({ head, body }, livedPhases(head), feeling)!.reasons;

	it('is doubted by how it ended, and is none where no run was', () => {
		expect(reasonsOf(rising)).toEqual([]);
		expect(reasonsOf(rising, 'something left')).toEqual([]);
		expect(reasonsOf(rising, 'far too easy')).toEqual([
			'The athlete found it far too easy: the true threshold is likely higher.'
		]);
		expect(thresholdResultOf(rising, [], 'far too easy')).toBeUndefined();
	});

	it('is doubted where it was paused', () => {
		const amendments: RecordHead['amendments'] = [
			{ kind: 'pause', atMs: 100_000 },
			{ kind: 'resume', atMs: 101_000 }
		];
		expect(reasonsOf({ ...rising, head: { ...rising.head, amendments } })).toEqual([
			'The run was interrupted.'
		]);
	});

	it('is doubted where the heart was far from its measured maximum', () => {
		// 161.5 of 240 is 67 %, under the 75 that a threshold lies at (own rule).
		const athlete = { athleteId: 'ath-1', name: 'Nerea', measuredMaxBpm: 240 };
		expect(reasonsOf({ ...rising, head: { ...rising.head, athlete } })).toEqual([
			'The result is under 75 % of the measured maximum.'
		]);
	});
});
