import { expect, it } from 'vitest';
import { measureCorners, measureTurns } from './corners';

it('boxes every second of every corner; how long that takes is not judged here', () => {
	const cost = measureCorners(8, { seconds: 300 });
	expect(cost).toMatchObject({ corners: 8, packets: 2400 });
	for (const us of [cost.meanUs, cost.p99Us, cost.firstTenthUs, cost.lastTenthUs])
		expect(us).toBeGreaterThan(0);
});

it('has thirty box by turns on eight straps, handed on after each round', () => {
	const cost = measureTurns({ seconds: 540 });
	// Three rounds of four minutes with their rests, two hand-overs of every strap.
	expect(cost).toMatchObject({ corners: 30, packets: 4320, handedOver: 16 });
});
