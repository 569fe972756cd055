import { describe, expect, it } from 'vitest';
import { Recorder } from '$lib/session/recorder';
import type { AthleteSnapshot } from '$lib/session/record';
import { summaryOf } from '$lib/session/summary';
import { manualClock } from '$lib/time/manual-clock';
import { makeSink, makeStart, makeStrap } from './builders';

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
async function boxed(athlete: AthleteSnapshot, workBpm: number, restBpm: number) {
	const clock = manualClock();
	const red = makeStrap();
	const recorder = new Recorder({
		start: makeStart({
			corners: [{ recordId: 'record-1', athlete, strapName: 'Red strap', practice: false }]
		}),
		clock,
		originMs: 0,
		writeClock: clock,
		sink: makeSink().sink
	});
	recorder.attach(0, red.strap);
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
		expect(energy.highKJ).toBeCloseTo(regressionKJ, 6);
		expect(energy.lowKJ).toBeCloseTo(0.65 * regressionKJ, 6);
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
