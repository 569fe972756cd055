import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { forecastDrop60, type Drop60Forecast } from '$lib/physiology/forecast';
import type { EarlierRest, ForecastPrior } from '$lib/physiology/drop-beliefs';
import type { Seconds } from '$lib/physiology/grid';
import {
	forecastFound,
	forecastSeconds,
	type ForecastFound
} from '$lib/physiology/method-entries/forecast-found';
import { measureRest } from '$lib/physiology/recovery';
import { anyGrid, chanceFrom, delayed, gridAround, numbersIn, withGaps } from './builders';
import { outside } from './outside';
import { areRecordingsThere, recordedIds, recordedRest, recordedTitle } from './recorded-recoveries';
import { again, families, simulatedBellS as bellS, simulatedHeart, simulatedRest } from './simulated-rests';

const widestShown = 24;
const widthOf = ({ low, high }: Drop60Forecast) => high - low;
const isShown = (forecast: Drop60Forecast) => widthOf(forecast) < widestShown;
const holds = ({ low, high }: Drop60Forecast, drop60: number) => low <= drop60 && drop60 <= high;

function medianOf(values: readonly number[]): number {
	const sorted = [...values].sort((a, b) => a - b);
	return sorted[Math.floor(sorted.length / 2)]!;
}

interface Rest {
	grid: Seconds;
	drop60: number;
	earlier?: EarlierRest[];
	otherSessions?: EarlierRest[];
}

/** Those whose drop could be measured at all. */
const restsOf = (grids: Seconds[]): Rest[] =>
	grids.flatMap((grid) => {
		const { drop60 } = measureRest(grid, bellS, bellS + 60);
		return drop60 === undefined ? [] : { grid, drop60 };
	});

const forecastsAt = (rests: readonly Rest[], second: number) =>
	rests.flatMap(({ grid, drop60, ...prior }) => {
		const forecast = forecastDrop60(grid, bellS, bellS + second, prior, Infinity);
		return forecast ? { forecast, drop60 } : [];
	});

function foundIn(family: string, rests: readonly Rest[]): ForecastFound {
	const found = forecastSeconds.map((second) => {
		const all = forecastsAt(rests, second);
		const shown = all.filter(({ forecast }) => isShown(forecast));
		return {
			shown: shown.length,
			held: shown.filter(({ forecast, drop60 }) => holds(forecast, drop60)).length,
			error: medianOf(all.map(({ forecast, drop60 }) => Math.abs(forecast.drop60 - drop60)))
		};
	});
	return {
		family,
		rests: rests.length,
		shown: found.map(({ shown }) => shown),
		held: found.map(({ held }) => held),
		medianErrorBpm: found.map(({ error }) => Math.round(error * 10) / 10)
	};
}

const simulated = families.map((family, i) => {
	const chance = chanceFrom(2026 + i);
	const grids = Array.from({ length: 200 }, () => simulatedRest(simulatedHeart(family, chance), chance));
	return { family: family as string, rests: restsOf(grids) };
});
const recorded = areRecordingsThere
	? [{ family: 'recorded recoveries', rests: restsOf(recordedIds.map((id) => recordedRest(id, bellS, 61))) }]
	: [];
const all = [...simulated, ...recorded];
const found = all.map(({ family, rests }) => foundIn(family, rests));

describe('the 80 % range of a forecast', () => {
	// The recorded recoveries are of 21 people (data set `cardio` of the CRAN package `doremi`); the simulated rests
	// have other kinetics, another strap and other noise than those on which the constants were chosen.
	it.each(found)('holds three drops of four or more: $family', ({ held, shown }) => {
		for (let i = 0; i < held.length; i++) expect(held[i]! / shown[i]!).toBeGreaterThanOrEqual(0.75);
	});

	it('holds nine of ten at most, so that it is no wider than it need be', () => {
		const sum = (counts: readonly number[]) => counts.reduce((a, b) => a + b, 0);
		const held = sum(found.map((each) => sum(each.held)));
		const shown = sum(found.map((each) => sum(each.shown)));
		expect(held / shown).toBeLessThanOrEqual(0.9);
	});

	it.each(all)('is narrow enough to be shown by second 40 in nine rests of ten: $family', ({ rests }) => {
		const shown = rests.filter(({ grid }) => forecastDrop60(grid, bellS, bellS + 40));
		expect(shown.length / rests.length).toBeGreaterThanOrEqual(0.9);
	});

	it.runIf(areRecordingsThere)(recordedTitle('is what Methods says was found'), () => {
		expect(forecastFound).toEqual(found);
	});
});

