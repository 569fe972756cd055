import { describe, expect, it } from 'vitest';
import { refusalOf } from '$lib/components/frame/store-words';
import { StoreError } from '$lib/store/database';

describe('a press that writes', () => {
	it('says nothing where it was done', async () => {
		expect(await refusalOf(Promise.resolve())).toBe('');
	});

	it('says that it was not done, and why', async () => {
		const full = new StoreError('full', 'no room');
		expect(await refusalOf(Promise.reject(full))).toMatch(/^Not done\. The disk, .* is full\.$/);
		expect(await refusalOf(Promise.reject(new Error('of another kind')))).toMatch(
			/^Not done\. .* refuses to write\.$/
		);
	});
});
