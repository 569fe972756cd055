import { describe, expect, it } from 'vitest';
import { allMethods } from '$lib/physiology/all-methods';
import { bandOf } from '$lib/physiology/intensity';
import { banisterLoad } from '$lib/physiology/load';
import { higherMaximum } from '$lib/physiology/max-heart-rate';
import { overThreshold, thresholdFromRun } from '$lib/physiology/threshold';
import { doDropsDiffer, typicalErrorOf } from '$lib/physiology/drop-error';
import { hardFrom, measureRest, peakOf } from '$lib/physiology/recovery';
import { fitRecovery } from '$lib/physiology/recovery-fit';
import { beliefsOf } from '$lib/physiology/drop-beliefs';
import { forecastDrop60 } from '$lib/physiology/forecast';
import { restCurves } from '$lib/physiology/rest-curves';
import { bandsByMaximum, bandsByReserve } from '$lib/physiology/reserve';
import { restingRate } from '$lib/physiology/resting';
import {
	mifflinKcalPerDay,
	restingExpenditureOf,
	schofieldKcalPerDay,
	tenHaafKcalPerDay
} from '$lib/physiology/resting-expenditure';
import { cleanIntervals, type Interval } from '$lib/physiology/rr-intervals';
import { unusualIn } from '$lib/physiology/unusual';
import { gridAround } from './builders';

// A formula on the Methods screen is prose with numbers. Each test reads the numbers out of it and holds the code to
// them, so that neither changes alone.
const formula = (id: string) => allMethods.find((each) => each.id === id)!.formula;
/** The numbers that a pattern finds in the formula of an entry. */
function numbersIn(id: string, pattern: RegExp): number[] {
	const found = pattern.exec(formula(id));
	if (!found) throw new Error(`"${formula(id)}" has no ${pattern}.`);
	return found.slice(1).map(Number);
}

const level = 170;
const bellS = 20;
/** A level rest in which one second is ten beats lower. */
const dipAt = (second: number) => gridAround(bellS, 61, (s) => (s === second ? level - 10 : level));
const secondsThatMove = (measure: (seconds: Float64Array) => number | undefined) => {
	const still = measure(gridAround(bellS, 61, () => level));
	return Array.from({ length: bellS + 61 }, (_, i) => i - bellS).filter((s) => measure(dipAt(s)) !== still);
};
const range = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, i) => from + i);
const rest = (seconds: Float64Array) => measureRest(seconds, bellS, bellS + 61);

describe('the windows of a rest', () => {
	it('are the seconds on the screen, and no others', () => {
		const [before] = numbersIn('bell-rate', /mean of the (\d+) seconds before/);
		expect(secondsThatMove((seconds) => rest(seconds).bellBpm)).toEqual(range(-before!, -1));
		const [from60, to60] = numbersIn('drop-60', /rate at 60 .* seconds (\d+) to (\d+)/);
		expect(secondsThatMove((seconds) => rest(seconds).rate60)).toEqual(range(from60!, to60!));
		const [from30, to30] = numbersIn('drop-60', /drop at 30: .* seconds (\d+) to (\d+)/);
		expect(secondsThatMove((seconds) => rest(seconds).drop30)).toEqual([
			...range(-before!, -1),
			...range(from30!, to30!)
		]);
		const [last] = numbersIn('drop-60', /last (\d+) s of the rest/);
		expect(secondsThatMove((seconds) => rest(seconds).restDrop)).toEqual([
			...range(-before!, -1),
			...range(61 - last!, 60)
		]);
	});

	it('look for the peak where the screen says', () => {
		const [before, after] = numbersIn('peak', /from (\d+) s before the bell to (\d+) s after/);
		const found = range(-20, 60).filter((s) => {
			const seconds = gridAround(bellS, 61, (each) => (each === s ? 180 : level));
			return peakOf(seconds, bellS, bellS + 61)?.bpm === 180;
		});
		expect(found).toEqual(range(-before!, after! - 1));
	});
});

