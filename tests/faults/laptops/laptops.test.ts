import { expect, it } from 'vitest';
import { playGyms } from './many-gyms';

it('keeps what was entered on any of up to a dozen laptops, in gyms by chance', async () => {
	const { laptops, acts, having, faults } = await playGyms(8, 7);
	expect(faults).toEqual([]);
	expect(having).toEqual({ differ: 0, lost: 0, back: 0, told: 0 });
	expect(laptops).toBeGreaterThan(24);
	expect(acts).toBeGreaterThan(100);
}, 240_000);
