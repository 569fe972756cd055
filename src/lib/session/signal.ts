import type { Strap } from '$lib/gatt/strap';
import { oldBeatMs } from '$lib/record/limits';
import type { LiveCorner } from './live-corner';

/** What the strap says at this moment: a rate, or in words why there is none and what to do. */
export type Signal = { bpm: number } | { bpm?: undefined; words: string; advice: string };

/** Whole seconds, from two minutes on whole minutes. */
const forSoLong = (ms: number) =>
	ms < 120_000 ? `${Math.max(0, Math.round(ms / 1000))} s` : `${Math.floor(ms / 60_000)} min`;

/**
 * The state of one corner's signal. `nowMs` is the clock's time, `elapsedMs` the session's. The browser
 * cannot tell a strap out of range from a flat or a taken one, so the advice names all three.
 */
export function signalOf(
	strap: Pick<Strap, 'state'> | undefined,
	corner: Pick<LiveCorner, 'bpmAt' | 'latestMs' | 'hasContact'>,
	nowMs: number,
	elapsedMs: number
): Signal {
	const state = strap?.state;
	if (state?.kind === 'lost') {
		return {
			words: `signal lost ${forSoLong(nowMs - state.sinceMs)} ago`,
			advice: state.isAdapterOff
				? 'Bluetooth is off or unplugged on this device. Switch it on: the page finds the strap again by itself; the clock goes on.'
				: 'The strap is out of range, flat, or taken by another program; or Bluetooth is off here. The page keeps trying; the clock goes on.'
		};
	}
	if (state?.kind === 'looking') return { words: 'looking', advice: 'Connecting to the strap.' };
	if (state?.kind !== 'connected') return { words: 'no strap', advice: 'Pair the strap again.' };
	const bpm = corner.bpmAt(elapsedMs);
	if (bpm !== undefined) return { bpm };
	if (corner.latestMs === undefined)
		return { words: 'no beat yet', advice: 'Connected, and waiting for a beat.' };
	if (elapsedMs - corner.latestMs > oldBeatMs) {
		return {
			words: `no beats for ${forSoLong(elapsedMs - corner.latestMs)}`,
			advice: 'The strap is connected and silent. If it stays so, take it off and put it on again.'
		};
	}
	if (!corner.hasContact) {
		return { words: 'no skin contact', advice: 'Wet the strap and pull it tighter.' };
	}
	return {
		words: 'no usable beat',
		advice: 'The strap sends a rate no heart has. Wet it and pull it tighter.'
	};
}
