import { describe, expect, it } from 'vitest';
import { aimOfAthleteWords, mayBeOver, rangeOf, rangeWords } from '$lib/review/aim-of';
import type { Aim } from '$lib/rounds/aim';

const known = { thresholdBpm: 170, measuredMaxBpm: 190 };
const share = (fromPercent: number, toPercent: number): Aim => ({
	kind: 'share of maximum',
	fromPercent,
	toPercent
});

describe('an aim for an athlete', () => {
	// 80 % and 90 % of 170 are 136 and 153; 80 % and 90 % of 190 are 152 and 171.
	it.each<[Aim, string]>([
		[{ kind: 'easy' }, 'easy, 135 and under'],
		[{ kind: 'working' }, 'working, 136 to 152'],
		[{ kind: 'near threshold' }, 'near the threshold, 153 to 170'],
		[{ kind: 'fight pace' }, 'fight pace, 171 and over'],
		[share(80, 90), '80 to 90 % of maximum, 152 to 171'],
		[{ kind: 'effort', effort: 7 }, 'effort 7']
	])('%o is in words: %s', (aim, words) => {
		expect(aimOfAthleteWords(aim, known)).toBe(words);
	});

	it('goes by effort where neither threshold nor maximum is known, and says what is missing', () => {
		expect(aimOfAthleteWords({ kind: 'working' }, {})).toBe('working (no threshold: go by effort)');
		expect(aimOfAthleteWords(share(80, 90), {})).toBe(
			'80 to 90 % of maximum (no measured maximum: go by effort)'
		);
		expect(rangeOf({ kind: 'fight pace' }, { measuredMaxBpm: 190 })).toBeUndefined();
	});

	it('is told in beats that lie in it, whatever fraction the threshold has', () => {
		expect(rangeWords(rangeOf({ kind: 'near threshold' }, { thresholdBpm: 171.5 })!)).toBe('155 to 171');
		expect(rangeWords(rangeOf({ kind: 'fight pace' }, { thresholdBpm: 171.5 })!)).toBe('172 and over');
	});
});

describe('the pulse', () => {
	it.each<[Aim | undefined, boolean]>([
		[undefined, false],
		[{ kind: 'easy' }, false],
		[{ kind: 'near threshold' }, false],
		[{ kind: 'effort', effort: 10 }, false],
		[{ kind: 'fight pace' }, true],
		// 171 is over the threshold of 170, 169.1 is not.
		[share(80, 90), true],
		[share(80, 89), false]
	])('has nothing to call back from at %o: %s', (aim, isSilent) => {
		expect(mayBeOver(aim, known)).toBe(isSilent);
	});
});

it('an aim that reaches the very threshold may be over it', () => {
	// 90 % of 190 are 171.
	expect(mayBeOver(share(80, 90), { thresholdBpm: 171, measuredMaxBpm: 190 })).toBe(true);
	expect(mayBeOver(share(80, 90), { thresholdBpm: 171.5, measuredMaxBpm: 190 })).toBe(false);
	expect(mayBeOver(share(80, 90), { measuredMaxBpm: 190 })).toBe(false);
	expect(mayBeOver(share(80, 90), { thresholdBpm: 150 })).toBe(false);
});
