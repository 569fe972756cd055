import { clockWords } from '$lib/review/clock-words';
import { aimWords } from '$lib/rounds/aim';
import { blockOf, blocksOf, roundsIn } from '$lib/rounds/blocks';
import { plannedPhases } from '$lib/rounds/course';
import type { PhaseKind } from '$lib/rounds/phase';
import type { Plan } from '$lib/rounds/plan';
import { restWords, roundsWords } from './block-words';

/** A part of the plan on its rope, in percent of the whole length. */
export interface RopePart {
	/** `rest` is the minute after the last bell too: the heart is measured in both. */
	kind: 'round' | 'rest' | 'other';
	from: number;
	wide: number;
	/** The number of a round. */
	round?: number;
}

/** A plan drawn to scale: all that stands on the rope, and the moments that are written under it. */
export interface PlanRope {
	parts: RopePart[];
	/** What is done from where to where; empty where the plan is of one block. */
	blocks: { from: number; wide: number; words: string; aim?: string }[];
	firstBell: { at: number; words: string };
	/** Absent where it would be written over the first one. */
	lastBell?: { at: number; words: string };
}

/** Nearer to each other than this, in percent, two moments cannot both be read. */
const readableApart = 45;

const kinds: Partial<Record<PhaseKind, RopePart['kind']>> = { work: 'round', rest: 'rest', closing: 'rest' };

/** @param plan one that may start, and that the page itself rings: the gym's own bell has no length */
export function ropeOfPlan(plan: Plan): PlanRope {
	const phases = plannedPhases(plan);
	const endMs = phases.at(-1)?.endMs ?? 1;
	const percent = (ms: number) => (ms / endMs) * 100;
	const parts = phases.map(({ kind, startMs, endMs: untilMs, round }): RopePart => {
		const drawn = kinds[kind] ?? 'other';
		const part: RopePart = { kind: drawn, from: percent(startMs), wide: percent(untilMs - startMs) };
		return drawn === 'round' ? { ...part, round } : part;
	});
	const rounds = phases.filter(({ kind }) => kind === 'work');
	const firstMs = rounds[0]?.startMs ?? 0;
	const lastMs = rounds.at(-1)?.endMs ?? 0;
	const isRoomy = percent(lastMs - firstMs) >= readableApart;
	const all = blocksOf(plan);
	const blocks =
		all.length < 2
			? []
			: all.map((_, i) => {
					const own = rounds.filter(({ block = 1 }) => block === i + 1);
					const { activity, aim } = blockOf(all, { block: i + 1 });
					const from = percent(own[0]!.startMs);
					return {
						from,
						wide: percent(own.at(-1)!.endMs) - from,
						words: activity,
						...(aim && { aim: aimWords(aim) })
					};
				});
	return {
		parts,
		blocks,
		firstBell: { at: percent(firstMs), words: `first bell ${clockWords(firstMs)}` },
		...(isRoomy && { lastBell: { at: percent(lastMs), words: `last bell ${clockWords(lastMs)}` } })
	};
}

/** What is done, in a sentence: "12 rounds of 3:00, rests of 1:00, warm-up 5:00." */
export function planWords(plan: Plan): string {
	const { roundCount, blocks = [], warmUpS, coolDownS, aim } = plan;
	const length = (s: number) => clockWords(s * 1000);
	const rounds =
		blocks.length > 0
			? [`${roundsIn(blocksOf(plan))} rounds in ${blocks.length + 1} blocks`]
			: [roundsWords(plan), ...(roundCount === 1 ? [] : [restWords(plan)]), ...(aim ? [aimWords(aim)] : [])];
	const parts = [
		...rounds,
		...(warmUpS > 0 ? [`warm-up ${length(warmUpS)}`] : []),
		...(coolDownS > 0 ? [`cool-down ${length(coolDownS)}`] : [])
	];
	return `${parts.join(', ')}.`;
}
