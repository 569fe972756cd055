import { bandFarBeats, bandNearBeats } from './landing-geometry';
import type { RopeRound } from '$lib/session/rope';

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
		a.round === b?.round &&
		a.state === b.state &&
		a.drop60 === b.drop60 &&
		a.judged === b.judged &&
		a.begins === b.begins;
	return one.length === other.length && one.every((round, i) => isSame(round, other[i]));
}

/** The rope in words, for those who do not see it. */
export function ropeWords(rounds: readonly RopeRound[]): string {
	const words = rounds.map(({ begins, ...round }) => `${begins ? `${begins}: ` : ''}${roundWords(round)}`);
	return `Rounds so far: ${words.join('; ')}`;
}

function roundWords({ round, state, drop60, judged = 'not judged' }: RopeRound): string {
	if (drop60 !== undefined) {
		const verdict = judged === 'not judged' ? judged : `${judged} the band`;
		return `round ${round} dropped ${Math.round(drop60)}, ${verdict}`;
	}
	return state === 'done' ? `round ${round} done, no drop` : `round ${round} ${state}`;
}

/** Where the blocks of a row lie, and what is done in them; none where the session is of one. */
export function blocksOnRope(
	rounds: readonly RopeRound[],
	{ xOf, stepPx }: Pick<RopeGeometry, 'xOf' | 'stepPx'>
) {
	const begun = rounds.flatMap(({ begins }, index) => (begins ? { index, words: begins } : []));
	return begun.map(({ index, words }, i) => {
		const fromPx = xOf(index) - stepPx / 2;
		const toPx = xOf((begun[i + 1]?.index ?? rounds.length) - 1) + stepPx / 2;
		// Some seven pixels a letter: what has no room is said at the clock.
		return { fromPx, isNamed: toPx - fromPx > words.length * 7 + 12, words, isFirst: i === 0 };
	});
}
