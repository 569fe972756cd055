import { describe, expect, it } from 'vitest';
import { timelineOf } from '$lib/rounds/timeline';
import { packReadings } from '$lib/record/columns';
import type { RecordHead } from '$lib/record/head';
import { summaryOf } from '$lib/review/summary';
import { packetsOf } from '../physiology/simulated-strap';
import { makeHead } from '../store/builders';
import { shortPlan } from './builders';

const phases = timelineOf(shortPlan);
const work = phases.find(({ kind }) => kind === 'work')!;
const bellMs = work.endMs;

/** From 170 at the bell towards 120, as a strap tells it that is 2 s late and smooths over 8 s. */
const packets = packetsOf({
	bpmAt: (s) => (s < 0 ? 170 : 120 + 50 * Math.exp(-s / 45)),
	smoothingS: 8,
	lateS: 2,
	fromS: -bellMs / 1000,
	toS: 70
}).map((packet) => ({ ...packet, ms: packet.ms + bellMs }));
const restAfter = (all: typeof packets, overrides: Partial<RecordHead> = {}) =>
	summaryOf({
		head: makeHead({
			plan: shortPlan,
			amendments: [],
			events: [],
			endedMs: phases.at(-1)!.endMs,
			...overrides
		}),
		body: packReadings(all)
	}).rounds[0]!.rest!;

describe('a rest that the beats tell of too', () => {
	it('has a second reading beside the drop of the strap, which is late and smooth', () => {
		const { drop60, dropFromRr60 } = restAfter(packets);
		// 170 less the mean of seconds 55 to 59: 120 + 50 x 45 / 5 x (exp(-55 / 45) - exp(-60 / 45)) = 133.96.
		expect(Math.abs(dropFromRr60! - (170 - 133.96))).toBeLessThan(0.7);
		expect(drop60! - dropFromRr60!).toBeLessThan(-2);
	});

	it('has none where the strap sends no intervals, and its drop stays the same', () => {
		const without = restAfter(packets.map((packet) => ({ ...packet, rrMs: [] })));
		expect(without.dropFromRr60).toBeUndefined();
		expect(without.drop60).toBe(restAfter(packets).drop60);
	});

	it('has none where another heart wore the strap at the bell', () => {
		const strapChanges = [{ ms: bellMs + 20_000, strapName: 'Blue strap', practice: false }];
		expect(restAfter(packets, { strapChanges }).dropFromRr60).toBeUndefined();
	});

	it('has none where the signal was lost in one of its windows', () => {
		const events: RecordHead['events'] = [
			{ kind: 'signal lost', ms: bellMs + 55_500 },
			{ kind: 'signal back', ms: bellMs + 59_500 }
		];
		expect(restAfter(packets, { events }).dropFromRr60).toBeUndefined();
	});
});
