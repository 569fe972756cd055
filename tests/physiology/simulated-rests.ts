import type { Seconds } from '$lib/physiology/grid';
import { gridAround, withGaps, type chanceFrom } from './builders';

type Chance = ReturnType<typeof chanceFrom>;

/** How far the heart has fallen, bpm, so many seconds after it began to fall. */
type Fall = (s: number) => number;

/** The second of the bell in every simulated rest. */
export const simulatedBellS = 20;
const lengthS = 60;

/** One heart with its strap: what stays the same from rest to rest. */
export interface SimulatedHeart {
	topBpm: number;
	fall: Fall;
	flatS: number;
	/** Of single beats, as a share of the interval: breathing, and a slow wander. */
	breathing: number;
	wander: number;
	smoothedS: number;
	lateS: number;
}

const exponential = (amplitude: number, tauS: number): Fall => {
	return (s) => amplitude * (1 - Math.exp(-s / tauS));
};

/** Time constants from those of lying to those of pedalling athletes and beyond (Barak et al. 2011: 32 to 74 s). */
const oneExponential = (chance: Chance): Fall => exponential(chance.between(30, 90), chance.between(25, 130));

/** A fast fall that goes over into a slow one, as after hard work (Pierpont et al. 2000). */
function twoExponentials(chance: Chance): Fall {
	const amplitude = chance.between(50, 105);
	const fastShare = chance.between(0.3, 0.75);
	const fast = exponential(fastShare * amplitude, chance.between(10, 38));
	const slow = exponential((1 - fastShare) * amplitude, chance.between(90, 320));
	return (s) => fast(s) + slow(s);
}

const fastRecoverer = (chance: Chance): Fall => exponential(chance.between(50, 95), chance.between(14, 34));

/** A fall with no exponential in it: the rate of the fall goes down with the square of the time. */
function hyperbolic(chance: Chance): Fall {
	const amplitude = chance.between(45, 120);
	const halfS = chance.between(20, 80);
	return (s) => (amplitude * s) / (s + halfS);
}

const falls = {
	'one exponential': oneExponential,
	'two exponentials': twoExponentials,
	'fast recoverers': fastRecoverer,
	'no exponential': hyperbolic
};

export type Family = keyof typeof falls;
export const families = Object.keys(falls) as Family[];

/** Flat for 0 to 20 s after the bell; a strap that smooths over 3 to 8 s and is 0.5 to 3 s late. */
export function simulatedHeart(family: Family, chance: Chance): SimulatedHeart {
	return {
		topBpm: chance.between(160, 194),
		fall: falls[family](chance),
		flatS: chance.between(0, 20),
		breathing: chance.between(0, 0.012),
		wander: chance.between(0.002, 0.01),
		smoothedS: chance.between(3, 8),
		lateS: chance.between(0.5, 3)
	};
}

/** One rest, beat by beat: each second shows the mean of the intervals that ended in the strap's window, in whole beats. */
export function simulatedRest(heart: SimulatedHeart, chance: Chance): Seconds {
	const { topBpm, fall, flatS, breathing, wander, smoothedS, lateS } = heart;
	const climbBpmPerS = chance.between(0, 0.25);
	const breathsPerS = chance.between(0.4, 0.8);
	const beats: { atS: number; intervalS: number }[] = [];
	let drift = 0;
	for (let atS = -simulatedBellS - 20; atS < lengthS;) {
		const bpm =
			atS < 0 ? topBpm + climbBpmPerS * Math.max(-30, atS) : topBpm - fall(Math.max(0, atS - flatS));
		// The slow wander leans on the beat before by 0.96, so that it lasts for about 8 s.
		drift = 0.96 * drift + Math.sqrt(1 - 0.96 ** 2) * chance.normal();
		const breath = Math.sin(2 * Math.PI * breathsPerS * atS);
		const intervalS = (60 / bpm) * (1 + breathing * breath + wander * drift + 0.004 * chance.normal());
		atS += intervalS;
		beats.push({ atS, intervalS });
	}
	const seconds = gridAround(simulatedBellS, lengthS, (s) => {
		const toS = s + 1 - lateS;
		const heard = beats.filter(({ atS }) => atS > toS - smoothedS && atS <= toS);
		return Math.round((60 * heard.length) / heard.reduce((sum, { intervalS }) => sum + intervalS, 0));
	});
	const isLossy = chance.between(0, 1) < 0.3;
	const lostFromS = Math.floor(chance.between(0, 50));
	const lost = Array.from(
		{ length: Math.floor(chance.between(1, 7)) },
		(_, i) => simulatedBellS + lostFromS + i
	);
	return isLossy ? withGaps(seconds, lost) : seconds;
}

/** The same heart in another rest: it falls a little more or less, and earlier or later. */
export function again(heart: SimulatedHeart, chance: Chance): SimulatedHeart {
	const size = Math.exp(0.14 * chance.normal());
	const flatS = Math.max(0, heart.flatS + 2 * chance.normal());
	return { ...heart, flatS, fall: (s) => size * heart.fall(s) };
}
