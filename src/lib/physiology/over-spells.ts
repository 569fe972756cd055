import type { Seconds } from './grid';
import {
	defaultMinSpellS,
	OverThresholdCounter,
	plannedWorkOf,
	type OverNow,
	type OverThresholdOptions,
	type Span,
	type WorkRound
} from './over-threshold';

/** A stretch over the threshold that counts: [startS, endS) of the grid, outside the closing burst or inside it. */
export interface OverSpell extends Span {
	inBurst: boolean;
}

/**
 * Counts the seconds of one round of a grid, in order. Whatever is told of a round's time over the threshold (rows,
 * bands, pictures) is read off this one walk, so that all of it agrees to the second.
 *
 * @param thresholdBpm unrounded, more than 0
 * @param onWork told of each second of work that was not paused: its place in the grid, its rate, what it came to
 * @throws RangeError where the threshold is no such number
 */
export function countRound(
	seconds: Seconds,
	round: WorkRound,
	thresholdBpm: number,
	options: OverThresholdOptions = {},
	onWork?: (s: number, bpm: number, now: OverNow) => void
): OverThresholdCounter {
	const counter = new OverThresholdCounter(thresholdBpm, plannedWorkOf(round), options);
	// A round that still runs ends, for now, with the grid.
	for (let s = Math.ceil(round.startS - 0.5); s + 0.5 < round.endS && s < seconds.length; s++) {
		const bpm = seconds[s] ?? NaN;
		const now = counter.take(bpm, s, round);
		if (now) onWork?.(s, bpm, now);
	}
	return counter;
}

/**
 * Where the seconds of `overThreshold` lie, in order. A spell that reaches into the closing burst comes as two
 * stretches. All together they are `overS` long outside the burst and `burstOverS` inside it.
 *
 * @param thresholdBpm unrounded, more than 0
 * @throws RangeError where the threshold is no such number
 * @example
 * const seconds = new Float64Array(180).fill(172);
 * overSpells(seconds, { startS: 0, endS: 180, plannedEndS: 180 }, 165);
 * // 0 to 170 outside the burst, 170 to 180 inside it
 */
export function overSpells(
	seconds: Seconds,
	round: WorkRound,
	thresholdBpm: number,
	options: OverThresholdOptions = {}
): OverSpell[] {
	const spells: OverSpell[] = [];
	let open: OverSpell[] = [];
	let openS = 0;
	const close = () => {
		if (openS >= (options.minSpellS ?? defaultMinSpellS)) spells.push(...open);
		open = [];
		openS = 0;
	};
	countRound(seconds, round, thresholdBpm, options, (s, _bpm, { overForS, inBurst }) => {
		if (overForS <= 1) close();
		if (overForS === 0) return;
		openS = overForS;
		const last = open.at(-1);
		if (last?.inBurst === inBurst) last.endS = s + 1;
		else open.push({ startS: s, endS: s + 1, inBurst });
	});
	close();
	return spells;
}
