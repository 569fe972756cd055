import { setTimeout as wait } from 'node:timers/promises';
import { expect, test, vi } from 'vitest';

test('the version of the page hangs on its sources, not on the moment in which it is asked for', async () => {
	const first = await import('../../svelte.config.js');
	vi.resetModules();
	await wait(20);
	const second = await import('../../svelte.config.js');

	expect(second).not.toBe(first);
	expect(first.default.kit?.version?.name).toMatch(/^[0-9a-f]{16}$/);
	expect(second.default.kit?.version?.name).toBe(first.default.kit?.version?.name);
});
