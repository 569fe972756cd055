import { expect, it } from 'vitest';
import { CeilingWatch } from '$lib/session/ceiling-watch';
import type { LiveView } from '$lib/session/live-view';

/** The parts of a view that are looked at: who has which rate at a second. */
function viewAt(second: number, bpm: Record<string, number | undefined>): LiveView {
	const corners = Object.entries(bpm).map(([athleteId, rate], corner) => ({
		...{ corner, number: corner + 1, athleteId, name: athleteId },
		signal: { bpm: rate }
	}));
	return { elapsedMs: second * 1000, corners } as unknown as LiveView;
}
const ceilings: Record<string, number> = { ada: 104 };
const watch = () => new CeilingWatch((athleteId) => ceilings[athleteId]);

/** The seconds at which the alarm sounds for a row of rates, one a second. */
function alarmsOf(rates: readonly (number | undefined)[]): number[] {
	const watching = watch();
	return rates.flatMap((bpm, second) => (watching.follow(viewAt(second, { ada: bpm })).isDue ? second : []));
}

it('sounds once somebody has been over for five seconds, and again each fifteen', () => {
	expect(alarmsOf(Array.from({ length: 22 }, () => 105))).toEqual([5, 20]);
	expect(alarmsOf(Array.from({ length: 22 }, () => 104))).toEqual([]);
});

it('counts anew after a break, and takes a rate that is not known for no rate over', () => {
	const over = Array.from({ length: 5 }, () => 130);
	expect(alarmsOf([...over, 100, ...over, 130])).toEqual([11]);
	expect(alarmsOf([...over, undefined, ...over])).toEqual([]);
});

it('marks whoever is over with the rate not to go over, and nobody else', () => {
	const { view } = watch().follow(viewAt(0, { ada: 120, bao: 190 }));
	expect(view.corners.map(({ overCeilingBpm }) => overCeilingBpm)).toEqual([104, undefined]);
	const calm = viewAt(1, { ada: 90, bao: 190 });
	expect(watch().follow(calm).view).toBe(calm);
});
