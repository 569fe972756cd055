import { expect, it, vi } from 'vitest';
import { readyToRecord } from '../../src/routes/ready-to-record';

function setUp({ wake = () => Promise.resolve(), take = () => Promise.resolve(true) } = {}) {
	const giveBack = vi.fn();
	const app = { live: { wake }, tabs: { take, giveBack } } as unknown as Parameters<typeof readyToRecord>[0];
	return { app, giveBack };
}

it('is ready where all is fetched, this tab records, and nothing is missing still', async () => {
	const { app, giveBack } = setUp();
	expect(await readyToRecord(app, () => undefined)).toBe('ready');
	expect(giveBack).not.toHaveBeenCalled();
});

it('lets other tabs record again where the strap has gone while things were fetched', async () => {
	const { app, giveBack } = setUp();
	expect(await readyToRecord(app, () => 'Pair a strap.')).toBe('not ready');
	expect(giveBack).toHaveBeenCalledOnce();
});

it('takes nothing where another tab records, or where something could not be fetched', async () => {
	const elsewhere = setUp({ take: () => Promise.resolve(false) });
	expect(await readyToRecord(elsewhere.app, () => undefined)).toBe('not ready');
	expect(elsewhere.giveBack).not.toHaveBeenCalled();
	const offline = setUp({ wake: () => Promise.reject(new Error('offline')) });
	expect(await readyToRecord(offline.app, () => undefined)).toBe('not fetched');
});
