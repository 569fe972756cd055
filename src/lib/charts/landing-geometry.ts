/** The band a boxer's heart is expected to reach in the corner minute: common practice, no source. */
export const bandNearBeats = 40;
export const bandFarBeats = 60;

/** The second after the bell at which the drop is judged. */
export const judgedAtS = 60;

/** Where the strip begins: the last third of the minute, far enough out to aim at. */
const stripFromS = 42;

export interface LandingPoint {
	/** Seconds after the bell. */
	s: number;
	bpm: number | null;
}

export interface Box {
	left: number;
	right: number;
	top: number;
	bottom: number;
}

export interface LandingGeometry {
	xOf(s: number): number;
	yOf(bpm: number): number;
	bellY: number;
	/** The shaded strip: its upper edge lies 40 beats below the bell rate, its lower edge 60. */
	strip: Box;
	/** Seconds at the right edge. */
	endS: number;
}

/**
 * Lays one rest into a box of pixels: the bell at the left edge, a minute (or the rest so far, where it is
 * longer) to the right edge, and beats downwards. The heart often climbs for some seconds after the bell,
 * so there is room above the bell rate.
 */
export function landingGeometry(bellBpm: number, points: readonly LandingPoint[], box: Box): LandingGeometry {
	let highest = bellBpm + 10;
	let lowest = bellBpm - bandFarBeats - 8;
	let endS = judgedAtS;
	for (const { s, bpm } of points) {
		endS = Math.max(endS, s);
		if (bpm === null) continue;
		highest = Math.max(highest, bpm + 3);
		lowest = Math.min(lowest, bpm - 3);
	}
	const xOf = (s: number) => box.left + (s / endS) * (box.right - box.left);
	const yOf = (bpm: number) => box.top + ((highest - bpm) / (highest - lowest)) * (box.bottom - box.top);
	return {
		xOf,
		yOf,
		bellY: yOf(bellBpm),
		strip: {
			left: xOf(stripFromS),
			right: xOf(judgedAtS),
			top: yOf(bellBpm - bandNearBeats),
			bottom: yOf(bellBpm - bandFarBeats)
		},
		endS
	};
}

/** The trace as an SVG path; a second without a reading lifts the pen. */
export function tracePath(points: readonly LandingPoint[], { xOf, yOf }: LandingGeometry): string {
	let path = '';
	let penDown = false;
	for (const { s, bpm } of points) {
		if (bpm === null) {
			penDown = false;
			continue;
		}
		// Starting with a zero-length line makes a lone second visible as a dot of the round stroke.
		const at = `${xOf(s).toFixed(1)} ${yOf(bpm).toFixed(1)}`;
		path += penDown ? `L${at}` : `M${at}L${at}`;
		penDown = true;
	}
	return path;
}
