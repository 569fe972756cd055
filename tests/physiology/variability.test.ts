import fc from '../by-chance';
import { mean, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { cleanIntervals, intervalsOf } from '$lib/physiology/rr-intervals';
import { meanRate, nn50, rmssd, sdnn, variabilityOf } from '$lib/physiology/variability';
import { numbersIn } from './builders';
import { hasRecordings, ofRecordings, recorded } from './open-recordings';
import { outside } from './outside';

const clean = (...stretches: number[][]) =>
	cleanIntervals(stretches.map((stretch) => stretch.map((rrMs) => ({ ms: 0, rrMs }))));

describe('the four intervals 800, 810, 815, 750', () => {
	// Definitions: Task Force, Circulation 1996;93:1043-65. Differences 10, 5, -65: squares 100 + 25 + 4225 =
	// 4350, a third is 1450. Mean 793.75, squared deviations 2668.75, a third is 889.5833 (by hand).
	const runs = [[800, 810, 815, 750]];

	it('give RMSSD, SDNN, NN50 and the mean rate as by hand', () => {
		expect(rmssd(runs)).toBeCloseTo(Math.sqrt(1450), 10);
		expect(rmssd(runs)).toBeCloseTo(38.0788655, 7);
		expect(sdnn(runs)).toBeCloseTo(29.8258836, 7);
		expect(nn50(runs)).toBe(1);
		expect(meanRate(runs)).toBeCloseTo(60_000 / 793.75, 10);
	});
});

describe('nn50', () => {
	it('counts strictly more than 50 ms, either way', () => {
		expect(nn50([[800, 850, 800]])).toBe(0);
		expect(nn50([[800, 851, 800]])).toBe(2);
	});
});

describe('meanRate', () => {
	it('is beats per time, not the mean of the rates', () => {
		// Two beats in 1.5 s are 80 a minute; the mean of 120 and 60 would be 90.
		expect(meanRate([[500, 1000]])).toBe(80);
	});
});

describe('measures without enough to measure', () => {
	it('are undefined, and no difference is taken between runs', () => {
		expect([rmssd([]), sdnn([]), nn50([]), meanRate([])]).toEqual(Array(4).fill(undefined));
		expect([rmssd([[800], [900]]), nn50([[800], [900]])]).toEqual([undefined, undefined]);
		expect(sdnn([[800], [900]])).toBeCloseTo(Math.sqrt(5000), 10);
		expect(sdnn([[800]])).toBeUndefined();
	});
});

describe('recorded series', () => {
	// Published with the recordings, which come with the Python packages `hrv` (BSD-3), `hrv-analysis` (GPL-3) and
	// `pyhrv` (BSD-3); all series as they are, without the artefact rule.
	const published = [
		{ name: 'rr-rest-910.txt', rmssd: 55.13744203126742, sdnn: 57.81817771970009, digits: 9 },
		{ name: 'rr-1000.txt', rmssd: 19.519400785039664, sdnn: 43.113074968427306, digits: 9 },
		{ name: 'rr-337.txt', rmssd: 101.30063401766522, sdnn: 95.69035398754954, digits: 9 },
		{ name: 'rr-4684.txt', rmssd: 60.523, sdnn: 85.357, digits: 3 }
	];

	const printed =
		'Results printed with openly licensed recordings (Python packages hrv, hrv-analysis, pyhrv)';
	const forRmssd = outside('rmssd', printed, 'ms');
	const forSdnn = outside('sdnn', printed, 'ms');
	const forMean = outside('mean-rate', printed, 'ms of the mean interval');

	for (const { name, digits, ...result } of published) {
		it.runIf(hasRecordings)(ofRecordings(`${name} has the published RMSSD and SDNN`), () => {
			const runs = [recorded(name)];
			const least = 10 ** -digits / 2;
			expect(forRmssd.take(rmssd(runs)!, result.rmssd)).toBeLessThan(least);
			expect(forSdnn.take(sdnn(runs)!, result.sdnn)).toBeLessThan(least);
		});
	}

	it.runIf(hasRecordings)(ofRecordings('two of them have the published NN50 and mean RR'), () => {
		const rest = [recorded('rr-rest-910.txt')];
		expect(nn50(rest)).toBe(321);
		expect(forMean.take(60_000 / meanRate(rest)!, 1058.7186813186813)).toBeLessThan(1e-9);
		const other = [recorded('rr-1000.txt')];
		expect(nn50(other)).toBe(24);
		expect(forMean.take(60_000 / meanRate(other)!, 718.248)).toBeLessThan(1e-9);
	});

	it.runIf(hasRecordings)(ofRecordings('come to what Methods says'), () => {
		for (const check of [forRmssd, forSdnn, forMean]) check.settle();
	});
});

describe('variabilityOf', () => {
	const series = (count: number) => Array.from({ length: count }, (_, i) => 900 + 20 * Math.sin(i));

	it('gives everything from 31 intervals on', () => {
		const measured = variabilityOf(clean(series(31)));
		expect(measured).toMatchObject({ intervalCount: 31, artefactShare: 0, reasons: [] });
		expect(measured.rmssdMs).toBe(rmssd([series(31)]));
		expect(measured.sdnnMs).toBe(sdnn([series(31)]));
		expect(measured.nn50).toBe(0);
		expect(measured.meanRrMs).toBeCloseTo(mean(series(31)), 9);
		expect(measured.meanRateBpm).toBeCloseTo(60_000 / mean(series(31)), 9);
	});

	it('says why there is nothing', () => {
		expect(variabilityOf(clean(series(30)))).toEqual({
			intervalCount: 30,
			artefactShare: 0,
			reasons: [
				'Only 30 usable RR intervals came, and 31 are needed. Wet the strap, pull it tighter and measure again.'
			]
		});
		expect(variabilityOf(clean()).reasons).toEqual(['No RR intervals came: this strap may not send them.']);
	});

	it('leaves RMSSD and NN50 out where too few are neighbours', () => {
		const measured = variabilityOf(clean(series(20), series(11)));
		expect(measured.rmssdMs).toBeUndefined();
		expect(measured.nn50).toBeUndefined();
		expect(measured.sdnnMs).toBeGreaterThan(0);
		expect(measured.reasons).toEqual([
			'Too few RR intervals are neighbours, so RMSSD and NN50 are left out.'
		]);
	});

	it('cautions over 5 % bad beats', () => {
		const at = (count: number) => series(100).map((rr, i) => (i % 7 === 3 && i < 7 * count ? 2 * rr : rr));
		expect(variabilityOf(clean(at(5))).reasons).toEqual([]);
		expect(variabilityOf(clean(at(6))).reasons).toEqual([
			'6 % of the beats were bad and put right: take the figures with care.'
		]);
	});
});

describe('on any series', () => {
	const anyRun = fc.array(fc.integer({ min: 240, max: 2000 }), { minLength: 2, maxLength: 60 });
	const anyRuns = fc.array(fc.array(fc.integer({ min: 240, max: 2000 }), { maxLength: 30 }), {
		maxLength: 6
	});

	it('never answers NaN, and an SDNN as simple-statistics', () => {
		fc.assert(
			fc.property(anyRuns, (runs) => {
				const answers = [rmssd(runs), sdnn(runs), nn50(runs), meanRate(runs)];
				expect(numbersIn(answers).every(Number.isFinite)).toBe(true);
				if (runs.flat().length > 1) expect(sdnn(runs)).toBeCloseTo(sampleStandardDeviation(runs.flat()), 8);
			})
		);
	});

	it('does not change its spread where every interval is longer by the same', () => {
		fc.assert(
			fc.property(anyRun, fc.integer({ min: 1, max: 500 }), (run, byMs) => {
				const longer = [run.map((rr) => rr + byMs)];
				expect(rmssd(longer)).toBeCloseTo(rmssd([run])!, 8);
				expect(sdnn(longer)).toBeCloseTo(sdnn([run])!, 8);
				expect(nn50(longer)).toBe(nn50([run]));
			})
		);
	});

	it('loses exactly the difference at the cut where a gap splits it', () => {
		fc.assert(
			fc.property(anyRun, fc.nat(), (run, at) => {
				const cut = 1 + (at % (run.length - 1));
				const split = [run.slice(0, cut), run.slice(cut)];
				const squares = (runs: number[][], pairs: number) => (rmssd(runs) ?? 0) ** 2 * pairs;
				const lost = (run[cut]! - run[cut - 1]!) ** 2;
				expect(squares(split, run.length - 2)).toBeCloseTo(squares([run], run.length - 1) - lost, 3);
				expect((nn50(split) ?? 0) + (lost > 2500 ? 1 : 0)).toBe(nn50([run]));
				expect(sdnn(split)).toBe(sdnn([run]));
			})
		);
	});

	it('never measures across a gap in the readings', () => {
		const readings = [1000, 2000, 3000, 4000].map((ms, i) => ({ ms, rrMs: [i < 2 ? 1000 : 1100] }));
		const whole = cleanIntervals(intervalsOf(readings)).runs;
		const split = cleanIntervals(intervalsOf(readings, [{ fromMs: 2500, toMs: 2600 }])).runs;
		expect([rmssd(whole), rmssd(split)]).toEqual([Math.sqrt(10_000 / 3), 0]);
	});
});
