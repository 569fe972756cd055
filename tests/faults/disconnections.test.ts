import { expect, it } from 'vitest';
import { loseTheStrap } from './disconnections';
import { percentile95 } from './table';

it('loses no packet and no second over twenty disconnections, and is back within three seconds', async () => {
	const { delivered, missing, clockErrorMs, oldBeats, returnsMs } = await loseTheStrap(20, 7);
	expect({ missing, clockErrorMs, oldBeats }).toEqual({ missing: 0, clockErrorMs: 0, oldBeats: 0 });
	expect(delivered).toBeGreaterThan(200);
	expect(percentile95(returnsMs)).toBeLessThan(3000);
}, 60_000);
