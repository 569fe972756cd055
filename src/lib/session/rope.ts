import type { Verdict } from '$lib/physiology/recovery';
import { judgedAtS } from '$lib/physiology/rest-taken';
import type { CornerView, LiveView } from './live-view';

/** A round as the strip over the live screen shows it. */
export interface RopeRound {
	round: number;
	state: 'done' | 'now' | 'resting' | 'to come';
	drop60?: number;
	judged?: 'under' | 'in' | 'over' | 'not judged';
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
	return [...boxed, ...toCome];
}

/** The rounds of several boxers on the one clock: no drop is everybody's. */
export function bareRopeOf(view: Pick<LiveView, 'phase' | 'roundCount' | 'corners'>): RopeRound[] {
	const kind = view.phase?.kind;
	const reached = Math.max(0, ...view.corners.map(({ rounds }) => rounds.at(-1)?.round ?? 0));
	const count = Math.max(reached, view.roundCount ?? 0);
	const now = kind === 'work' ? 'now' : kind === 'rest' || kind === 'closing' ? 'resting' : 'done';
	return Array.from({ length: count }, (_, i): RopeRound => {
		const round = i + 1;
		return { round, state: round < reached ? 'done' : round > reached ? 'to come' : now };
	});
}
