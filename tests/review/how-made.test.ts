import { beforeEach, describe, expect, it, vi } from 'vitest';
import { allMethods } from '$lib/physiology/all-methods';
import { explained } from '$lib/physiology/method-entry';

const body = JSON.stringify(allMethods.map(explained));
const answers = vi.fn<typeof fetch>();
vi.stubGlobal('fetch', answers);

/** The module afresh, which remembers what it has fetched. */
async function freshly() {
	vi.resetModules();
	return import('$lib/review/how-made');
}

describe('a source and a check, for the eye', () => {
	it('say how far the source was read, and how far the check lay apart', async () => {
		const { checkWords, sourceWords } = await freshly();
		expect(sourceWords('Own rule')).toBe('Own rule');
		expect(sourceWords({ text: 'Foster, Med Sci Sports Exerc 1998;30:1164-8', seen: 'abstract' })).toBe(
			'Foster, Med Sci Sports Exerc 1998;30:1164-8 (abstract)'
		);
		const check = { entryId: 'rmssd', against: 'Printed results', cases: 4, unit: 'ms' };
		expect(checkWords({ ...check, largestDifference: 0.5 })).toBe(
			'Printed results. 4 cases, largest difference: 0.5 ms.'
		);
		expect(checkWords({ ...check, cases: 1, largestDifference: 0 })).toBe(
			'Printed results. 1 case, largest difference: none but rounding.'
		);
	});
});

describe('how a number was made', () => {
	beforeEach(() => answers.mockReset());

	it('comes out of the file as the code says it, worked example and all, fetched once for all numbers', async () => {
		answers.mockImplementation(async () => new Response(body));
		const { howMade } = await freshly();
		const [drop, peak] = await Promise.all([howMade('drop-60'), howMade('peak')]);
		const entry = allMethods.find(({ id }) => id === 'drop-60')!;
		expect(drop).toMatchObject({ plain: entry.plain, formula: entry.formula, example: entry.example() });
		expect(peak?.title).toBe('Peak');
		expect(await howMade('no such measure')).toBeUndefined();
		expect(answers).toHaveBeenCalledOnce();
	});

	it('is asked for again after it could not be had', async () => {
		const { howMade } = await freshly();
		answers.mockRejectedValueOnce(new TypeError('no network'));
		await expect(howMade('peak')).rejects.toThrow('no network');
		answers.mockResolvedValueOnce(new Response('', { status: 404 }));
		await expect(howMade('peak')).rejects.toThrow('404');
		answers.mockResolvedValueOnce(new Response(body));
		expect((await howMade('peak'))?.title).toBe('Peak');
	});
});
