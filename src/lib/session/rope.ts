import type { Verdict } from '$lib/physiology/recovery';
import { judgedAtS } from '$lib/physiology/rest-taken';
import type { CornerView, LiveView } from './live-view';

/** A round as the strip over the live screen shows it. */
export interface RopeRound {
	round: number;
	/** `resting`: boxed, and its minute is not over yet. */
	state: 'done' | 'now' | 'resting' | 'to come';
	/** Absent where the rest is still to come or could not be measured. */
	drop60?: number;
	/** Against the band of 40 to 60 beats. */
	judged?: 'under' | 'in' | 'over' | 'not judged';
	/** A block begins with it, and this is done in it; absent where the session is of one. */
	begins?: string;
}

const judged: Record<Verdict, RopeRound['judged']> = {
	'under the band': 'under',
	'in the band': 'in',
	'over the band': 'over',
	'not judged': 'not judged'
};

/** All rounds of one corner, boxed and to come, for the strip over the live screen. */
export function ropeOf(view: LiveView, corner: CornerView): RopeRound[] {
	const kind = view.phase?.kind;
	const boxed = corner.rounds.map(({ round, rest }, i): RopeRound => {
		const isLast = i === corner.rounds.length - 1;
		const isMeasured = rest !== undefined && rest.atS >= judgedAtS;
		const isResting = !isMeasured && (kind === 'rest' || kind === 'closing');
		const now = kind === 'work' ? 'now' : isResting ? 'resting' : 'done';
		return {
			round,
			state: isLast ? now : 'done',
			...(isMeasured && { drop60: rest.measure.drop60, judged: judged[rest.measure.verdict] })
		};
	});
	const reached = corner.rounds.at(-1)?.round ?? 0;
	const toCome = Array.from({ length: Math.max(0, (view.roundCount ?? 0) - reached) }, (_, i): RopeRound => ({
		round: reached + i + 1,
		state: 'to come'
	}));
	return withBlocks([...boxed, ...toCome], view);
}

/** The rounds of several boxers on the one clock: no drop is everybody's. */
export function bareRopeOf(view: Pick<LiveView, 'phase' | 'roundCount' | 'corners' | 'blocks'>): RopeRound[] {
	const kind = view.phase?.kind;
	const reached = Math.max(0, ...view.corners.map(({ rounds }) => rounds.at(-1)?.round ?? 0));
	const count = Math.max(reached, view.roundCount ?? 0);
	const now = kind === 'work' ? 'now' : kind === 'rest' || kind === 'closing' ? 'resting' : 'done';
	const rope = Array.from({ length: count }, (_, i): RopeRound => {
		const round = i + 1;
		return { round, state: round < reached ? 'done' : round > reached ? 'to come' : now };
	});
	return withBlocks(rope, view);
}

/** Marks the rounds with which the blocks begin, by the numbers of rounds: a round that is boxed again begins none. */
function withBlocks(rope: readonly RopeRound[], { blocks }: Pick<LiveView, 'blocks'>): RopeRound[] {
	if (blocks.length < 2) return [...rope];
	const begun = new Map<number, string>();
	let first = 1;
	for (const { activity, roundCount } of blocks) {
		if (roundCount > 0) begun.set(first, activity);
		first += roundCount;
	}
	return rope.map((one, i) => {
		const begins = one.round === rope[i - 1]?.round ? undefined : begun.get(one.round);
		return begins ? { ...one, begins } : one;
	});
}
