import { expect, it } from 'vitest';
import { compareLiveAndKept } from './live-and-kept';

it('shows live what the record says, in sessions by chance', async () => {
	const { compared, faults } = await compareLiveAndKept(
		Number(process.env.RUNS ?? 60),
		Number(process.env.SEED ?? 7)
	);
	expect(faults).toEqual([]);
	expect(compared).toBeGreaterThan(300);
}, 3600_000);
