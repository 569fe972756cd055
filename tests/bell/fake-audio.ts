import { allSounds, type Sound } from '$lib/bell/sound';
import type { RingerWorld } from '$lib/bell/ringer-world';
import { manualClock } from '$lib/time/manual-clock';

interface FakeGain {
	gain: { value: number };
	to?: FakeGain;
}

interface FakeSource {
	buffer: unknown;
	startS?: number;
	loop: boolean;
	to?: FakeGain;
	stopped: boolean;
}

/** What somebody beside the loudspeaker heard, on the page's clock. */
export interface Heard {
	sound: Sound;
	atMs: number;
}

/**
 * An audio output without a loudspeaker. Its clock follows the manual clock, which also is the page's, at
 * `rate`, while the context runs; what is heard comes `latencyS` later. What is started or stopped takes effect behind
 * the `burstS` that the audio thread has reckoned by then.
 */
export function fakeAudio({
	latencyS = 0,
	burstS = 0,
	state = 'running' as AudioContextState,
	sampleRate = 48_000
} = {}) {
	const clock = manualClock();
	const audio = {
		clock,
		latencyS,
		contextsOpened: 0,
		sourcesMade: 0,
		sources: [] as FakeSource[],
		/** Set to let the audio clock run off, or stand still though the context says it runs. */
		setRate(rate: number) {
			settle();
			anchor = { audioS: audioS(), pageMs: clock.nowMs() };
			currentRate = rate;
		},
		setState(next: AudioContextState) {
			settle();
			anchor = { audioS: audioS(), pageMs: clock.nowMs() };
			currentState = next;
			context.onstatechange?.(new Event('statechange'));
		},
		/** Every start of a sound throws this. */
		failWith: undefined as string | undefined,
		/** Every opening of a context throws this. */
		cannotOpen: undefined as string | undefined,
		/** What the browser does when it is asked to go on. */
		onResume: (): Promise<void> => Promise.resolve(),
		/** A loudspeaker came or went. */
		changeDevices: () => onDevices?.(),
		emitError: () => onError?.(),
		isNeverAllZeros: false,
		loopsRunning: () => audio.sources.filter(({ loop, stopped }) => loop && !stopped).length,
		/** Every stroke that was not taken back before it began, at the moment it left the loudspeaker. */
		heard(): Heard[] {
			settle();
			return heard.toSorted((a, b) => a.atMs - b.atMs);
		},
		/** What the gains between each source and the loudspeaker come to, in order of the sources' making. */
		gains: () => audio.sources.map(({ to }) => gainTo(to)),
		world: {} as RingerWorld
	};
	let anchor = { audioS: 0, pageMs: 0 };
	let currentRate = 1;
	let currentState = state;
	let onError: (() => void) | undefined;
	let onDevices: (() => void) | undefined;
	const heard: Heard[] = [];

	const audioS = () =>
		anchor.audioS + (currentState === 'running' ? ((clock.nowMs() - anchor.pageMs) / 1000) * currentRate : 0);

	/** Moves strokes whose start has come, or comes within `aheadS`, from planned to heard. */
	function settle(aheadS = 0) {
		for (const source of audio.sources) {
			if (source.startS === undefined || source.stopped || source.loop || source.startS > audioS() + aheadS)
				continue;
			const agoMs = ((audioS() - source.startS) * 1000) / (currentRate || 1);
			heard.push({ sound: source.buffer as Sound, atMs: clock.nowMs() - agoMs + audio.latencyS * 1000 });
			source.stopped = true;
		}
	}

	function gainTo(node: FakeGain | undefined): number {
		return node?.gain ? node.gain.value * gainTo(node.to) : 1;
	}

	function makeSource() {
		const source: FakeSource = { buffer: undefined, loop: false, stopped: false };
		audio.sources.push(source);
		audio.sourcesMade++;
		return Object.assign(source, {
			connect(to: FakeGain) {
				source.to = to;
			},
			disconnect() {},
			start(atS = 0) {
				if (audio.failWith) throw new Error(audio.failWith);
				source.startS = Math.max(atS, audioS() + burstS);
			},
			stop() {
				settle(burstS);
				source.stopped = true;
			}
		});
	}

	const context = {
		onstatechange: null as ((event: Event) => void) | null,
		sampleRate,
		destination: {},
		baseLatency: 0.01,
		get outputLatency() {
			return audio.latencyS;
		},
		get state() {
			return currentState;
		},
		get currentTime() {
			return audioS();
		},
		getOutputTimestamp: () =>
			audioS() > audio.latencyS
				? { contextTime: audioS() - audio.latencyS, performanceTime: clock.nowMs() }
				: { contextTime: 0, performanceTime: 0 },
		createGain() {
			const made = {
				gain: { value: 1 },
				to: undefined as FakeGain | undefined,
				connect: (to: FakeGain) => (made.to = to)
			};
			return made;
		},
		createBuffer: (_: number, length: number) => ({ getChannelData: () => new Float32Array(length) }),
		createBufferSource: makeSource,
		createConstantSource: () => ({
			offset: { value: 1 },
			connect() {},
			start() {
				audio.isNeverAllZeros = true;
			}
		}),
		addEventListener: (_: string, listener: () => void) => (onError = listener),
		resume: () => audio.onResume(),
		close() {
			settle();
			audio.sources.length = 0;
			return Promise.resolve();
		}
	};

	audio.world = {
		outputRate: () => sampleRate,
		createContext() {
			audio.contextsOpened++;
			if (audio.cannotOpen) throw new Error(audio.cannotOpen);
			return context as unknown as AudioContext;
		},
		onDevicesChange(listener) {
			onDevices = listener;
			return () => (onDevices = undefined);
		},
		// The buffer of a sound is its name.
		renderSounds: () =>
			Promise.resolve(
				Object.fromEntries(allSounds.map((sound) => [sound, sound])) as unknown as Record<Sound, AudioBuffer>
			)
	};
	return audio;
}
