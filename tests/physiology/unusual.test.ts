import { describe, expect, it } from 'vitest';
import { unusualIn } from '$lib/physiology/unusual';

const rest = (drop60: number, verdict: 'under the band' | 'not judged' = 'under the band') => ({
	bellBpm: 170,
	drop60,
	verdict
});

describe('what is out of the ordinary', () => {
	it('is nothing in an ordinary session', () => {
		expect(unusualIn({ rests: [rest(35)], peakBpm: 188, ageYears: 30 })).toEqual([]);
	});

	it('is a fall of 12 or less after a hard round (Cole et al., N Engl J Med 1999;341:1351-7), strap first', () => {
		const [sentence] = unusualIn({ rests: [rest(12.4)], ageYears: 30 });
		expect(sentence).toMatch(/strap.*doctor/);
		expect(unusualIn({ rests: [rest(13)], ageYears: 30 })).toEqual([]);
	});

	it('is less in minors, for whom 12 is nothing unusual, and never said of a rest that is not judged', () => {
		// Adolescent athletes fall by 22.4 +/- 10.8 (Suzic Lazic et al., Clin Physiol Funct Imaging 2017;37:117-123): 12
		// is one SD under that, 5 are 1.6 (own rule). Without an age the warning errs on the side of caution.
		expect(unusualIn({ rests: [rest(8)], ageYears: 18 })).toEqual([]);
		expect(unusualIn({ rests: [rest(5)], ageYears: 18 })).toHaveLength(1);
		expect(unusualIn({ rests: [rest(8)] })).toHaveLength(1);
		expect(unusualIn({ rests: [rest(8, 'not judged')], ageYears: 30 })).toEqual([]);
	});

	it('is a rate two standard deviations above 208 - 0.7 age (Tanaka 2001: 187 +/- 10 at 30)', () => {
		expect(unusualIn({ rests: [], peakBpm: 207, ageYears: 30 })).toEqual([]);
		expect(unusualIn({ rests: [], peakBpm: 208, ageYears: 30 })[0]).toMatch(
			/208 is far above what age lets expect\..*doctor/
		);
	});

	it('goes by the measured maximum where there is one', () => {
		expect(unusualIn({ rests: [], peakBpm: 208, ageYears: 30, measuredMaxBpm: 200 })).toEqual([]);
		expect(unusualIn({ rests: [], peakBpm: 210, measuredMaxBpm: 200 })).toEqual([]);
		expect(unusualIn({ rests: [], peakBpm: 210.6, measuredMaxBpm: 200 })[0]).toMatch(
			/^A rate of 211 is far above the measured maximum\./
		);
		expect(unusualIn({ rests: [], peakBpm: 211, ageYears: 30, measuredMaxBpm: 200 })).toHaveLength(1);
	});

	it('is no rate where neither age nor maximum is known, and none where none was read', () => {
		expect(unusualIn({ rests: [], peakBpm: 250 })).toEqual([]);
		expect(unusualIn({ rests: [], ageYears: 30 })).toEqual([]);
	});
});
