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
