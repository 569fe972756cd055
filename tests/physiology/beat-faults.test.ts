import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { beatFaultsOf } from '$lib/physiology/beat-faults';
import { cleanIntervals } from '$lib/physiology/rr-intervals';
import { rmssd } from '$lib/physiology/variability';
import reference from '../fixtures/beat-faults.json';
import { chanceFrom } from './builders';
import { hasRecordings, ofRecordings, recorded } from './open-recordings';
import { outside } from './outside';

const corrected = (rrMs: readonly number[]) => cleanIntervals([rrMs.map((rr) => ({ ms: 0, rrMs: rr }))]);
const rmssdOf = (rrMs: readonly number[]) => rmssd(corrected(rrMs).runs)!;

interface PutIn {
	kind: string;
	at: number;
	ms: number;
}
/** The series with faults put in; from the back, so that the places stay those of the series as it was. */
function withFaults(rrMs: readonly number[], faults: readonly PutIn[]): number[] {
	const spoilt = [...rrMs];
	for (const { kind, at, ms } of faults.toSorted((a, b) => b.at - a.at)) {
		const [rr, next] = [spoilt[at]!, spoilt[at + 1]!];
		if (kind === 'early') spoilt.splice(at, 2, rr - ms, next + ms);
		else if (kind === 'missed') spoilt.splice(at, 2, rr + next);
		else spoilt.splice(at, 1, ms, rr - ms);
	}
	return spoilt;
}

interface Case {
	recording: string;
	from: number;
	count: number;
	injected: PutIn[];
	faults: Partial<Record<string, number[]>>;
}
const cases: Case[] = reference.cases;
const pieceOf = ({ recording, from, count }: Case) => recorded(recording).slice(from, from + count);

describe('faults put into recordings', () => {
	// How the reference was made stands in the file itself. The few beats that differ lie at the ends, where the
	// reference judges nothing, and where our own bounds on the thresholds count.
	const named = outside(
		'artefacts',
		'NeuroKit2 signal_fixpeaks (quartiles of signed differences): bad beats it names otherwise in one piece of a recording',
		'beats'
	);
	it.runIf(hasRecordings)(ofRecordings('are named as by NeuroKit2, but for a beat or two in a piece'), () => {
		let apart = 0;
		for (const each of cases) {
			const expected = new Map(
				Object.entries(each.faults).flatMap(([kind, places]) => places!.map((at) => [at, kind] as const))
			);
			const found = beatFaultsOf(withFaults(pieceOf(each), each.injected));
			const differing = found.filter((fault, at) => fault !== expected.get(at)).length;
			apart += named.take(differing, 0);
		}
		expect(cases).toHaveLength(39);
		expect(apart).toBeLessThanOrEqual(6);
	});

	const restored = outside(
		'rmssd',
		'Recordings with faults put into 2 to 5 % of their beats: RMSSD after the correction against RMSSD of the same piece, corrected, without them',
		'%'
	);
	it.runIf(hasRecordings)(
		ofRecordings('are put right: RMSSD comes back, where uncorrected it doubles or worse'),
		() => {
			for (const each of cases.filter(({ injected }) => injected.length > 0)) {
				const whole = pieceOf(each);
				const spoilt = withFaults(whole, each.injected);
				const truth = rmssdOf(whole);
				expect(rmssd([spoilt])! / truth).toBeGreaterThan(1.6);
				expect(restored.take((100 * rmssdOf(spoilt)) / truth, 100)).toBeLessThan(20);
			}
		}
	);

	it.runIf(hasRecordings)(ofRecordings('come to what Methods says'), () => {
		named.settle();
		restored.settle();
	});
});

describe('strong breathing', () => {
	it.runIf(hasRecordings)(ofRecordings('of a recording stays in: RMSSD 101.3 as published with it'), () => {
		// Published with the recording in the Python package `pyhrv` (BSD-3): RMSSD of all its intervals.
		expect(Math.abs(rmssdOf(recorded('rr-337.txt')) / 101.30063401766522 - 1)).toBeLessThan(0.01);
	});

	// A sine of amplitude A sampled every 1/p of its period has RMSSD = A sqrt 2 sin(pi / p) (by hand).
	it.each([
		[200, 1000, 5],
		[225, 1000, 5],
		[150, 1000, 4],
		[200, 900, 3],
		[300, 1100, 6.3],
		[60, 500, 7],
		[260, 950, 4.4]
	])('of %i ms about %i ms, a breath in %d beats, stays in', (amplitude, middle, beats) => {
		const chance = chanceFrom(5);
		const breathing = Array.from({ length: 300 }, (_, i) => {
			const wave = amplitude * Math.sin((2 * Math.PI * i) / beats + 0.3);
			return middle + wave + 5 * chance.normal();
		});
		const expected = Math.hypot(amplitude * Math.SQRT2 * Math.sin(Math.PI / beats), 5 * Math.SQRT2);
		expect(Math.abs(rmssdOf(breathing) / expected - 1)).toBeLessThan(0.02);
		expect(corrected(breathing).artefactShare).toBeLessThan(0.01);
	});

	it('does not hide a missed or an extra beat', () => {
		const breathing = Array.from({ length: 200 }, (_, i) => 1000 + 150 * Math.sin((2 * Math.PI * i) / 5.3));
		const spoilt = withFaults(breathing, [
			{ kind: 'missed', at: 60, ms: 0 },
			{ kind: 'extra', at: 120, ms: 300 }
		]);
		expect(beatFaultsOf(spoilt)[60]).toBeDefined();
		expect(beatFaultsOf(spoilt)[119]).toBeDefined();
		expect(Math.abs(rmssdOf(spoilt) / rmssd([breathing])! - 1)).toBeLessThan(0.05);
		expect(rmssd([spoilt])! / rmssd([breathing])!).toBeGreaterThan(1.3);
	});
});

describe('beatFaultsOf', () => {
	it('finds hardly any fault in noise, whose 99.95 % lie within the threshold', () => {
		const chance = chanceFrom(11);
		const noise = Array.from({ length: 5000 }, () => 900 + 30 * chance.normal());
		expect(beatFaultsOf(noise).filter(Boolean).length / 5000).toBeLessThan(0.003);
	});

	it("takes a strap's own steps of 1/1024 s for no fault", () => {
		const steps = Array.from({ length: 200 }, (_, i) => (1000 * (341 + (i % 17 === 0 ? 1 : 0))) / 1024);
		expect(beatFaultsOf(steps).some(Boolean)).toBe(false);
	});

	it('still names beats that are missed where a loose strap spoils a third of them', () => {
		const loose = Array.from({ length: 200 }, (_, i) => (i % 6 === 2 ? 1600 : i % 6 === 5 ? 300 : 800));
		const faults = beatFaultsOf(loose);
		expect(faults.filter((fault, i) => fault && i % 3 === 2).length).toBeGreaterThan(60);
	});

	it('answers for every series, however short', () => {
		fc.assert(
			fc.property(fc.array(fc.integer({ min: 1, max: 70_000 }), { maxLength: 120 }), (series) => {
				const faults = beatFaultsOf(series);
				const known = [undefined, 'ectopic', 'missed', 'extra', 'long or short'];
				expect(faults).toHaveLength(series.length);
				expect(faults.every((fault) => known.includes(fault))).toBe(true);
			})
		);
	});
});
