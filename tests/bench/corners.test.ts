import { expect, it } from 'vitest';
import { measureCorners } from './corners';

it('boxes every second of every corner; how long that takes is not judged here', () => {
	const cost = measureCorners(8, { seconds: 300 });
	expect(cost).toMatchObject({ corners: 8, packets: 2400 });
	for (const us of [cost.meanUs, cost.p99Us, cost.firstTenthUs, cost.lastTenthUs])
		expect(us).toBeGreaterThan(0);
});
