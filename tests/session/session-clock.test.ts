import { describe, expect, it } from 'vitest';
import fc from '../by-chance';
import { amendmentKinds } from '$lib/rounds/amendment';
import { accepts, timelineOf } from '$lib/rounds/timeline';
import { SessionClock } from '$lib/session/session-clock';
import { manualClock } from '$lib/time/manual-clock';
import { shortPlan } from './builders';

describe('the clock of a session', () => {
	it('lays each amendment on what stands, and comes to what the whole list folded anew comes to', () => {
		const presses = fc.array(
			fc.record({ kind: fc.constantFrom(...amendmentKinds), waitMs: fc.integer({ min: 0, max: 60_000 }) }),
			{ maxLength: 12 }
		);
		fc.assert(
			fc.property(presses, fc.boolean(), (pressed, followsGymBell) => {
				const plan = { ...shortPlan, ...(followsGymBell && { followsGymBell: true as const }) };
				const session = new SessionClock(manualClock(0), plan, 0);
				let atMs = 0;
				for (const { kind, waitMs } of pressed) {
					atMs += waitMs;
					const before = session.amendments;
					const isHeeded = session.append(kind, atMs) !== undefined;
					expect(isHeeded).toBe(accepts(plan, before, kind, atMs));
					expect(session.amendments).toEqual(isHeeded ? [...before, { kind, atMs }] : before);
					expect(session.timeline).toEqual(timelineOf(plan, session.amendments));
				}
			})
		);
	});

	it('answers the same timeline until it is amended, and another one then', () => {
		const session = new SessionClock(manualClock(0), shortPlan, 0);
		const { timeline } = session;
		expect(session.append('resume', 20_000)).toBeUndefined();
		expect(session.timeline).toBe(timeline);
		session.append('pause', 20_000);
		expect(session.timeline).not.toBe(timeline);
	});
});
