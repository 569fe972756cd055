import { aimWords, bandAims, type Aim } from '$lib/rounds/aim';
import { aimKinds, firstAim } from '$lib/rounds/aim-form';
import { aimFault } from '$lib/rounds/check-aim';
import { describe, expect, it } from 'vitest';

describe('the aims that a form offers', () => {
	it('are all there are, each in words of its own', () => {
		expect(aimKinds.map(({ kind }) => kind)).toEqual([...bandAims, 'share of maximum', 'effort']);
		expect(new Set(aimKinds.map(({ words }) => words)).size).toBe(aimKinds.length);
	});

	it('are measured by a threshold, by a maximum, or by nobody but the boxer', () => {
		const needs = Object.fromEntries(aimKinds.map(({ kind, needs }) => [kind, needs]));
		for (const kind of bandAims) expect(needs[kind]).toBe('threshold');
		expect([needs['share of maximum'], needs.effort]).toEqual(['maximum', undefined]);
	});

	it('may be used as they are first shown (own rule)', () => {
		for (const kind of bandAims) expect(firstAim(kind)).toEqual({ kind });
		expect(firstAim('share of maximum')).toEqual({
			kind: 'share of maximum',
			fromPercent: 80,
			toPercent: 90
		});
		expect(firstAim('effort')).toEqual({ kind: 'effort', effort: 6 });
		expect(aimKinds.map(({ kind }) => aimFault(firstAim(kind)))).toEqual(aimKinds.map(() => undefined));
	});
});

it.each<[Aim, string]>([
	[{ kind: 'easy' }, 'easy'],
	[{ kind: 'near threshold' }, 'near the threshold'],
	[{ kind: 'fight pace' }, 'fight pace'],
	[{ kind: 'share of maximum', fromPercent: 80, toPercent: 90 }, '80 to 90 % of maximum'],
	[{ kind: 'effort', effort: 6 }, 'effort 6']
])('the aim %o is called "%s"', (aim, words) => {
	expect(aimWords(aim)).toBe(words);
});

describe('an aim that is checked', () => {
	const effort = (value: number) => aimFault({ kind: 'effort', effort: value });
	const share = (fromPercent: number, toPercent: number) =>
		aimFault({ kind: 'share of maximum', fromPercent, toPercent });

	it('may be missing', () => {
		expect(aimFault(undefined)).toBeUndefined();
	});

	it('is an effort from 0 to 10, in whole numbers', () => {
		expect([0, 10].map(effort)).toEqual([undefined, undefined]);
		for (const value of [-1, 11, 5.5, NaN])
			expect(effort(value)).toBe('The effort must be a whole number from 0 to 10.');
	});

	it('is a share from 50 to 100 % of the maximum, from a lower to a higher whole number', () => {
		expect(share(50, 100)).toBeUndefined();
		for (const [from, to] of [
			[49, 80],
			[80, 101],
			[70.5, 80],
			[70, 80.5]
		] as const)
			expect(share(from, to)).toBe('The share must be two whole numbers from 50 to 100 % of the maximum.');
		for (const [from, to] of [
			[80, 80],
			[90, 80]
		] as const)
			expect(share(from, to)).toBe('The share must go from a lower to a higher number.');
	});

	it('is one that is known here, or to be chosen again', () => {
		for (const kind of bandAims) expect(aimFault({ kind })).toBeUndefined();
		for (const unknown of [{ kind: 'flat out' }, {}, null, 7])
			expect(aimFault(unknown as Aim)).toBe('This aim is not known here. Choose it again.');
	});
});
