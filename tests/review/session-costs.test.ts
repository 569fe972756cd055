import { describe, expect, it } from 'vitest';
import type { Activity } from '$lib/rounds/plan';
import { Recorder } from '$lib/session/recorder';
import type { AthleteSnapshot } from '$lib/record/head';
import { summaryOf } from '$lib/review/summary';
import { manualClock } from '$lib/time/manual-clock';
import { makeSink, makeStart, makeStrap, shortPlan } from '../session/builders';

const known: AthleteSnapshot = {
	athleteId: 'athlete-1',
	name: 'Red corner',
	thresholdBpm: 165,
	sex: 'male',
	weightKg: 75,
	heightCm: 180,
	ageYears: 30,
	restBpm: 60,
	measuredMaxBpm: 190
};

/** Two rounds of 60 s at `workBpm` and two minutes of rest at `restBpm`, one packet a second. */
async function boxed(
	athlete: AthleteSnapshot,
	workBpm: number,
	restBpm: number,
	activity: Activity = 'pads'
) {
	const clock = manualClock();
	const red = makeStrap();
	const recorder = new Recorder({
		start: makeStart({
			plan: { ...shortPlan, activity },
			corners: [{ recordId: 'record-1', athlete, strapName: 'Red strap', practice: false }]
		}),
		clock,
		originMs: 0,
		writeClock: clock,
		sink: makeSink().sink
	});
	recorder.straps.attach(0, red.strap);
	for (let ms = 500; ms < recorder.session.endMs; ms += 1000) {
		clock.advanceTo(ms);
		red.send(ms, recorder.session.phaseAt(ms)?.kind === 'work' ? workBpm : restBpm);
	}
	clock.advanceTo(recorder.session.endMs);
	recorder.advance();
	const { records } = await recorder.end(recorder.session.endMs);
	return { liveBands: recorder.corners[0]!.bands, summary: summaryOf(records[0]!) };
}

describe('what a session cost', () => {
	it('lies in the range of the regression: 10 s + 2 min at 120 and 2 min at 170 (Keytel 2005, Mifflin 1990)', async () => {
		const { summary } = await boxed(known, 170, 120);
		// kJ/min, gross, man of 75 kg and 30 years: -55.0969 + 0.6309 HR + 0.1988 x 75 + 0.2017 x 30.
		const at = (bpm: number) => -55.0969 + 0.6309 * bpm + 0.1988 * 75 + 0.2017 * 30;
		const regressionKJ = 2 * at(170) + (130 / 60) * at(120);
		const energy = summary.costs.energy.value!;
		// On the pads.
		expect(energy.highKJ).toBeCloseTo(1.3 * regressionKJ, 6);
		expect(energy.lowKJ).toBeCloseTo(0.8 * regressionKJ, 6);
		// 1730 kcal a day at rest (computed from the formula), over 250 s.
		expect(energy.grossKJ - energy.netKJ).toBeCloseTo((1730 * 4.184 * 250) / 86_400, 6);
	});

	it('tells the same bands carried forward live as measured of the record', async () => {
		const { liveBands, summary } = await boxed(known, 170, 120);
		expect(liveBands).toEqual(summary.costs.bands);
		// Two rounds of 60 s over 165, the last 10 s of each in the closing burst.
		expect(liveBands).toMatchObject({ 'over threshold': 100, 'closing burst': 20 });
	});

	it('tells the work alone by share of the threshold', async () => {
		const { summary } = await boxed(known, 150, 100);
		// 150 of 165 is 91 %.
		expect(summary.costs.bands).toEqual({
			easy: 0,
			working: 0,
			'near threshold': 120,
			'over threshold': 0,
			'closing burst': 0,
			unknown: 0
		});
	});

	// Own rules, with the measured bouts that they hold in tests/physiology/energy-bouts.test.ts.
	it.each<[Activity, number, number]>([
		['bag', 0.65, 1],
		['shadow boxing', 0.65, 1],
		['pads', 0.8, 1.3],
		['sparring', 0.8, 1.3],
		['running', 0.85, 1.15],
		['skipping', 0.65, 1.3],
		['circuit', 0.65, 1.3]
	])('takes the range of its activity: %s from %s to %s of the regression', async (activity, low, high) => {
		const { lowKJ, highKJ } = (await boxed(known, 170, 120, activity)).summary.costs.energy.value!;
		expect(highKJ / lowKJ).toBeCloseTo(high / low, 9);
		const pads = (await boxed(known, 170, 120)).summary.costs.energy.value!;
		expect(lowKJ / pads.lowKJ).toBeCloseTo(low / 0.8, 9);
	});

	it('checks sparring and pads by what was measured in boxers, with the compendium beside it', async () => {
		const workOf = async (activity: Activity) => {
			const { metWorkKJ, compendiumWorkKJ } = (await boxed(known, 170, 120, activity)).summary.costs;
			return [metWorkKJ.value, compendiumWorkKJ];
		};
		// MET x 4.184 kJ/kg/h x 75 kg x 2 min; Arseneau, Mekary, Leger 2011: 12.4 and 11.7; the compendium: 7.8.
		const perMet = (4.184 * 75 * 2) / 60;
		expect(await workOf('sparring')).toEqual([
			expect.closeTo(12.4 * perMet, 9),
			expect.closeTo(7.8 * perMet, 9)
		]);
		expect(await workOf('pads')).toEqual([expect.closeTo(11.7 * perMet, 9), undefined]);
	});

	it('checks no run whose pace nobody knows', async () => {
		const { metWorkKJ } = (await boxed(known, 170, 120, 'running')).summary.costs;
		expect(metWorkKJ.value).toBeUndefined();
		expect(metWorkKJ.reason).toContain('pace is not known');
	});

	it('gives the load of Morton 1990 over the whole session', async () => {
		const { summary } = await boxed(known, 170, 120);
		const per = (bpm: number) => {
			const x = (bpm - 60) / 130;
			return x * 0.64 * Math.exp(1.92 * x);
		};
		expect(summary.costs.load.value).toBeCloseTo(2 * per(170) + (130 / 60) * per(120), 6);
	});

	it('says why where the athlete is not known well enough', async () => {
		const { liveBands, summary } = await boxed({ athleteId: 'athlete-2', name: 'Blue corner' }, 170, 120);
		expect(liveBands).toBeUndefined();
		expect(summary.costs.bands).toBeUndefined();
		expect(summary.costs.energy.reason).toContain('sex');
		expect(summary.costs.load.reason).toContain('sex');
		expect(summary.costs.metWorkKJ.reason).toContain('mass');
	});

	it('offers a clean higher rate as a maximum and takes nothing', async () => {
		const { summary } = await boxed({ ...known, measuredMaxBpm: 172 }, 175, 170);
		expect(summary.costs.higherMaxBpm).toBe(175);
	});
});
