import { pulseRule } from '$lib/bell/pulse-rule';
import { expect, it } from 'vitest';

/** Seconds, of one question a second, at which the pulse rings. */
function rungAt(overSByS: readonly number[], burstFromS = Infinity): number[] {
	const isDue = pulseRule();
	return overSByS.flatMap((overS, s) =>
		isDue({ nowMs: s * 1000, overS, inBurst: s >= burstFromS }) ? [s] : []
	);
}
const upTo = (lengthS: number) => Array.from({ length: lengthS + 1 }, (_, s) => s);

it('rings when a spell has lasted five seconds, and again each fifteen while it lasts', () => {
	expect(rungAt(upTo(40))).toEqual([5, 20, 35]);
});

it('does not ring for shorter spells, however many', () => {
	expect(rungAt([...upTo(4), ...upTo(4), ...upTo(4)])).toEqual([]);
});

it('rings for each spell of its own, also where the break was not asked about', () => {
	expect(rungAt([...upTo(6), 0, ...upTo(6)])).toEqual([5, 13]);
	expect(rungAt([...upTo(6), 2, 3, 4, 5, 6])).toEqual([5, 10]);
});

it('is silent in the closing burst', () => {
	expect(rungAt(upTo(40), 10)).toEqual([5]);
	expect(rungAt(upTo(40), 4)).toEqual([]);
});

it('takes an unknown rate for the end of the spell', () => {
	expect(rungAt([4, 5, 6, NaN, NaN, 5, 6])).toEqual([1, 5]);
});
