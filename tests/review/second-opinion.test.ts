import { describe, expect, it } from 'vitest';
import { practiceStrap } from '$lib/gatt/practice-strap';
import { phaseAt, timelineOf } from '$lib/rounds/timeline';
import { packReadings, type Reading } from '$lib/record/columns';
import { thresholdRunPlan } from '$lib/rounds/guided-plans';
import { practiceEffort } from '$lib/session/practice-effort';
import type { CornerEvent } from '$lib/record/head';
import { rrGapsOf, secondOpinionOf } from '$lib/review/second-opinion';
import { manualClock } from '$lib/time/manual-clock';
import { makeHead } from '../store/builders';

const plan = thresholdRunPlan(120);
const phases = timelineOf(plan);
const runMs = phases.find(({ kind }) => kind === 'work')!.startMs;

/** The packets of a practice athlete through the whole guided run. */
async function runReadings(seed: number): Promise<Reading[]> {
	const clock = manualClock();
	const strap = practiceStrap({
		clock,
		seed,
		effortAt: (ms) => practiceEffort(phaseAt(phases, ms), ms, plan.kind)
	});
	const readings: Reading[] = [];
	strap.onReading(({ ms, measurement: { bpm, contact, rrMs } }) => readings.push({ ms, bpm, contact, rrMs }));
	await strap.connect();
	clock.advanceTo(phases.at(-1)!.endMs);
	return readings;
}

const opinionOf = (readings: Reading[], events: CornerEvent[] = []) =>
	secondOpinionOf({ head: makeHead({ plan, amendments: [], events }), body: packReadings(readings) }, phases);

describe('the second opinion on a practice run', () => {
	it.each([1, 3, 8, 21])('finds both rates, in their order, inside the run (athlete %i)', async (seed) => {
		const { aerobicBpm, anaerobicBpm, artefactShare } = opinionOf(await runReadings(seed))!;
		// Rogers et al., Front Physiol 2021;11:596567 and J Funct Morphol Kinesiol 2021;6:38 (from memory): 0.75 at about
		// four fifths, 0.5 at about nine tenths of the maximum; here the maximum is 192.
		expect(aerobicBpm! / 192).toBeGreaterThan(0.76);
		expect(aerobicBpm! / 192).toBeLessThan(0.88);
		expect(anaerobicBpm! / 192).toBeGreaterThan(0.85);
		expect(anaerobicBpm! / 192).toBeLessThan(0.95);
		expect(anaerobicBpm!).toBeGreaterThan(aerobicBpm!);
		expect(artefactShare).toBe(0);
	});

	it('is withheld with the share where too many beats are bad', async () => {
		let beat = 0;
		const torn = (await runReadings(1)).map((reading) => ({
			...reading,
			rrMs: reading.rrMs.map((ms) => (++beat % 12 === 0 ? 2 * ms : ms))
		}));
		const { aerobicBpm, anaerobicBpm, artefactShare, reasons } = opinionOf(torn)!;
		expect([aerobicBpm, anaerobicBpm]).toEqual([undefined, undefined]);
		expect(artefactShare).toBeGreaterThan(0.05);
		expect(reasons.join()).toMatch(/% of the beats were bad/);
	});

	it('says so where the strap sends no intervals', async () => {
		const without = (await runReadings(1)).map((reading) => ({ ...reading, rrMs: [] }));
		expect(opinionOf(without)!.reasons).toEqual(['No RR intervals came: this strap may not send them.']);
	});

	it('never joins intervals across a loss of signal: what is left in pieces is too short to read', async () => {
		const readings = await runReadings(1);
		// Lost for a moment in every two minutes of the run: no window of two unbroken minutes is left.
		const events = Array.from({ length: 11 }, (_, i): CornerEvent[] => [
			{ kind: 'signal lost', ms: runMs + i * 110_000 },
			{ kind: 'signal back', ms: runMs + i * 110_000 + 900 }
		]).flat();
		expect(opinionOf(readings)!.anaerobicBpm).toBeDefined();
		expect(opinionOf(readings, events)!.reasons.join()).toMatch(
			/Of windows of two unbroken minutes \d+ could be read/
		);
	});
});

describe('where no two intervals are neighbours', () => {
	const gapsOf = (events: CornerEvent[], pauses: { fromMs: number; toMs: number }[] = []) =>
		rrGapsOf(events, { pauses });

	it('is from a loss of signal until it is back, whatever happens between', () => {
		expect(
			gapsOf([
				{ kind: 'marker', ms: 500 },
				{ kind: 'signal lost', ms: 1000 },
				{ kind: 'marker', ms: 1500 },
				{ kind: 'malformed packet', ms: 1700 },
				{ kind: 'signal back', ms: 2000 },
				{ kind: 'marker', ms: 2500 },
				{ kind: 'signal lost', ms: 3000 },
				{ kind: 'signal back', ms: 3500 }
			])
		).toEqual([
			{ fromMs: 1000, toMs: 2000 },
			{ fromMs: 3000, toMs: 3500 }
		]);
	});

	it('is to the end where the signal never came back, and nowhere where it was never lost', () => {
		expect(gapsOf([{ kind: 'signal lost', ms: 1000 }])).toEqual([{ fromMs: 1000, toMs: Infinity }]);
		expect(gapsOf([{ kind: 'signal back', ms: 1000 }])).toEqual([]);
	});

	it('is in every pause as well', () => {
		const pause = { fromMs: 5000, toMs: 6000 };
		expect(gapsOf([], [pause])).toEqual([pause]);
		expect(gapsOf([{ kind: 'signal lost', ms: 1000 }], [pause])).toEqual([
			{ fromMs: 1000, toMs: Infinity },
			pause
		]);
	});
});

describe('a run that never was', () => {
	it('has no second opinion', () => {
		const record = { head: makeHead({ plan, amendments: [], events: [] }), body: packReadings([]) };
		expect(secondOpinionOf(record, [])).toBeUndefined();
		expect(
			secondOpinionOf(
				record,
				phases.filter(({ kind }) => kind !== 'work')
			)
		).toBeUndefined();
	});
});
