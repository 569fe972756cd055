import { describe, expect, it } from 'vitest';
import { failEveryFileCall } from './every-file-call';
import { sharedWorld } from './worlds';

describe('a visit to the shared folder of which one call fails', () => {
	it('loses nothing, says so, and is mended by the next one', async () => {
		// The long run, over all of them, is in `npm run faults`.
		const calls = [1, 22, 43, 51];
		const { faults, failures } = await failEveryFileCall(await sharedWorld(), calls);
		expect(failures).toEqual([]);
		expect(faults).toBe(24);
	});
});
