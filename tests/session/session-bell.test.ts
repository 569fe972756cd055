import { expect, it } from 'vitest';
import { defaultBellSettings } from '$lib/bell/settings';
import { timelineOf } from '$lib/rounds/timeline';
import type { Recorder } from '$lib/session/recorder';
import { SessionBell } from '$lib/session/session-bell';
import type { Ringer } from '$lib/bell/ringer';
import { shortPlan } from './builders';

const rung: string[] = [];
const ringer = {
	configure() {},
	topUp() {},
	schedule() {},
	ring: (sound: string) => void rung.push(sound)
} as unknown as Ringer;
const recorder = {
	pulseMs: -Infinity,
	session: { plan: shortPlan, timeline: timelineOf(shortPlan), originMs: 0 }
} as unknown as Recorder;

function bellOf(isLife: boolean, settings = defaultBellSettings) {
	const bell = new SessionBell(ringer, settings, isLife, recorder);
	bell.follow(recorder, true);
	return bell;
}

it('knows how long it has been quiet and will be: between the bell at 1:10 and the whistle at 2:00', () => {
	const bell = bellOf(true);
	expect(bell.quietAt(75_000)).toEqual({ sinceMs: 5000, untilMs: 45_000 });
	expect(bell.quietAt(70_000)).toEqual({ sinceMs: 0, untilMs: 50_000 });
	expect(bell.quietAt(0)).toEqual({ sinceMs: Infinity, untilMs: 7000 });
	// The last bell is the end of round 2.
	expect(bell.quietAt(200_000)).toEqual({ sinceMs: 10_000, untilMs: Infinity });
});

it('is quiet throughout where the page is silent', () => {
	expect(bellOf(false).quietAt(75_000)).toEqual({ sinceMs: Infinity, untilMs: Infinity });
});

it('sounds an alarm whatever sounds are chosen, and none faster than life', () => {
	rung.length = 0;
	const on = { ...defaultBellSettings.on, pulse: false };
	bellOf(true, { ...defaultBellSettings, on }).alarm();
	expect(rung).toEqual(['pulse']);
	bellOf(false).alarm();
	expect(rung).toHaveLength(1);
});
