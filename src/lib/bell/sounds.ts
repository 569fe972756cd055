import type { Sound } from './sound';
import { levelled } from './level';
import { repeated } from './repeated';
import { tone } from './tone-library';

type Tone = typeof tone;

/** A tone that is struck and dies away: pitch in Hz, loudness 0 to 1, seconds until it is gone. */
type BellPartial = readonly [hz: number, level: number, decayS: number];

// Not multiples of one another, as in any bell: the ear hears metal. The strongest lies where small
// loudspeakers and tired ears are best, and the short high ones are the clank of the striker.
const bellPartials: readonly BellPartial[] = [
	[742, 0.2, 2.8],
	[1213, 0.45, 2.6],
	[1489, 1, 2.4],
	[1495, 0.5, 2.4],
	[2071, 0.4, 1.2],
	[2794, 0.16, 0.5],
	[3617, 0.08, 0.2]
];

function struck(tone: Tone, lengthOfAll: number) {
	for (const [hz, level, decayS] of bellPartials) {
		const envelope = new tone.AmplitudeEnvelope({
			attack: 0.002,
			decay: decayS * lengthOfAll,
			sustain: 0,
			release: 0.01
		}).toDestination();
		new tone.Oscillator(hz, 'sine').connect(envelope).start(0);
		envelope.triggerAttack(0, level);
	}
}

/** Two flat pieces of wood: a burst of noise, gone within a few hundredths of a second. */
function clapped(tone: Tone) {
	const envelope = new tone.AmplitudeEnvelope({ attack: 0.001, decay: 0.09, sustain: 0, release: 0.01 });
	// Bands rather than one broad hiss: wood answers at its own pitches.
	for (const [hz, q, share] of [
		[2950, 7, 0.8],
		[3450, 6, 1],
		[4050, 8, 0.8]
	] as const) {
		const band = new tone.Gain(share).connect(envelope);
		const filter = new tone.Filter({ type: 'bandpass', frequency: hz, Q: q, rolloff: -24 }).connect(band);
		new tone.Noise('white').connect(filter).start(0);
	}
	envelope.toDestination().triggerAttack(0);
}

/** A pea whistle: the pea shuts the hole some thirty times a second, so pitch and loudness tremble together. */
function whistled(tone: Tone, lengthS: number) {
	const envelope = new tone.AmplitudeEnvelope({ attack: 0.02, decay: 0.05, sustain: 0.9, release: 0.06 });
	const trill = new tone.Gain(0.65).connect(envelope);
	new tone.LFO({ frequency: 31, min: 0.35, max: 0.95 }).connect(trill.gain).start(0);
	for (const [hz, level] of [
		[2620, 0.7],
		[2790, 0.5]
	] as const) {
		const pipe = new tone.Oscillator(hz, 'sine').connect(new tone.Gain(level).connect(trill)).start(0);
		new tone.LFO({ frequency: 31, min: -45, max: 45 }).connect(pipe.detune).start(0);
	}
	const breath = new tone.Filter({ type: 'bandpass', frequency: 2700, Q: 3, rolloff: -24 });
	breath.connect(new tone.Gain(0.12).connect(trill));
	new tone.Noise('white').connect(breath).start(0);
	envelope.toDestination().triggerAttackRelease(lengthS, 0);
}

/** A soft-edged note. */
function hummed(tone: Tone, hz: number, lengthS: number) {
	const envelope = new tone.AmplitudeEnvelope({ attack: 0.012, decay: 0.01, sustain: 0.9, release: 0.05 });
	new tone.Oscillator(hz, 'sine').connect(envelope).start(0);
	envelope.toDestination().triggerAttackRelease(lengthS, 0);
}

interface Recipe {
	/** Of one stroke, until it is gone. */
	lengthS: number;
	play: (tone: Tone) => void;
	/** When it is struck again. */
	againS?: readonly number[];
}

const recipes: Record<Sound, Recipe> = {
	'round start': { lengthS: 3, play: (tone) => struck(tone, 1) },
	'round end': { lengthS: 2.4, play: (tone) => struck(tone, 0.7), againS: [0.28, 0.56] },
	clapper: { lengthS: 0.3, play: clapped, againS: [0.13, 0.26] },
	whistle: { lengthS: 0.9, play: (tone) => whistled(tone, 0.7) },
	count: { lengthS: 0.3, play: (tone) => hummed(tone, 1046, 0.1) },
	pulse: { lengthS: 0.4, play: (tone) => hummed(tone, 650, 0.09), againS: [0.2, 0.4] }
};

/**
 * Every sound, synthesised once and ready to be started on a moment: mono, audible from its first sample on,
 * peak at -2 dBFS. In the browser only; takes some tenths of a second and the download of the synthesiser, in a hidden
 * page too.
 *
 * @param sampleRate the output's own, in Hz, so that nothing is resampled while it rings
 */
export async function renderSounds(sampleRate: number): Promise<Record<Sound, AudioBuffer>> {
	const rendered = await Promise.all(
		Object.entries(recipes).map(async ([sound, { lengthS, play, againS = [] }]) => {
			const context = new tone.OfflineContext(1, lengthS, sampleRate);
			// Every node is made in the context that was set last.
			tone.setContext(context);
			play(tone);
			// Not `Offline`, which waits for a timer each second of sound: a page hidden right after Start is given one
			// timer a second, later one a minute, and the first bells would find no sounds.
			const stroke = (await context.render(false)).getChannelData(0);
			const samples = levelled(repeated(stroke, againS, sampleRate), sampleRate);
			const buffer = new AudioBuffer({ length: samples.length, numberOfChannels: 1, sampleRate });
			buffer.copyToChannel(samples, 0);
			return [sound, buffer];
		})
	);
	return Object.fromEntries(rendered) as Record<Sound, AudioBuffer>;
}
