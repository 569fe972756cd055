import { cuesOf, type Cue } from '$lib/bell/cues';
import { createRinger } from '$lib/bell/ringer';
import { defaultBellSettings, type BellSettings } from '$lib/bell/settings';
import { timelineOf } from '$lib/rounds/timeline';
import type { Clock } from '$lib/time/clock';
import { makePlan } from '../rounds/plans';
import { fakeAudio } from './fake-audio';

export const settings = (overrides: Partial<BellSettings> = {}) => ({ ...defaultBellSettings, ...overrides });
const { on } = defaultBellSettings;
export const twelveRounds = cuesOf(timelineOf(makePlan({ roundCount: 12, getReadyS: 15 })), {
	...makePlan(),
	on
});
export const bells: Cue[] = [
	{ atMs: 10_000, sound: 'round start' },
	{ atMs: 190_000, sound: 'round end' }
];

/** The page's clock as a tab sees it that has been hidden for long: it is woken on whole minutes only. */
export const wokenOnceAMinute = ({ nowMs, wakeAt }: Clock): Clock => ({
	nowMs,
	wakeAt: (atMs, wake) => wakeAt(Math.ceil(atMs / 60_000) * 60_000, wake)
});

/** A ringer that is ready, at 1 s on the page's clock; its session starts then. */
export async function readyRinger(
	audio = fakeAudio(),
	overrides: Partial<BellSettings> = {},
	clock: Clock = audio.clock
) {
	const ringer = createRinger({ clock, settings: settings(overrides) }, audio.world);
	await ringer.wake();
	audio.clock.advanceTo(1000);
	return { audio, ringer, originMs: 1000 };
}

/** Heard strokes as elapsed time. */
export const heardOf = (audio: ReturnType<typeof fakeAudio>, originMs: number) =>
	audio.heard().map(({ sound, atMs }) => ({ atMs: Math.round((atMs - originMs) * 1000) / 1000, sound }));