describe('how a drop is judged', () => {
	it('goes by the typical error and the multiple of it', () => {
		const [share] = numbersIn('typical-error', /= ([\d.]+) × drop/);
		const [errors] = numbersIn('typical-error', /more than ([\d.]+) typical errors/);
		expect(typicalErrorOf(55)).toBeCloseTo(share! * 55, 12);
		// Two drops about a mean of 50, just more and just less apart than that.
		const apart = errors! * share! * 50;
		expect(doDropsDiffer(50 - (apart + 0.1) / 2, 50 + (apart + 0.1) / 2)).toBe(true);
		expect(doDropsDiffer(50 - (apart - 0.1) / 2, 50 + (apart - 0.1) / 2)).toBe(false);
	});

	it('starts from the hardness on the screen', () => {
		const [ofThreshold, ofMaximum, ofAge] = numbersIn(
			'band',
			/(\d+) % of the threshold.*, (\d+) % of the measured maximum.*, (\d+) % of/
		);
		const [atBirth, perYear, sd] = numbersIn('band', /\(([\d.]+) - ([\d.]+) age \+ (\d+)\)/);
		expect(hardFrom({ thresholdBpm: 163 })).toBeCloseTo((ofThreshold! / 100) * 163, 9);
		expect(hardFrom({ measuredMaxBpm: 191 })).toBeCloseTo((ofMaximum! / 100) * 191, 9);
		expect(hardFrom({ ageYears: 33 })).toBeCloseTo((ofAge! / 100) * (atBirth! - perYear! * 33 + sd!), 9);
	});

	it('calls unusual what the screen calls so', () => {
		const [fall] = numbersIn('unusual', /drop at 60 of (\d+) beats or fewer/);
		const falls = (drop60: number) =>
			unusualIn({ rests: [{ drop60, verdict: 'under the band' }], ageYears: 40 }).length;
		expect([falls(fall!), falls(fall! + 1)]).toEqual([1, 0]);
		const [atBirth, perYear, above, aboveMeasured] = numbersIn(
			'unusual',
			/more than ([\d.]+) - ([\d.]+) age \+ (\d+) bpm, or more than (\d+) bpm above/
		);
		const high = (peakBpm: number, facts: { ageYears?: number; measuredMaxBpm?: number }) =>
			unusualIn({ rests: [], peakBpm, ...facts }).length;
		const edge = atBirth! - perYear! * 40 + above!;
		expect([high(edge, { ageYears: 40 }), high(edge + 0.5, { ageYears: 40 })]).toEqual([0, 1]);
		const measured = 190 + aboveMeasured!;
		expect([high(measured, { measuredMaxBpm: 190 }), high(measured + 0.5, { measuredMaxBpm: 190 })]).toEqual([
			0, 1
		]);
	});
});

describe('curves', () => {
	it('look for tau within the bounds on the screen', () => {
		const [low, high] = numbersIn('recovery-curve', /tau within (\d+) to (\d+) s/);
		const fitted = (tau: number) =>
			fitRecovery(
				Float64Array.from({ length: 600 }, (_, t) => 100 + 60 * Math.exp(-t / tau)),
				0,
				600
			)?.tauS;
		expect(fitted(low! + 1)).toBeCloseTo(low! + 1, 1);
		expect(fitted(low! - 1)).toBeUndefined();
		expect(fitted(high! - 20)).toBeCloseTo(high! - 20, -1);
		expect(fitted(high! + 50)).toBeUndefined();
	});

	it('forecast by the curves on the screen', () => {
		const [count, earliestS, latestS] = numbersIn(
			'forecast',
			/each of (\d+) curves: flat for (\d+) to (\d+) s/
		);
		expect(restCurves()).toHaveLength(count!);
		// In the middle of its first moving second a curve has begun to fall; smoothing lets it begin up to 3 s earlier.
		const begins = restCurves().map(({ doneAt }) => doneAt.findIndex((done) => done > 0));
		expect(Math.min(...begins)).toBe(earliestS);
		expect(Math.max(...begins)).toBeGreaterThan(latestS! - 3);
		expect(Math.max(...begins)).toBeLessThanOrEqual(latestS!);
	});

	it('forecast by what is believed of a drop before its first reading', () => {
		const [mean, sd, share] = numbersIn('forecast', /be (\d+) ± (\d+) beats.* mean ± (\d+) %/);
		const [anybody] = beliefsOf({}, level);
		expect([anybody!.mean, Math.sqrt(anybody!.variance)]).toEqual([mean, sd]);
		const many = Array.from({ length: 1000 }, () => ({ bellBpm: level, drop60: 50 }));
		const [own] = beliefsOf({ earlier: many }, level);
		expect(own!.mean).toBeCloseTo(50, 1);
		expect(Math.sqrt(own!.variance)).toBeCloseTo((share! / 100) * 50, 1);
	});

	it('forecast only while the range is narrow enough', () => {
		const [widest] = numbersIn('forecast', /narrower than (\d+) beats/);
		// The same fall, later and later after the bell: shown up to that width and never beyond it.
		const widths = range(0, 80).flatMap((quarters) => {
			const falling = (s: number) => Math.max(0, s - quarters / 4);
			const seconds = gridAround(bellS, 60, (s) => 120 + 50 * Math.exp(-falling(s) / 45));
			const shown = forecastDrop60(seconds, bellS, bellS + 20);
			return shown ? [shown.high - shown.low] : [];
		});
		expect(Math.max(...widths)).toBeLessThan(widest!);
		expect(Math.max(...widths)).toBeGreaterThan(widest! - 2);
		expect(widths.length).toBeLessThan(81);
	});
});

