import { expect, it } from 'vitest';
import { compareLiveAndKept } from './live-and-kept';

it('shows live what the record says, in sessions by chance', async () => {
	const { compared, faults } = await compareLiveAndKept(100, 7);
	expect(faults).toEqual([]);
	expect(compared).toBeGreaterThan(1000);
}, 120_000);
