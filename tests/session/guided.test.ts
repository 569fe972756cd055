import { describe, expect, it } from 'vitest';
import { cuesOf } from '$lib/bell/cues';
import { defaultBellSettings } from '$lib/bell/settings';
import { accepts, timelineOf } from '$lib/rounds/timeline';
import { checkPlan } from '$lib/rounds/check-plan';
import { packReadings, type Reading } from '$lib/record/columns';
import { promptEveryS, recoveryCheckPlan, restingPlan, thresholdRunPlan } from '$lib/rounds/guided-plans';
import type { RecordHead } from '$lib/record/head';
import { Recorder } from '$lib/session/recorder';
import { manualClock } from '$lib/time/manual-clock';
import { LiveGuided } from '$lib/session/live-guided';
import { summaryOf } from '$lib/review/summary';
import type { Plan } from '$lib/rounds/plan';
import { makeHead } from '../store/builders';
import { makeSink, makeStart, makeStrap } from './builders';

const kinds = (plan: Plan) =>
	timelineOf(plan).map(({ kind, startMs, endMs }) => `${kind} ${(endMs - startMs) / 1000}`);
const heard = (plan: Plan) =>
	cuesOf(timelineOf(plan), { ...plan, on: defaultBellSettings.on, promptEveryS: promptEveryS(plan) }).map(
		({ sound, atMs }) => `${sound} ${atMs / 1000}`
	);
const readings = (lengthS: number, bpmAt: (s: number) => number, rrMs: (s: number) => number[] = () => []) =>
	Array.from({ length: lengthS }, (_, s): Reading => ({
		ms: s * 1000 + 500,
		bpm: Math.round(bpmAt(s)),
		contact: 'contact',
		rrMs: rrMs(s)
	}));
const summary = (plan: Plan, all: Reading[], overrides: Parameters<typeof makeHead>[0] = {}) =>
	summaryOf({
		head: makeHead({
			plan,
			amendments: [],
			events: [],
			endedMs: timelineOf(plan).at(-1)!.endMs,
			...overrides
		}),
		body: packReadings(all)
	});

describe('the plans of the guided measurements', () => {
	it('may all be started', () => {
		for (const plan of [
			thresholdRunPlan(600),
			thresholdRunPlan(0),
			restingPlan('lying'),
			recoveryCheckPlan(20)
		])
			expect(checkPlan(plan)).toEqual([]);
	});

	it('run 20 minutes after a warm-up, and cool down', () => {
		expect(kinds(thresholdRunPlan(600))).toEqual([
			'warm-up 600',
			'get ready 10',
			'work 1200',
			'closing 60',
			'cool-down 300'
		]);
	});

	it('call for more pace after 5, 10 and 15 minutes of the run', () => {
		expect(heard(thresholdRunPlan(0)).filter((cue) => cue.startsWith('whistle'))).toEqual([
			'whistle 310',
			'whistle 610',
			'whistle 910'
		]);
	});

	it('ring nothing in the quiet minutes but their start and end', () => {
		expect(kinds(restingPlan('sitting'))).toEqual(['work 300']);
		expect(heard(restingPlan('sitting'))).toEqual(['round start 0', 'round end 300']);
	});

	it('check recovery over 3 x 3 minutes, juniors 3 x 2, schools 3 x 1.5, and lie still for three', () => {
		expect(kinds(recoveryCheckPlan(20)).slice(-5)).toEqual(
			['work 180', 'rest 60', 'work 180', 'rest 60', 'work 180'].slice(1).concat('closing 180')
		);
		expect(kinds(recoveryCheckPlan(16))).toContain('work 120');
		// 13 and 14 years: federations' technical and competition rules for three-round boxing.
		for (const age of [13, 14]) expect(kinds(recoveryCheckPlan(age))).toContain('work 90');
		expect(kinds(recoveryCheckPlan(15))).toContain('work 120');
		expect(kinds(recoveryCheckPlan(16)).at(-1)).toBe('closing 180');
		expect(kinds(recoveryCheckPlan(undefined))).toContain('work 180');
	});

	it('keep their shape: no further round, no longer rest', () => {
		const plan = recoveryCheckPlan(20);
		for (const kind of ['add round', 'repeat round', 'extend rest'] as const)
			expect(accepts(plan, [], kind, 350_000)).toBe(false);
		expect(accepts(plan, [], 'finish', 350_000)).toBe(true);
	});
});

