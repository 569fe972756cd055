import { bandFarBeats, bandNearBeats } from './landing-geometry';

/** A round as the rope shows it. */
export interface RopeRound {
	round: number;
	/** `resting`: boxed, and its minute is not over yet. */
	state: 'done' | 'now' | 'resting' | 'to come';
	/** Absent where the rest is still to come or could not be measured. */
	drop60?: number;
	/** Against the band of 40 to 60 beats. */
	judged?: 'under' | 'in' | 'over' | 'not judged';
}

/** Longer drops are drawn to this length; the figure beside them stays true. */
const longestDropBeats = 70;

const widestStepPx = 160;
/** Room at the left for the figures of the band. */
export const scaleRoomPx = 34;
/** Half the height of a post. */
export const postHalfPx = 17;

export interface RopeGeometry {
	/** Centre of the post of the round at this place in the row, from 0. */
	xOf(index: number): number;
	/** Y of a drop of so many beats; no drop, or a rise, ends at the rope. */
	yOf(drop: number): number;
	ropeY: number;
	bandTop: number;
	bandBottom: number;
	/** Pixels from post to post. */
	stepPx: number;
}

/** Places a row of rounds in a picture of this size: posts on the rope, drops from 0 to 70 beats hanging below. */
export function ropeGeometry(count: number, widthPx: number, heightPx: number): RopeGeometry {
	const stepPx = Math.min(widestStepPx, (widthPx - scaleRoomPx) / Math.max(1, count));
	const ropeY = postHalfPx + 2;
	const floorY = heightPx - 4;
	const yOf = (drop: number) =>
		ropeY + (Math.min(Math.max(drop, 0), longestDropBeats) / longestDropBeats) * (floorY - ropeY);
	return {
		xOf: (index) => scaleRoomPx + stepPx * (index + 0.5),
		yOf,
		ropeY,
		bandTop: yOf(bandNearBeats),
		bandBottom: yOf(bandFarBeats),
		stepPx
	};
}

export function isSameRope(one: readonly RopeRound[], other: readonly RopeRound[]): boolean {
	const isSame = (a: RopeRound, b: RopeRound | undefined) =>
		a.round === b?.round && a.state === b.state && a.drop60 === b.drop60 && a.judged === b.judged;
	return one.length === other.length && one.every((round, i) => isSame(round, other[i]));
}

/** The rope in words, for those who do not see it. */
export function ropeWords(rounds: readonly RopeRound[]): string {
	const words = rounds.map(({ round, state, drop60, judged = 'not judged' }) => {
		if (drop60 !== undefined) {
			const verdict = judged === 'not judged' ? judged : `${judged} the band`;
			return `round ${round} dropped ${Math.round(drop60)}, ${verdict}`;
		}
		return state === 'done' ? `round ${round} done, no drop` : `round ${round} ${state}`;
	});
	return `Rounds so far: ${words.join('; ')}`;
}
