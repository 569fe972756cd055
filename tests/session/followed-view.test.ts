import { describe, expect, it } from 'vitest';
import { timelineOf } from '$lib/rounds/timeline';
import { followedView } from '$lib/session/followed-view';
import { viewOf } from '$lib/session/live-view';
import { shortPlan } from './builders';
import { recordedBeats } from './recorded-beats';

/** What is told at second 65 of the plan: five seconds of round 1 left. */
function toldAt65(speed = 1) {
	const { clock, recorder } = recordedBeats(65, 900);
	clock.advanceTo(65_000);
	return { view: viewOf(recorder, recorder.advance()), timeline: recorder.session.timeline, speed };
}

describe('a screen that follows', () => {
	it('shows what it was told the moment it was told', () => {
		const told = toldAt65();
		expect(followedView(told, 0)).toEqual(told.view);
	});

	it('goes on with the clock by the timeline, through the bell', () => {
		const told = toldAt65();
		expect(followedView(told, 1500)).toMatchObject({ remainingMs: 3500, phase: { kind: 'work' } });
		expect(followedView(told, 7000)).toMatchObject({
			remainingMs: 58_000,
			phase: { kind: 'rest', round: 1 }
		});
		expect(followedView({ ...told, speed: 12 }, 1000).remainingMs).toBe(53_000);
	});

	it('shows no old beat as the present, and says for how long nothing was heard', () => {
		const told = toldAt65();
		expect(followedView(told, 3000).corners[0]!.signal.bpm).toBe(150);
		const old = followedView(told, 8200).corners[0]!;
		expect(old.signal).toMatchObject({ words: 'not heard for 8 s' });
		expect(old.signal.bpm).toBeUndefined();
	});

	it('stands still in a pause, and counts up to the bell of the gym', () => {
		const told = toldAt65();
		const paused = timelineOf(shortPlan, [{ kind: 'pause', atMs: 64_000 }]);
		const still = { ...told, timeline: paused };
		expect(followedView(still, 2000)).toMatchObject({ isPaused: true, remainingMs: 6000 });
		expect(followedView(still, 9000)).toMatchObject({ isPaused: true, remainingMs: 6000 });

		const timeline = timelineOf({ ...shortPlan, followsGymBell: true }, [{ kind: 'next', atMs: 20_000 }]);
		expect(followedView({ ...told, timeline }, 2000)).toMatchObject({
			remainingMs: Infinity,
			ranMs: 47_000,
			phase: { kind: 'work', round: 1 }
		});
	});
});
