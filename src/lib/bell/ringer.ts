import type { Clock } from '$lib/time/clock';
import { audioOutput, type AudioOutput } from './audio-output';
import { CuePlan } from './cue-plan';
import type { Cue } from './cues';
import { browserWorld, type RingerWorld } from './ringer-world';
import type { Sound } from './sound';
import type { BellSettings } from './settings';

/**
 * What the screen should say:
 * - `off`: nobody has asked for sound yet; offer to switch it on.
 * - `loading`: the sounds are being made; say so.
 * - `ready`: nothing.
 * - `blocked`: the browser holds the sound back or the output stands still; say that the bells are not
 *   heard, and offer a button that calls `wake` (a press is what browsers wait for).
 * - `failed`: the sounds could not be made or the output is gone; say so, tell to check the loudspeaker, and
 *   offer the same button: `wake` starts anew.
 * In both the ringer goes on trying by itself for as long as cues are planned, and comes back without a hand
 * where the browser lets it.
 * The session goes on in every state; the screen then is the only bell.
 */
export type RingerState = 'off' | 'loading' | 'ready' | 'blocked' | 'failed';

export interface Ringer {
	readonly state: RingerState;
	/**
	 * Makes the sounds ahead, which holds a slow page for the better part of a second, so that the first packets after Start
	 * are not kept waiting by it. The output stays shut. Where it fails, `wake` tries again.
	 */
	prepare(): void;
	/**
	 * Switches the sound on, or on again. To be called in the handler of a press. Resolves once the sounds
	 * are made, never rejects: `state` tells how it went.
	 */
	wake(): Promise<void>;
	/** Takes back everything to come and plans these cues instead; `originMs` is elapsed 0 on the clock. */
	schedule(cues: readonly Cue[], originMs: number): void;
	/** Follows the output's drift and plans further ahead. Cheap, for each packet. */
	topUp(): void;
	/** Rings now, if it can be heard now. */
	ring(sound: Sound): void;
	/** Takes over volume, delay and keep-awake; what is switched off is for `cuesOf` and whoever calls `ring`. */
	configure(settings: BellSettings): void;
	/** The answer ends the listening. */
	onChange(listener: () => void): () => void;
	/** Silence, and the output given back. `wake` starts anew. */
	close(): void;
}

// Sound cards run off by up to some 100 parts in a million: 2 ms in this time.
const longestWaitMs = 20_000;
const shortestWaitMs = 1000;
/** An output that is gone is opened anew so often, while there is something to ring. */
const reopenEveryMs = 5000;

/**
 * Rings cues on their moments. The audio clock starts the sounds, so a busy or hidden page does not delay
 * them; each is heard at its cue's time less `delayMs`, as exactly as the browser knows its output's latency.
 * A cue more than 50 ms past is not rung late (200 ms where it comes with a new plan). Nothing here throws.
 *
 * @param options `clock` must be the page's, at its own speed: sound cannot be hurried
 */
export function createRinger(
	options: { clock: Clock; settings: BellSettings },
	world: RingerWorld = browserWorld
): Ringer {
	const { clock } = options;
	const plan = new CuePlan(clock);
	const listeners = new Set<() => void>();
	let { settings } = options;
	let output: AudioOutput | undefined;
	let sounds: Record<Sound, AudioBuffer> | undefined;
	let rendering: { sampleRate: number; done: Promise<Record<Sound, AudioBuffer>> } | undefined;
	let state: RingerState = 'off';
	let cancelWake: (() => void) | undefined;
	let stopWatchingDevices: (() => void) | undefined;
	let isResuming = false;

	function become(next: RingerState) {
		if (next === state) return;
		state = next;
		for (const listener of listeners) listener();
	}

	/** A browser that loses its output may throw from any of its calls; the session must not notice. */
	function guarded(act: () => void) {
		try {
			act();
		} catch {
			fail();
		}
	}

	function letGo() {
		cancelWake?.();
		output?.close();
		output = undefined;
		isResuming = false;
		plan.forget();
	}

	function fail() {
		letGo();
		become('failed');
		tryLater();
	}

	function tryLater() {
		cancelWake?.();
		if (plan.toNextMs !== undefined) cancelWake = clock.wakeAt(clock.nowMs() + reopenEveryMs, reopen);
	}

	/** A loudspeaker that was pulled out may be back. */
	function reopen() {
		const isStuck = state === 'blocked' && output?.context.state === 'running';
		if (isStuck) letGo();
		if (isStuck || state === 'failed') void wake();
		else topUp();
	}

	/** Once at a time: the answer is pending for as long as the browser holds the sound back. */
	function resume({ context }: AudioOutput) {
		if (isResuming) return;
		isResuming = true;
		const settle = () => void (isResuming = false);
		context.resume().then(settle, settle);
	}

	function open() {
		const context = world.createContext();
		output = audioOutput(context, settings);
		context.onstatechange = () => (context.state === 'closed' ? fail() : topUp());
		context.addEventListener('error', () => output?.context === context && fail());
	}

	function soundsAt(sampleRate: number) {
		if (rendering?.sampleRate !== sampleRate)
			rendering = { sampleRate, done: world.renderSounds(sampleRate) };
		return rendering.done;
	}

	function lookAfter() {
		if (!output) return;
		cancelWake?.();
		if (!sounds) return become('loading');
		const isRunning = output.isRunning(clock.nowMs());
		become(isRunning ? 'ready' : 'blocked');
		if (isRunning) plan.lookAfter(output, sounds, settings.delayMs);
		else {
			// What stays planned in a clock that stands still rings late by as long as it stood.
			plan.takeBack(output);
			// After a call or a change of loudspeaker some browsers wait to be asked.
			resume(output);
		}
		if (plan.toNextMs === undefined) return;
		// Shortly before a bell once more, so that it rings on the freshest reading of the two clocks.
		const toBellMs = isRunning ? plan.toNextMs - shortestWaitMs : 0;
		const waitMs = Math.min(longestWaitMs, Math.max(shortestWaitMs, toBellMs));
		cancelWake = clock.wakeAt(clock.nowMs() + waitMs, topUp);
	}

	function topUp() {
		guarded(lookAfter);
	}

	async function wake() {
		stopWatchingDevices ??= world.onDevicesChange(reopen);
		guarded(() => {
			if (!output) open();
			// In a press, so not spared where another is pending: that may be what the browser waits for.
			output?.context.resume().catch(() => {});
			lookAfter();
		});
		if (!output) return;
		const woken = output;
		try {
			sounds = await soundsAt(woken.context.sampleRate);
		} catch {
			rendering = undefined;
			if (output === woken) fail();
		}
		topUp();
	}

	return {
		get state() {
			return state;
		},
		prepare() {
			const make = async () => soundsAt(world.outputRate());
			if (!rendering) make().catch(() => (rendering = undefined));
		},
		wake,
		schedule(cues, originMs) {
			guarded(() => {
				plan.replace(cues, originMs, output);
				if (state === 'failed') tryLater();
				else lookAfter();
			});
		},
		topUp,
		ring(sound) {
			guarded(() => {
				if (output && sounds && state === 'ready') output.start(sound, sounds[sound], 0);
			});
		},
		configure(newSettings) {
			guarded(() => {
				settings = newSettings;
				output?.configure(settings);
				lookAfter();
			});
		},
		onChange(listener) {
			listeners.add(listener);
			return () => void listeners.delete(listener);
		},
		close() {
			stopWatchingDevices?.();
			stopWatchingDevices = undefined;
			letGo();
			plan.replace([], 0, undefined);
			become('off');
		}
	};
}