describe('the threshold', () => {
	it('takes off what the screen says', () => {
		const [minutes, share] = numbersIn(
			'threshold-run',
			/mean of the (\d+) minutes\n.*= ([\d.]+) × that mean/
		);
		const run = new Float64Array(60 * minutes!).fill(168);
		expect(thresholdFromRun(run, 0).bpm).toBeCloseTo(share! * 168, 9);
	});

	it('counts spells and the closing burst as the screen says', () => {
		const [spellS] = numbersIn('over-threshold', /spells of at least (\d+) s/);
		const [burstS] = numbersIn('over-threshold', /in the last (\d+) s/);
		const round = [{ startS: 0, endS: 180, plannedEndS: 180 }];
		const over = (from: number, to: number) =>
			overThreshold(
				Float64Array.from({ length: 180 }, (_, s) => (s >= from && s < to ? 171 : 165)),
				round,
				170
			)[0]!;
		expect(over(50, 50 + spellS!)).toMatchObject({ overS: spellS, spells: 1 });
		expect(over(50, 49 + spellS!)).toMatchObject({ overS: 0, spells: 0 });
		expect(over(150, 180)).toMatchObject({ overS: 30 - burstS!, burstOverS: burstS });
	});
});

describe('intensity and load', () => {
	it('change names at the shares on the screen', () => {
		const edges = [...formula('intensity').matchAll(/under (\d+) %/g)].map(([, share]) => Number(share));
		expect(edges).toEqual([80, 90]);
		const names = edges.map((share) => [bandOf(2 * share - 0.1, 200), bandOf(2 * share, 200)]);
		expect(names).toEqual([
			['easy', 'working'],
			['working', 'near threshold']
		]);
	});

	it('stand beside the reference bands on the screen', () => {
		const [byReserve, byMaximum] = formula('reference-bands')
			.split('\n')
			.map((line) => [...line.matchAll(/\d+/g)].map(Number));
		const ends = (bands: { lowBpm: number; highBpm: number }[] | undefined) =>
			bands!.flatMap(({ lowBpm, highBpm }) => [lowBpm, highBpm]).slice(0, 5);
		// A reserve of 100 beats and a maximum of 200 make the shares readable off the rates.
		expect(ends(bandsByReserve(50, 150))).toEqual(byReserve!.map((share) => 50 + share));
		expect(ends(bandsByMaximum(200))).toEqual(byMaximum!.map((share) => 2 * share));
	});

	it("sum Banister's impulse with the constants on the screen", () => {
		const constants = numbersIn(
			'load',
			/([\d.]+) × exp\(([\d.]+) × share\) for men, share × ([\d.]+) × exp\(([\d.]+) × share\)/
		);
		const minute = new Float64Array(60).fill(125);
		(['male', 'female'] as const).forEach((sex, i) => {
			const [factor, exponent] = constants.slice(2 * i) as [number, number];
			const load = banisterLoad(minute, { sex, restBpm: 50, maxBpm: 200 }).value?.load;
			expect(load).toBeCloseTo(0.5 * factor * Math.exp(exponent * 0.5), 9);
		});
	});

	it('offer a higher maximum by the rule on the screen', () => {
		const [meanS, stepBpm] = numbersIn('higher-maximum', /mean of (\d+) s.* more than (\d+) bpm from/);
		const [besideS] = numbersIn('higher-maximum', /the (\d+) s on either side/);
		const clean = (lengthS: number) => higherMaximum(new Float64Array(lengthS).fill(200), 190);
		expect([clean(meanS! + 2 * besideS!), clean(meanS! + 2 * besideS! - 1)]).toEqual([200, undefined]);
		const stepped = (step: number) =>
			higherMaximum(
				Float64Array.from({ length: 15 }, (_, i) => (i === 7 ? 195 + step : 195)),
				190
			);
		expect(stepped(stepBpm!)).toBeDefined();
		expect(stepped(stepBpm! + 1)).toBeUndefined();
	});
});

