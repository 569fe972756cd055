import { expect, test } from '@playwright/test';
import { dropAgainAndAgain } from './radio-drops';

test('a strap that goes out of reach again and again is back each time without a hand, and no packet is lost', async ({
	baseURL
}) => {
	const { delivered, missing, returnsMs } = await dropAgainAndAgain(`${baseURL}/`, 3, 1);

	expect(missing).toBe(0);
	expect(delivered).toBeGreaterThan(3);
	// Two seconds between tries, one until the next packet, and what a busy machine takes.
	expect(Math.max(...returnsMs)).toBeLessThan(5000);
});
