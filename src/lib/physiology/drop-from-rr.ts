import type { CorrectedInterval } from './rr-intervals';
import { windowS } from './rest-taken';

const leastBeatsTimeS = 3;
const greatestCorrectedShare = 0.2;

/**
 * Drop at 60 read from the beats themselves, in bpm: 60,000 over the mean RR interval (ms) of the last 5 s before the bell,
 * less the same of seconds 55 to 59 after it. A second reading beside the strap's own drop, never mixed with it: a strap's
 * rate comes late and smoothed, so its drop reads a few beats low (Sabioni et al., Physiol Meas 2025;46:085001, abstract:
 * four chest straps late by 1.0 to 3.3 s in their rate and by 0.4 to 2.6 s in their intervals).
 *
 * A beat lies where its stretch of intervals puts it, and at the latest when its packet arrived. Own rule: the beats
 * of a window must fill 3 of its 5 s, at most one in five of them put right.
 *
 * Error: the drop's own, see `measureRest`; a beat more or less in a window moves it by under a beat in breathing of 5 %.
 *
 * @param corrected intervals from some seconds before the bell on, of one heart, see `cleanIntervals`
 * @param bellMs the bell, ms on the clock of the readings
 * @param restS the rest's length, whole seconds
 * @returns negative where the rate rose; undefined for a rest under 60 s or a window with too few or too many bad beats
 * @example dropFromRr60(cleanIntervals(intervalsOf(readings)).corrected, 180_000, 60) // 43.2
 */
export function dropFromRr60(
	corrected: readonly CorrectedInterval[],
	bellMs: number,
	restS: number
): number | undefined {
	if (restS < 60) return undefined;
	const beats = placed(corrected);
	const bellBpm = rateIn(beats, bellMs - windowS * 1000, bellMs);
	const rate60 = rateIn(beats, bellMs + (60 - windowS) * 1000, bellMs + 60_000);
	return bellBpm === undefined || rate60 === undefined ? undefined : bellBpm - rate60;
}

/** The intervals with the moment of the beat that ends each: a packet brings beats that are up to 2 s old. */
function placed(corrected: readonly CorrectedInterval[]): CorrectedInterval[] {
	let beatMs = 0;
	return corrected.map((interval) => {
		const { ms, rrMs, startsAnew } = interval;
		beatMs = startsAnew ? ms : Math.min(ms, beatMs + rrMs);
		return { ...interval, ms: beatMs };
	});
}

function rateIn(beats: readonly CorrectedInterval[], fromMs: number, toMs: number): number | undefined {
	const inside = beats.filter(({ ms }) => ms >= fromMs && ms < toMs);
	const timeMs = inside.reduce((sum, { rrMs }) => sum + rrMs, 0);
	const correctedCount = inside.filter(({ isCorrected }) => isCorrected).length;
	if (timeMs < leastBeatsTimeS * 1000 || correctedCount > greatestCorrectedShare * inside.length) {
		return undefined;
	}
	return (60_000 * inside.length) / timeMs;
}
