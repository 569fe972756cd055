import type { Sound } from './sound';
import type { BellSettings } from './settings';

// Just above what browsers and speakers take for silence; nobody hears it in a gym.
const keepAwakeLevel = 0.001;
// -180 dBFS: no loudspeaker moves for it, and no browser counts it as sound.
const floorLevel = 1e-9;
const standstillMs = 1000;

/** One audio context with a volume, and one for each sound, from its opening to its closing. */
export interface AudioOutput {
	readonly context: AudioContext;
	start(sound: Sound, buffer: AudioBuffer, startS: number): AudioBufferSourceNode;
	configure(settings: BellSettings): void;
	/** Whether the output can be heard, as seen now. */
	isRunning(nowMs: number): boolean;
	close(): void;
}

/** Stops a source whether it has begun or not, and forgets it. */
export function silence(source: AudioBufferSourceNode) {
	source.onended = null;
	source.stop();
	source.disconnect();
}

function humOf(context: AudioContext): AudioBufferSourceNode {
	const noise = context.createBuffer(1, 2 * context.sampleRate, context.sampleRate);
	const samples = noise.getChannelData(0);
	for (let i = 0; i < samples.length; i++) samples[i] = (Math.random() * 2 - 1) * keepAwakeLevel;
	const hum = context.createBufferSource();
	hum.buffer = noise;
	hum.loop = true;
	hum.connect(context.destination);
	hum.start();
	return hum;
}

/**
 * After half a minute of zeros Chromium lets the loudspeaker go and drives the context by a timer, which loses time
 * where the machine is busy, and takes the loudspeaker up again with the next stroke. Anything but zeros keeps it.
 */
function keepClock(context: AudioContext) {
	const floor = context.createConstantSource();
	floor.offset.value = floorLevel;
	floor.connect(context.destination);
	floor.start();
}

export function audioOutput(context: AudioContext, settings: BellSettings): AudioOutput {
	const master = context.createGain();
	master.connect(context.destination);
	/** One for each sound that has rung. */
	const levels = new Map<Sound, GainNode>();
	let current = settings;
	let hum: AudioBufferSourceNode | undefined;
	let seen = { audioS: -1, atMs: 0 };

	// The ear hears ratios: squared, the middle of a slider sounds about half as loud.
	const gainAt = (slider: number) => slider * slider;

	function levelOf(sound: Sound): GainNode {
		const known = levels.get(sound);
		if (known) return known;
		const level = context.createGain();
		level.gain.value = gainAt(current.levels?.[sound] ?? 1);
		level.connect(master);
		levels.set(sound, level);
		return level;
	}

	function configure(next: BellSettings) {
		current = next;
		const { volume, keepAwake } = next;
		master.gain.value = gainAt(volume);
		for (const [sound, { gain }] of levels) gain.value = gainAt(next.levels?.[sound] ?? 1);
		if (keepAwake) hum ??= humOf(context);
		else if (hum) {
			silence(hum);
			hum = undefined;
		}
	}
	configure(settings);
	keepClock(context);

	return {
		context,
		start(sound, buffer, startS) {
			const source = context.createBufferSource();
			source.buffer = buffer;
			source.connect(levelOf(sound));
			source.onended = () => source.disconnect();
			source.start(startS);
			return source;
		},
		configure,
		isRunning(nowMs) {
			if (context.state !== 'running') {
				seen = { audioS: -1, atMs: nowMs };
				return false;
			}
			// An output that says it runs while its clock stands still has vanished: no event tells.
			if (context.currentTime === seen.audioS) return nowMs - seen.atMs <= standstillMs;
			seen = { audioS: context.currentTime, atMs: nowMs };
			return true;
		},
		close() {
			context.onstatechange = null;
			if (context.state !== 'closed') context.close().catch(() => {});
		}
	};
}