describe('the middle of a forecast', () => {
	it.runIf(areRecordingsThere)(recordedTitle('comes near to the drop of every person by second 45'), () => {
		const drops = outside(
			'forecast',
			'Recoveries of 21 people on a cycle ergometer (dataset cardio of the R package doremi): drop at 60 as forecast at second 45',
			'beats'
		);
		for (const { forecast, drop60 } of forecastsAt(recorded[0]!.rests, 45))
			expect(drops.take(forecast.drop60, drop60)).toBeLessThan(10);
		drops.settle();
	});

	it('is as near as that of one exponential with a tau of 60 s was, and nearer where that was wrong', () => {
		// Medians of the forecast before this one, on single exponentials; on fast recoverers it was 10 off at second 30.
		const [one] = found;
		const [, , fast] = found;
		expect(one!.medianErrorBpm[1]).toBeLessThan(3);
		expect(one!.medianErrorBpm[2]).toBeLessThanOrEqual(1.6);
		expect(fast!.medianErrorBpm[1]).toBeLessThan(5);
	});
});

describe('a forecast with earlier rests of the athlete', () => {
	const sessions = families.flatMap((family, i) => {
		const chance = chanceFrom(77 + i);
		return Array.from({ length: 40 }, () => {
			const heart = simulatedHeart(family, chance);
			const earlier = [1, 2, 3].map(() =>
				measureRest(simulatedRest(again(heart, chance), chance), bellS, bellS + 60)
			);
			return restsOf([simulatedRest(again(heart, chance), chance)]).map((rest) => ({ ...rest, earlier }));
		}).flat();
	});
	const strangers = sessions.map((rest) => ({ ...rest, earlier: undefined }));

	it('is nearer and narrower at second 20, and holds as many', () => {
		const learned = forecastsAt(sessions, 20);
		const unlearned = forecastsAt(strangers, 20);
		const errors = (of: typeof learned) =>
			medianOf(of.map((each) => Math.abs(each.forecast.drop60 - each.drop60)));
		const widths = (of: typeof learned) => medianOf(of.map((each) => widthOf(each.forecast)));
		expect(errors(learned)).toBeLessThan(0.85 * errors(unlearned));
		expect(widths(learned)).toBeLessThan(0.9 * widths(unlearned));
		const shown = learned.filter(({ forecast }) => isShown(forecast));
		const held = shown.filter(({ forecast, drop60 }) => holds(forecast, drop60));
		expect(held.length / shown.length).toBeGreaterThanOrEqual(0.75);
		expect(shown.length).toBeGreaterThan(unlearned.filter(({ forecast }) => isShown(forecast)).length);
	});

	it('learns from the sessions before as well, where this one has no rest yet', () => {
		const before = sessions.map(({ earlier, ...rest }) => ({
			...rest,
			earlier: undefined,
			otherSessions: earlier
		}));
		const [learned, unlearned] = [forecastsAt(before, 20), forecastsAt(strangers, 20)];
		const errors = (of: typeof learned) =>
			medianOf(of.map((each) => Math.abs(each.forecast.drop60 - each.drop60)));
		expect(errors(learned)).toBeLessThan(0.9 * errors(unlearned));
		const shown = learned.filter(({ forecast }) => isShown(forecast));
		const held = shown.filter(({ forecast, drop60 }) => holds(forecast, drop60));
		expect(held.length / shown.length).toBeGreaterThanOrEqual(0.75);
	});

	it('counts all sessions before for no more than one rest of this one, because days differ', () => {
		const { grid } = strangers[0]!;
		const { bellBpm } = measureRest(grid, bellS, bellS + 60);
		const of = (drop60: number, count: number) => Array.from({ length: count }, () => ({ bellBpm, drop60 }));
		const middle = (prior: ForecastPrior) => forecastDrop60(grid, bellS, bellS + 20, prior, Infinity)!.drop60;
		const one = middle({ earlier: of(30, 2), otherSessions: of(50, 1) });
		expect(middle({ earlier: of(30, 2), otherSessions: of(50, 60) })).toBe(one);
		expect(middle({ earlier: [...of(50, 1), ...of(30, 2)] })).toBeCloseTo(one, 9);
		expect(middle({ earlier: [...of(30, 2), ...of(50, 60)] })).not.toBeCloseTo(one, 1);
	});

	it('believes the rest itself by second 45, where it is unlike the others', () => {
		const misled = strangers.map((rest) => {
			const { bellBpm } = measureRest(rest.grid, bellS, bellS + 60);
			return { ...rest, earlier: [1, 2, 3].map(() => ({ bellBpm, drop60: 2 * rest.drop60 })) };
		});
		const late = forecastsAt(misled, 45);
		const held = late.filter(({ forecast, drop60 }) => holds(forecast, drop60));
		expect(held.length / late.length).toBeGreaterThanOrEqual(0.75);
	});

	it('learns nothing from a rest without a drop or with another bell rate', () => {
		const { grid } = strangers[0]!;
		const { bellBpm } = measureRest(grid, bellS, bellS + 60);
		const alone = forecastDrop60(grid, bellS, bellS + 30, {}, Infinity);
		const with_ = (earlier: Rest['earlier']) =>
			forecastDrop60(grid, bellS, bellS + 30, { earlier }, Infinity);
		expect(with_([{ bellBpm }, { bellBpm: bellBpm! - 16, drop60: 60 }, { drop60: 60 }])).toEqual(alone);
		expect(with_([{ bellBpm: bellBpm! - 15, drop60: 60 }])!.drop60).toBeGreaterThan(alone!.drop60);
	});
});

