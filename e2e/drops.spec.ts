import { expect, test } from './fixtures';
import { dropAgainAndAgain } from './pushed-drops';

test('a strap that goes out of reach again and again is back each time without a hand, and no packet is lost', async ({
	baseURL
}) => {
	const { sent, notHandedOver, missing, returnsMs } = await dropAgainAndAgain(`${baseURL}/`, 4, 1);

	expect(missing).toBe(0);
	expect(sent - notHandedOver).toBeGreaterThan(4);
	// How soon is judged on a clock moved by hand (tests/faults/disconnections.test.ts), not on a machine at work.
	expect(returnsMs).toHaveLength(4);
});
