import { describe, expect, it } from 'vitest';
import { allMethods } from '$lib/physiology/all-methods';
import { howMade } from '$lib/review/how-made';

describe('how a number was made', () => {
	it('is the very entry that the Methods screen shows', async () => {
		expect(await howMade('drop-60')).toBe(allMethods.find(({ id }) => id === 'drop-60'));
		expect((await howMade('peak'))?.title).toBe('Peak');
	});

	it('is not known for a measure that has no entry', async () => {
		expect(await howMade('no such measure')).toBeUndefined();
	});
});