describe('at rest', () => {
	it('takes the window, the readings and the seconds on the screen', () => {
		const [windowS, least, fromS, toS] = numbersIn(
			'resting-rate',
			/lowest mean of (\d+) s, with (\d+) readings or more, in seconds (\d+) to (\d+)/
		);
		// Lower only in one window of that length: at the first moment allowed it counts, a second earlier not all of it.
		const at = (startS: number, readings = windowS!) =>
			restingRate(
				Float64Array.from({ length: toS! }, (_, s) => {
					if (s < startS || s >= startS + windowS!) return 70;
					return s - startS < readings ? 50 : NaN;
				}),
				0
			).value?.bpm;
		expect(at(fromS!)).toBe(50);
		expect(at(fromS! - 1)).toBeGreaterThan(50);
		expect(at(120, least!)).toBe(50);
		expect(at(120, least! - 1)).toBeGreaterThan(50);
	});

	it('finds the bad beats that the screen calls bad, and fills in no more than it says', () => {
		const [least, greatest] = numbersIn('artefacts', /at least (\d+) %, at most (\d+) % of the median/);
		const [low, high] = numbersIn('artefacts', /outside (\d+) to (\d+) ms/);
		expect(formula('artefacts')).toContain('at most three at once');
		const clean = (rrMs: number[]) =>
			cleanIntervals([rrMs.map((each, i): Interval => ({ ms: i, rrMs: each }))]);
		const isBad = (...rrMs: number[]) => clean(rrMs).artefactShare! > 0;
		expect([isBad(low!), isBad(low! - 1), isBad(high!), isBad(high! + 1)]).toEqual([
			false,
			true,
			false,
			true
		]);
		// In a series without any change the least limit decides, in one of wide swings the greatest.
		const level = (middle: number) => new Array(41).fill(1000).with(20, middle);
		expect([isBad(...level(1000 + 10 * least!)), isBad(...level(1001 + 10 * least!))]).toEqual([false, true]);
		const swings = (ms: number) => Array.from({ length: 42 }, (_, i) => 1000 + ((i % 3) - 1) * (ms / 2));
		expect([isBad(...swings(10 * greatest!)), isBad(...swings(10 * greatest! + 2))]).toEqual([false, true]);
		expect([clean(level(3000)), clean(level(4000))].map(({ runs }) => runs.length)).toEqual([1, 2]);
	});

	it('spends by the equations on the screen', () => {
		const [kg, cm, years, men, women] = numbersIn(
			'resting-expenditure',
			/([\d.]+) mass \(kg\) \+ ([\d.]+) height \(cm\) - ([\d.]+) age \+ ([\d.]+) \(men\) or - ([\d.]+) \(women\)/
		) as [number, number, number, number, number];
		const common = kg * 71 + cm * 177 - years * 28;
		expect(mifflinKcalPerDay('male', 71, 177, 28)).toBeCloseTo(common + men, 9);
		expect(mifflinKcalPerDay('female', 71, 177, 28)).toBeCloseTo(common - women, 9);
		const [perKg, base] = numbersIn('resting-expenditure', /([\d.]+) fat-free mass \(kg\) \+ ([\d.]+)/);
		expect(tenHaafKcalPerDay(58)).toBeCloseTo(base! + perKg! * 58, 9);
		const [bare] = numbersIn('resting-expenditure', /without height or sex either: (\d+) mass/);
		expect(restingExpenditureOf({ weightKg: 71, ageYears: 28 }).value?.kcalPerDay).toBeCloseTo(bare! * 71, 9);
		const [boyKg, boy, girlKg, girl] = numbersIn(
			'resting-expenditure',
			/boys ([\d.]+) mass \+ ([\d.]+), girls ([\d.]+) mass \+ ([\d.]+)/
		);
		expect(schofieldKcalPerDay('male', 51)).toBeCloseTo(boyKg! * 51 + boy!, 9);
		expect(schofieldKcalPerDay('female', 51)).toBeCloseTo(girlKg! * 51 + girl!, 9);
	});
});
