import { describe, expect, it } from 'vitest';
import type { CornerView } from '$lib/session/live-view';
import type { RestView } from '$lib/session/live-rest';
import { shownRestOf } from '$lib/session/shown-rest';

function rest(atS: number, measure: Partial<RestView['measure']>): RestView {
	const whole = { coverage: 1, verdict: 'under the band', nearEdge: false, ...measure };
	return { round: 1, bellMs: 0, atS, measure: whole as RestView['measure'], points: [] };
}
const rounds = (...rests: (RestView | undefined)[]) =>
	rests.map((one, i) => ({ round: i + 1, rest: one })) as unknown as CornerView['rounds'];

describe('what a live screen shows of the rests', () => {
	it('is nothing before the first one', () => {
		expect(shownRestOf({ rounds: [] })).toEqual({});
	});

	it('is the drop so far while the minute runs, and no verdict yet', () => {
		const running = rest(40, { restDrop: 21 });
		expect(shownRestOf({ rest: running, rounds: [] })).toMatchObject({ judged: running, drop: 21 });
		expect(shownRestOf({ rest: running, rounds: [] }).verdict).toBeUndefined();
	});

	it('is the drop at 60 with its verdict from then on, half a minute into the next round too', () => {
		const over = rest(75, { restDrop: 44, drop60: 36 });
		for (const corner of [{ rest: over }, { lastRest: over }])
			expect(shownRestOf({ ...corner, rounds: [] })).toMatchObject({
				drop: 36,
				verdict: 'slower than gyms look for',
				brief: 'under the band'
			});
	});

	it('is the figure of the last rest alone after that', () => {
		const corner = { rounds: rounds(rest(60, { drop60: 48 }), rest(60, { drop60: 41 }), undefined) };
		expect(shownRestOf(corner)).toMatchObject({ judged: undefined, drop: 41, verdict: undefined });
	});
});
