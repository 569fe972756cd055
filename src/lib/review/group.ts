import type { Verdict } from '$lib/physiology/recovery';
import type { RecordHead } from '$lib/record/head';
import type { RoundSummary, Summary } from '$lib/record/summary';
import { meanDropOf } from './mean-words';

/** One corner's record among those of its session. */
export interface GroupMember {
	head: Pick<RecordHead, 'id' | 'athlete' | 'strapChanges'>;
	/** Whose it is by now: it may have been put right. */
	name: string;
	summary: Pick<Summary, 'rounds' | 'meanDrop60' | 'drop60Count'>;
}

/** One round of one corner. Absent values could not be measured. */
export interface GroupCell {
	/** Absent without a threshold. */
	overS?: number;
	bellBpm?: number;
	drop60?: number;
	verdict?: Verdict;
	nearEdge?: boolean;
}

export interface GroupRow {
	id: string;
	name: string;
	meanDrop60?: number;
	meanOf: string;
	cells: (GroupCell | undefined)[];
	/** What a round without a cell was to this one. */
	unmeasured: 'not there' | 'no strap';
}

export interface GroupTable {
	/** The columns: every round that any corner boxed, in order, `round` and which try at it. */
	rounds: { round: number; attempt: number }[];
	/** The corners, in order; `meanOf` says what the mean is of; `cells` go with `rounds`, undefined where this one was not measured. */
	rows: GroupRow[];
}

/** Lays the corners of one session side by side, round by round. */
export function groupTableOf(members: readonly GroupMember[]): GroupTable {
	const boxed = members.flatMap(({ summary }) => summary.rounds);
	const rounds = boxed
		.map(({ round, attempt }) => ({ round, attempt }))
		.filter((one, i, all) => all.findIndex((other) => isSame(one, other)) === i)
		.sort((a, b) => a.round - b.round || a.attempt - b.attempt);
	return {
		rounds,
		rows: members.map(({ head, name, summary }) => ({
			id: head.id,
			name,
			meanDrop60: summary.meanDrop60,
			meanOf: meanDropOf(summary),
			cells: rounds.map((column) => {
				const round = summary.rounds.find((one) => isSame(one, column));
				return round && cellOf(round);
			}),
			unmeasured: head.strapChanges?.some(({ handOver }) => handOver) ? 'no strap' : 'not there'
		}))
	};
}

interface Column {
	round: number;
	attempt: number;
}
const isSame = (a: Column, b: Column) => a.round === b.round && a.attempt === b.attempt;

function cellOf({ over, rest }: RoundSummary): GroupCell {
	return {
		overS: over?.overS,
		bellBpm: rest?.bellBpm,
		drop60: rest?.drop60,
		verdict: rest?.verdict,
		nearEdge: rest?.nearEdge
	};
}
