import type { Phase } from '$lib/rounds/timeline';
import type { LiveRound } from './counted';
import type { RestView } from './live-rest';
import type { CornerView, LiveView } from './live-view';

/**
 * What the tab that records tells the others: enough to go on with the clock until the next word. `view.elapsedMs` is
 * the anchor, the moment at which it was told.
 */
export interface LiveSnapshot {
	view: LiveView;
	timeline: readonly Phase[];
	/** So many times as fast as life the session runs. */
	speed: number;
}

/** A rest whose points are its rates alone: the first stands for second 1 after the bell. */
export type PackedRest = Omit<RestView, 'points'> & { points: (number | null)[] };
export type PackedRound = Omit<LiveRound, 'rest'> & { rest?: PackedRest };

/** From the item at `from` on the list is another: that of the phases, or that of a corner's rounds. */
export type Slice =
	| { of: 'timeline'; from: number; items: readonly Phase[] }
	| { of: number; from: number; items: readonly PackedRound[] };

/** A corner without the list that grows; a rest that is one of its rounds' is named by that round's index. */
export type PackedCorner = Omit<CornerView, 'rounds' | 'rest' | 'lastRest'> & {
	rest?: PackedRest | number;
	lastRest?: PackedRest | number;
};

/** One message. Only the words of one telling together say all that has changed; the last of them has the head. */
export interface Word {
	/** One more than that of the word before: whoever missed one must ask anew. */
	nr: number;
	/** Begins to tell everything, whatever was told before. */
	isAnew?: true;
	slices: Slice[];
	head?: { view: Omit<LiveView, 'corners'> & { corners: PackedCorner[] }; speed: number };
}

/** Characters of JSON that the slices of one word come to at most, beside a single item that is longer (own rule). */
const mostInWord = 10_000;
/** The head of eight corners comes to some 6,000; what has changed within a phase goes with it. */
const mostBesideHead = 9_000;

/** The last round of a corner as it was told: those before it change no more. */
interface ToldRounds {
	count: number;
	last?: { round: LiveRound; over: LiveRound['over']; rest: LiveRound['rest'] };
}

/**
 * Says what has changed of a session since it was told before, so that a word stays as short after six hours as after
 * one round; and all of it in pieces where somebody has just come.
 */
export class Teller {
	#nr = 0;
	#timeline: readonly Phase[] | undefined;
	#rounds = new Map<number, ToldRounds>();

	/** @param isAnew everything, because somebody knows nothing yet; the first time it is everything anyhow */
	wordsFor({ view, timeline, speed }: LiveSnapshot, isAnew: boolean): Word[] {
		const isWhole = isAnew || this.#timeline === undefined;
		if (isWhole) this.#rounds = new Map();
		const slices = [
			...phasesSince(isWhole ? [] : this.#timeline!, timeline, isWhole),
			...view.corners.flatMap((corner) => roundsSince(this.#rounds.get(corner.corner), corner))
		];
		this.#timeline = timeline;
		this.#rounds = new Map(view.corners.map(({ corner, rounds }) => [corner, asTold(rounds)]));
		const pieces = inPieces(slices);
		const isShort = pieces.length === 0 || (pieces.length === 1 && sizeOf(pieces[0]) <= mostBesideHead);
		const beside = isShort ? (pieces.pop() ?? []) : [];
		const head = { view: { ...view, corners: view.corners.map(packedCorner) }, speed };
		const words: Word[] = [
			...pieces.map((slices) => ({ nr: this.#nr++, slices })),
			{ nr: this.#nr++, slices: beside, head }
		];
		if (isWhole) words[0]!.isAnew = true;
		return words;
	}
}

const sizeOf = (value: unknown) => JSON.stringify(value).length;
const isSame = (one: Phase | undefined, other: Phase) =>
	one === other || (one !== undefined && JSON.stringify(one) === JSON.stringify(other));

function phasesSince(before: readonly Phase[], now: readonly Phase[], isWhole: boolean): Slice[] {
	if (before === now && !isWhole) return [];
	const differs = now.findIndex((phase, i) => !isSame(before[i], phase));
	const from = differs === -1 ? now.length : differs;
	return [{ of: 'timeline', from, items: now.slice(from) }];
}

function roundsSince(told: ToldRounds | undefined, { corner, rounds }: CornerView): Slice[] {
	if (!told) return [{ of: corner, from: 0, items: rounds.map(packedRound) }];
	// The last one known may have gone on, or never have been.
	const from = Math.max(0, Math.min(told.count, rounds.length) - 1);
	const last = rounds.at(-1);
	const isSame =
		told.count === rounds.length &&
		told.last?.round === last &&
		told.last?.over === last?.over &&
		told.last?.rest === last?.rest;
	return isSame ? [] : [{ of: corner, from, items: rounds.slice(from).map(packedRound) }];
}

function asTold(rounds: readonly LiveRound[]): ToldRounds {
	const round = rounds.at(-1);
	return { count: rounds.length, last: round && { round, over: round.over, rest: round.rest } };
}

/** The same slices, cut so that no piece is longer than a word may be. */
function inPieces(slices: readonly Slice[]): Slice[][] {
	const pieces: Slice[][] = [];
	let room = 0;
	for (const slice of slices) {
		// A list may have become shorter and nothing else.
		const items = slice.items.length > 0 ? slice.items : [undefined];
		items.forEach((item, i) => {
			const size = item === undefined ? 0 : sizeOf(item);
			if (pieces.length === 0 || size > room) {
				pieces.push([]);
				room = mostInWord;
			}
			room -= size;
			const piece = pieces.at(-1)!;
			const open = piece.at(-1);
			const added = item === undefined ? [] : [item];
			if (open?.of === slice.of)
				piece[piece.length - 1] = { ...open, items: [...open.items, ...added] } as Slice;
			else piece.push({ of: slice.of, from: slice.from + i, items: added } as Slice);
		});
	}
	return pieces;
}

const packedRest = (rest: RestView): PackedRest => ({ ...rest, points: rest.points.map(({ bpm }) => bpm) });
const packedRound = ({ rest, ...round }: LiveRound): PackedRound => ({
	...round,
	...(rest && { rest: packedRest(rest) })
});

function packedCorner({ rounds, rest, lastRest, ...corner }: CornerView): PackedCorner {
	const packed = (one: RestView) => {
		const at = rounds.findLastIndex((round) => round.rest === one);
		return at === -1 ? packedRest(one) : at;
	};
	return {
		...corner,
		...(rest && { rest: packed(rest) }),
		...(lastRest && { lastRest: packed(lastRest) })
	};
}
