import { describe, expect, it } from 'vitest';
import { adviceFor, headingAdvice, isVerySmallFall, smallFallAdvice } from '$lib/physiology/advice';
import type { Verdict } from '$lib/physiology/recovery';

const hard = { hardFromBpm: 150 };
const heading = (low: number, high: number) => headingAdvice({ low, high }, 176, hard);

// The band of 40 to 60 is common practice in boxing gyms, no source.
describe('the line for the corner', () => {
	it('judges the rest and not the person', () => {
		const line = (verdict: Verdict) => adviceFor({ verdict, nearEdge: false });
		expect(line('under the band')).toMatch(/^Slower than gyms look for: /);
		expect(line('in the band')).toBe('What gyms look for; look at the boxer first.');
		expect(line('over the band')).toBe('Above the band: check strap and boxer, tiredness can do this too.');
		expect(line('not judged')).toMatch(/^No verdict/);
	});

	it('does not call what is too close to an edge, in the band as outside it', () => {
		for (const verdict of ['under the band', 'in the band', 'over the band'] as const)
			expect(adviceFor({ verdict, nearEdge: true })).toMatch(
				/^The error .* an edge of the band: look at the boxer/
			);
	});
});

describe('where a rest is heading', () => {
	it('is the interval in whole beats, and what that would be called', () => {
		expect(heading(29.6, 38.4)).toBe(
			'Heading for 30 to 38: slower than gyms look for. Breathe low and long.'
		);
		expect(heading(40, 60)).toBe('Heading for 40 to 60: what gyms look for; look at the boxer first.');
		expect(heading(61, 70)).toMatch(/^Heading for 61 to 70: above the band: check strap and boxer/);
	});

	it('calls nothing where the interval holds an edge', () => {
		expect(heading(34, 44)).toBe('Heading for 34 to 44: too close to call; look at the boxer first.');
		expect(heading(55, 66)).toMatch(/too close to call/);
	});

	it('is the interval alone after an easy round, a pause, with medicine, or where nothing says what is hard', () => {
		const alone = 'Heading for 30 to 38.';
		const forecast = { low: 30, high: 38 };
		expect(headingAdvice(forecast, 149, hard)).toBe(alone);
		expect(headingAdvice(forecast, undefined, hard)).toBe(alone);
		expect(headingAdvice(forecast, 176, {})).toBe(alone);
		expect(headingAdvice(forecast, 176, { ...hard, paused: true })).toBe(alone);
		expect(headingAdvice(forecast, 176, { ...hard, slowingMedicine: true })).toBe(alone);
	});

	it('has the athlete’s own usual beside it, in whole beats, where the rest is one like those', () => {
		const usual = { low: 38.1, high: 46 };
		expect(headingAdvice({ low: 30, high: 38 }, 176, { ...hard, usual })).toBe(
			'Heading for 30 to 38; your usual is 38 to 46. Slower than gyms look for. Breathe low and long.'
		);
		expect(headingAdvice({ low: 36, high: 44 }, 176, { ...hard, usual })).toBe(
			'Heading for 36 to 44; your usual is 38 to 46. Too close to call; look at the boxer first.'
		);
		expect(headingAdvice({ low: 30, high: 38 }, 149, { ...hard, usual })).toBe('Heading for 30 to 38.');
	});

	it('has no figure for a heart that may still climb', () => {
		expect(heading(-3, 5)).toMatch(/^Heading for 5 or less: slower/);
		expect(heading(-9, -2)).toMatch(/^Heading for 0 or less: slower/);
	});
});

describe('a very small fall', () => {
	it('is one of 12 or less in adults (Cole et al., N Engl J Med 1999;341:1351-7)', () => {
		const small = (drop60: number, ageYears?: number) =>
			isVerySmallFall({ drop60, verdict: 'under the band' }, ageYears);
		expect([small(12.4, 30), small(12.6, 30), small(-4, 30)]).toEqual([true, false, true]);
		// 22.4 less 1.6 x 10.8: adolescent athletes in Suzic Lazic et al., Clin Physiol Funct Imaging 2017;37:117-123.
		expect([small(12, 16), small(5, 16)]).toEqual([false, true]);
		expect(small(12)).toBe(true);
	});

	it('is none of a rest that is not judged or not measured', () => {
		expect(isVerySmallFall({ drop60: 3, verdict: 'not judged' }, 30)).toBe(false);
		expect(isVerySmallFall({ verdict: 'not judged' }, 30)).toBe(false);
	});

	it('says strap first, then to stop and see a doctor', () => {
		expect(smallFallAdvice).toMatch(/strap.*Unwell: stop, see a doctor/);
	});
});
