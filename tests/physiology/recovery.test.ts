import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { hardFrom, measureRest, recoveryFromS, type Verdict } from '$lib/physiology/recovery';
import { anyGrid, delayed, gridAround, numbersIn, withGaps } from './builders';

const bellS = 20;
const hard = { hardFromBpm: 150 };

/** Flat before the bell, then straight down by `drop60` at seconds 55 to 59. */
const restWithDrop = (drop60: number, bellBpm = 180) =>
	gridAround(bellS, 60, (t) => (t < 0 ? bellBpm : t < 55 ? bellBpm - (drop60 * t) / 57 : bellBpm - drop60));

describe('measureRest', () => {
	// The windows hold only these values, so every figure below is worked out by hand from the definition.
	const stepped = gridAround(bellS, 90, (t) => {
		if (t >= -5 && t < 0) return 176 + (t + 5);
		if (t >= 25 && t < 30) return 150;
		if (t >= 55 && t < 60) return 130;
		if (t >= 85) return 120;
		return t === 7 ? 185 : 160;
	});

	it('reads bell rate, drops, peak and coverage from their windows', () => {
		expect(measureRest(stepped, bellS, bellS + 90, hard)).toMatchObject({
			bellBpm: 178,
			rate60: 130,
			drop30: 28,
			drop60: 48,
			restDrop: 58,
			peakBpm: 185,
			peakLagS: 7,
			coverage: 1,
			verdict: 'in the band'
		});
	});

	it('never reads past the end of the rest', () => {
		const short = measureRest(stepped, bellS, bellS + 59, hard);
		expect(short.drop60).toBeUndefined();
		expect(short.rate60).toBeUndefined();
		expect(short.drop30).toBe(28);
		expect(short).toMatchObject({ verdict: 'not judged', reason: 'The rest ended before 60 seconds.' });
		expect(measureRest(stepped, bellS, bellS + 29, hard).drop30).toBeUndefined();
	});

	it('cuts the end of the rest to whole seconds, with 0.05 s of grace', () => {
		expect(measureRest(stepped, bellS, bellS + 59.96, hard).drop60).toBe(48);
		expect(measureRest(stepped, bellS, bellS + 59.94, hard).drop60).toBeUndefined();
	});

	it('gives no figure of seconds that have not been lived yet', () => {
		const soFar = stepped.subarray(0, bellS + 58);
		const measure = measureRest(soFar, bellS, bellS + 90, hard);
		expect(measure.drop60).toBeUndefined();
		expect(measure.restDrop).toBeUndefined();
		expect(measure.verdict).toBe('not judged');
	});

	it('needs three readings of five in a window', () => {
		const two = withGaps(stepped, [bellS - 1, bellS - 2, bellS - 3]);
		const three = withGaps(stepped, [bellS - 1, bellS - 2]);
		expect(measureRest(two, bellS, bellS + 60, hard)).toMatchObject({
			verdict: 'not judged',
			reason: 'Too few readings in the 5 seconds before the bell.'
		});
		expect(measureRest(two, bellS, bellS + 60, hard).bellBpm).toBeUndefined();
		expect(measureRest(three, bellS, bellS + 60, hard).bellBpm).toBe(177);
		const late = withGaps(stepped, [bellS + 55, bellS + 57, bellS + 59]);
		expect(measureRest(late, bellS, bellS + 60, hard).reason).toBe(
			'Too few readings in the 5 seconds before second 60.'
		);
	});

	it('takes the first of equal peaks, which may lie before the bell', () => {
		const early = gridAround(bellS, 60, (t) => (t === -4 || t === 3 ? 182 : 160));
		expect(measureRest(early, bellS, bellS + 60).peakLagS).toBe(-4);
		const outside = gridAround(bellS, 60, (t) => (t === -11 || t === 20 ? 200 : t === 19 ? 182 : 160));
		expect(measureRest(outside, bellS, bellS + 60)).toMatchObject({ peakBpm: 182, peakLagS: 19 });
	});

	// The band is common practice in boxing gyms, no source.
	it.each<[number, Verdict]>([
		[39.4, 'under the band'],
		[39.5, 'in the band'],
		[40, 'in the band'],
		[60, 'in the band'],
		[60.4, 'in the band'],
		[60.5, 'over the band'],
		[-8, 'under the band']
	])('judges a drop of %s bpm in whole beats: %s', (drop, verdict) => {
		expect(measureRest(restWithDrop(drop), bellS, bellS + 60, hard).verdict).toBe(verdict);
	});

	// Standard error of the 60-s fall 20 % (Bosquet, Gamelin, Berthoin, Int J Sports Med 2008;29:238-43), half of its
	// variance the rest's own: 14.1 %. 36 + 5.09, 46 - 6.51, 53 + 7.5 and 69 - 9.76 reach an edge; 35 + 4.95, 47 - 6.65,
	// 52 + 7.35 and 70 - 9.9 do not. In whole beats, as the band is judged.
	it.each([
		[35.4, false],
		[35.6, true],
		[40, true],
		[46.4, true],
		[46.6, false],
		[50, false],
		[52, false],
		[53, true],
		[60, true],
		[69, true],
		[70, false]
	])('calls a drop of %s bpm too close to call: %s', (drop, nearEdge) => {
		expect(measureRest(restWithDrop(drop), bellS, bellS + 60, hard).nearEdge).toBe(nearEdge);
	});

	it('judges only a hard round, and says what was missing', () => {
		const rest = restWithDrop(48, 152.5);
		expect(measureRest(rest, bellS, bellS + 60, { hardFromBpm: 152.5 }).verdict).toBe('in the band');
		expect(measureRest(rest, bellS, bellS + 60, { hardFromBpm: 153 })).toMatchObject({
			drop60: 48,
			verdict: 'not judged',
			nearEdge: false,
			reason: 'The round was not hard enough to judge: 152 at the bell, 153 needed.'
		});
		expect(measureRest(rest, bellS, bellS + 60)).toMatchObject({ drop60: 48, verdict: 'not judged' });
		expect(measureRest(rest, bellS, bellS + 60, { hardFromBpm: NaN }).verdict).toBe('not judged');
	});

	it('shows the drop and gives no verdict after a pause or with medicine that slows the heart', () => {
		const rest = restWithDrop(48);
		expect(measureRest(rest, bellS, bellS + 60, { ...hard, paused: true })).toMatchObject({
			drop60: 48,
			verdict: 'not judged',
			reason: 'The clock was paused, or the computer slept, around this rest.'
		});
		expect(measureRest(rest, bellS, bellS + 60, { ...hard, slowingMedicine: true })).toMatchObject({
			drop60: 48,
			verdict: 'not judged',
			reason: 'Medicine that slows the heart makes the band meaningless.'
		});
	});

	it('gives a reason with every rest that is not judged and with no other', () => {
		fc.assert(
			fc.property(anyGrid(0, 120), fc.integer({ min: 0, max: 110 }), (grid, restS) => {
				const { verdict, reason } = measureRest(grid, bellS, bellS + restS, { hardFromBpm: 100 });
				expect(reason === undefined).toBe(verdict !== 'not judged');
			})
		);
	});

	it('never answers NaN', () => {
		const anyEnd = fc.double({ min: -5, max: 130, noNaN: true });
		fc.assert(
			fc.property(anyGrid(0, 120), fc.integer({ min: 0, max: 60 }), anyEnd, (grid, bell, restS) => {
				const answer = measureRest(grid, bell, bell + restS, { hardFromBpm: 90 });
				expect(numbersIn(answer).filter((each) => !Number.isFinite(each))).toEqual([]);
			}),
			{ numRuns: 500 }
		);
	});

	it('judges no differently for gaps outside its windows', () => {
		const outside = fc.integer({ min: 0, max: bellS + 59 }).filter((i) => {
			const t = i - bellS;
			return !(t >= -5 && t < 0) && !(t >= 55 && t < 60);
		});
		fc.assert(
			fc.property(anyGrid(bellS + 60, bellS + 60), fc.array(outside), (grid, gaps) => {
				const whole = measureRest(grid, bellS, bellS + 60, { hardFromBpm: 120 });
				const holed = measureRest(withGaps(grid, gaps), bellS, bellS + 60, { hardFromBpm: 120 });
				expect([holed.verdict, holed.reason, holed.drop60]).toEqual([
					whole.verdict,
					whole.reason,
					whole.drop60
				]);
			})
		);
	});

	it('shifts nothing when grid and bell shift by whole seconds', () => {
		fc.assert(
			fc.property(anyGrid(90, 120), fc.integer({ min: 0, max: 5000 }), (grid, byS) => {
				const later = measureRest(delayed(grid, byS), bellS + byS, bellS + 70 + byS, hard);
				expect(later).toEqual(measureRest(grid, bellS, bellS + 70, hard));
			})
		);
	});
});