describe('the result of a guided measurement', () => {
	it('is the mean of the run less 5 %', () => {
		const plan = thresholdRunPlan(0);
		// 160, 165, 175 and 180 in equal parts: 170, less 5 % 161.5 (common practice, no source).
		const pace = [160, 165, 175, 180];
		const { guided } = summary(
			plan,
			readings(1570, (s) => pace[Math.floor((s - 10) / 300)] ?? 120)
		);
		expect(guided).toMatchObject({ kind: 'threshold run', meanBpm: 170, thresholdBpm: 161.5, reasons: [] });
	});

	it('says what a run stopped early cannot tell', () => {
		const plan = thresholdRunPlan(0);
		const all = readings(500, () => 160);
		const { guided } = summary(plan, all, {
			endedMs: 500_000,
			amendments: [{ kind: 'finish', atMs: 490_000 }]
		});
		expect(guided).not.toHaveProperty('thresholdBpm', expect.any(Number));
		expect(guided?.reasons[0]).toMatch(/stopped after 8:\d\d of 20:00/);
	});

	it('is the lowest minute at rest, with the RMSSD of neighbours', () => {
		// 1000 and 1040 ms in turn: every neighbour differs by 40 (Task Force 1996).
		const rr = (s: number) => [s % 2 ? 1000 : 1040];
		const { guided } = summary(
			restingPlan('lying'),
			readings(300, (s) => (s < 60 ? 50 : s >= 150 && s < 210 ? 56 : 60), rr)
		);
		expect(guided).toMatchObject({ kind: 'resting', posture: 'lying', restBpm: 56, reasons: [] });
		expect(guided?.rmssdMs).toBeCloseTo(40, 0);
	});

	it('says how many beats were bad, and measures RMSSD with them put right', () => {
		// Every neighbour differs by 40, but for two beats that the strap missed.
		const beat = (s: number) => (s % 2 ? 1000 : 1040);
		const missed = (s: number) => (s === 101 || s === 201 ? [] : [s === 102 || s === 202 ? 2040 : beat(s)]);
		const { guided } = summary(
			restingPlan('lying'),
			readings(300, () => 58, missed)
		);
		expect(guided?.badBeatShare).toBeCloseTo(2 / 298, 4);
		expect(guided?.rmssdMs).toBeGreaterThan(39);
		expect(guided?.rmssdMs).toBeLessThan(41);
	});

	it('joins no two intervals across a loss of signal, however short', () => {
		// Steady before it and steady after it, so no neighbours differ: RMSSD 0 (Task Force 1996).
		const all = readings(
			300,
			() => 58,
			(s) => [s < 150 ? 1000 : 1100]
		);
		const lost: RecordHead['events'] = [
			{ kind: 'signal lost', ms: 149_600 },
			{ kind: 'signal back', ms: 150_300 }
		];
		expect(summary(restingPlan('lying'), all).guided?.rmssdMs).toBeGreaterThan(5);
		expect(summary(restingPlan('lying'), all, { events: lost }).guided?.rmssdMs).toBe(0);
	});

	it('is tau after the check, for 120 + 60 exp(-t/60)', () => {
		const plan = recoveryCheckPlan(20);
		const bellS = timelineOf(plan).find(({ kind }) => kind === 'closing')!.startMs / 1000;
		const curve = (s: number) => (s < bellS ? 180 : 120 + 60 * Math.exp(-(s - bellS + 0.5) / 60));
		const { guided } = summary(plan, readings(bellS + 180, curve));
		expect(guided?.tauS).toBeGreaterThan(58);
		expect(guided?.tauS).toBeLessThan(62);
		expect(summary(plan, readings(bellS + 90, curve), { endedMs: (bellS + 90) * 1000 }).guided).toMatchObject(
			{
				reasons: [expect.stringMatching(/not held to their end/)]
			}
		);
	});
});

function recording(plan: Plan) {
	const clock = manualClock();
	const { strap, send } = makeStrap();
	const start = makeStart({ plan });
	const recorder = new Recorder({ start, clock, originMs: 0, writeClock: clock, sink: makeSink().sink });
	recorder.straps.attach(0, strap);
	return { clock, recorder, send };
}

describe('a guided measurement while it runs', () => {
	it('carries forward the very mean and lowest minute that the record gives', () => {
		const plan = restingPlan('lying');
		const all = readings(300, (s) => (s < 50 ? 45 : 60 + 6 * Math.sin(s / 40))).filter((_, s) => s % 97 > 4);
		const { clock, recorder, send } = recording(plan);
		for (const { ms, bpm } of all) {
			clock.advanceTo(ms);
			send(ms, bpm, { contact: 'contact' });
		}
		clock.advanceTo(300_000);
		const view = recorder.guided!.viewAt(undefined, recorder.advance());
		const { guided } = summary(plan, all);
		expect(view.lowestBpm).toBeCloseTo(guided!.restBpm!, 9);
		expect(view.coverage).toBeCloseTo(guided!.coverage!, 9);
	});

	it('is shown too on a strap that announces contact and never reports it', () => {
		const { clock, recorder, send } = recording(restingPlan('lying'));
		for (let s = 0; s < 200; s++) {
			clock.advanceTo(s * 1000 + 500);
			send(clock.nowMs(), 57, { contact: 'no contact' });
		}
		const view = recorder.guided!.viewAt(undefined, recorder.advance());
		// The first sixty packets have to show what its word is worth; then they count like those after them.
		expect(view).toMatchObject({ meanBpm: 57, lowestBpm: 57, coverage: 1 });
	});

	it('counts the calls for more pace', () => {
		const timeline = timelineOf(thresholdRunPlan(0));
		const live = new LiveGuided('threshold run');
		const run = timeline.find(({ kind }) => kind === 'work')!;
		expect(live.viewAt(run, run.startMs + 299_000)).toMatchObject({ prompts: 0, nextPromptMs: 1000 });
		expect(live.viewAt(run, run.startMs + 301_000)).toMatchObject({ prompts: 1, nextPromptMs: 299_000 });
		expect(live.viewAt(run, run.startMs + 950_000)).not.toHaveProperty('nextPromptMs', expect.any(Number));
	});
});

it.each([thresholdRunPlan(0), thresholdRunPlan(3600), restingPlan('lying'), recoveryCheckPlan(15)])(
	'the plan of a guided measurement may start: $name',
	(plan) => {
		expect(checkPlan(plan)).toEqual([]);
	}
);