describe('forecastDrop60', () => {
	const exact = gridAround(bellS, 60, (t) => (t < 0 ? 180 : 120 + 60 * Math.exp(-t / 60)));
	// Bell rate 180, rate at 60 the mean of 120 + 60 exp(-t/60) over 55 to 59: 143.2, worked out from the formula.
	const exactDrop = 180 - [55, 56, 57, 58, 59].reduce((sum, t) => sum + 120 + 60 * Math.exp(-t / 60), 0) / 5;

	it('lands on the drop of an exact exponential', () => {
		for (const [second, within] of [
			[20, 4],
			[30, 2],
			[45, 1],
			[59, 0.5]
		] as const) {
			const forecast = forecastDrop60(exact, bellS, bellS + second)!;
			expect(Math.abs(forecast.drop60 - exactDrop)).toBeLessThan(within);
			expect(holds(forecast, exactDrop)).toBe(true);
		}
	});

	it('speaks from second 20 to second 59 only', () => {
		const spoken = [0, 19, 20, 59, 60, 61].filter((s) =>
			forecastDrop60(exact, bellS, bellS + s, {}, Infinity)
		);
		expect(spoken).toEqual([20, 59]);
	});

	it('does not read what has not been lived yet', () => {
		const future = exact.slice();
		future.fill(240, bellS + 30);
		expect(forecastDrop60(future, bellS, bellS + 30)).toEqual(forecastDrop60(exact, bellS, bellS + 30));
	});

	it('keeps silent without a bell rate, under ten readings, and while it is too wide', () => {
		const noBell = withGaps(exact, [bellS - 1, bellS - 2, bellS - 3]);
		expect(forecastDrop60(noBell, bellS, bellS + 30, {}, Infinity)).toBeUndefined();
		const nine = withGaps(
			exact,
			Array.from({ length: 21 }, (_, i) => bellS + i)
		);
		expect(forecastDrop60(nine, bellS, bellS + 30, {}, Infinity)).toBeUndefined();
		expect(forecastDrop60(nine, bellS, bellS + 31, {}, Infinity)).toBeDefined();
		const wide = simulated[0]!.rests.filter(({ grid }) => {
			const forecast = forecastDrop60(grid, bellS, bellS + 20, {}, Infinity);
			return forecast !== undefined && !isShown(forecast);
		});
		expect(wide.length).toBeGreaterThan(50);
		expect(wide.filter(({ grid }) => forecastDrop60(grid, bellS, bellS + 20))).toEqual([]);
	});

	it('never answers NaN and keeps its figure inside its interval', () => {
		const anyDrop = fc.option(fc.double({ min: -60, max: 150, noNaN: true }), { nil: undefined });
		fc.assert(
			fc.property(anyGrid(0, 90), fc.integer({ min: 0, max: 70 }), anyDrop, (grid, second, drop60) => {
				const earlier = [{ bellBpm: 170, drop60 }];
				const forecast = forecastDrop60(grid, bellS, bellS + second, { earlier }, Infinity);
				expect(numbersIn(forecast).every(Number.isFinite)).toBe(true);
				expect(!forecast || (forecast.low < forecast.drop60 && forecast.drop60 < forecast.high)).toBe(true);
			}),
			{ numRuns: 200 }
		);
	});

	it('shifts nothing when grid and bell shift by whole seconds', () => {
		const { grid } = simulated[0]!.rests[0]!;
		const later = forecastDrop60(delayed(grid, 512), bellS + 512, bellS + 512 + 40);
		const now = forecastDrop60(grid, bellS, bellS + 40);
		expect(later).toEqual(now);
		expect(now).toBeDefined();
	});
});