describe('hardFrom', () => {
	it('prefers the threshold, then a measured maximum, then the age', () => {
		const athlete = { thresholdBpm: 170, measuredMaxBpm: 195, ageYears: 30 };
		expect(hardFrom(athlete)).toBe(153);
		expect(hardFrom({ ...athlete, thresholdBpm: undefined })).toBe(156);
		// 208 - 0.7 x 30 = 187 (Tanaka et al., J Am Coll Cardiol 2001;37:153-156), SD 10: 80 % of 197.
		expect(hardFrom({ ageYears: 30 })).toBeCloseTo(157.6, 10);
	});

	it('knows nothing without facts, with impossible ones, or with medicine that slows the heart', () => {
		expect(hardFrom({})).toBeUndefined();
		expect(hardFrom({ thresholdBpm: 0, measuredMaxBpm: NaN, ageYears: 0 })).toBeUndefined();
		expect(hardFrom({ thresholdBpm: 0, measuredMaxBpm: 190 })).toBe(152);
		expect(hardFrom({ thresholdBpm: 170, slowingMedicine: true })).toBeUndefined();
	});
});

describe('what hangs on a rest', () => {
	it('begins the curve at the later of peak and bell', () => {
		expect([recoveryFromS(20, 7), recoveryFromS(20, -4), recoveryFromS(20, undefined)]).toEqual([27, 20, 20]);
	});
});
