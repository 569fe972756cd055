import { mostBlocks } from '$lib/rounds/blocks';
import { closingMsOf, type Activity, type Block, type Plan } from '$lib/rounds/plan';
import type { Amendment } from '$lib/rounds/amendment';
import type { TablePhase } from '../csv-import';

/** A plan and what became of it, whose phases are those of a table. */
export interface RoundsOfTable {
	plan: Plan;
	amendments: Amendment[];
	endedMs: number;
}

/**
 * The rounds of a table as a session can be kept. A table says when a phase began and not how long it was meant to be, so
 * each phase ends where the next begins, as where somebody follows the gym's own bell. What lies before the first
 * round is getting ready; rounds are numbered anew. The minute after the last bell runs to its end, and what follows it has
 * no phase, as after a press of Finish.
 *
 * @param phases at least one of them work, in order
 * @param lastMs elapsed ms of the last row
 * @param activity what was done where the table does not say
 */
export function roundsOfTable(
	phases: readonly TablePhase[],
	lastMs: number,
	activity: Activity
): RoundsOfTable {
	const first = phases.findIndex(({ kind }) => kind === 'work');
	const lived = phases.slice(first);
	const works = lived.filter(({ kind }) => kind === 'work');
	const lastWork = lived.findLastIndex(({ kind }) => kind === 'work');
	const endOf = (i: number) => lived[i + 1]?.startMs ?? lastMs + 1000;
	const closing = lived[lastWork + 1];
	const isClosed = closing?.kind === 'closing' && !isLongerThanPlanned(closing, endOf(lastWork + 1));

	const changes: Amendment[] = lived.flatMap(({ kind }, i): Amendment[] => {
		if (kind !== 'work') return [];
		const start: Amendment = { kind: 'next', atMs: lived[i]!.startMs };
		if (i === lived.length - 1) return [start];
		return [start, { kind: i === lastWork && isClosed ? 'finish' : 'next', atMs: endOf(i) }];
	});
	const pauses = phases.flatMap((phase, i) =>
		phase.pauses.flatMap(({ fromMs, toMs }): Amendment[] => {
			const endMs = phases[i + 1]?.startMs ?? lastMs + 1000;
			const untilMs = Math.min(toMs, endMs);
			return untilMs > fromMs
				? [
						{ kind: 'pause', atMs: fromMs },
						{ kind: 'resume', atMs: untilMs }
					]
				: [];
		})
	);
	const endedMs = Math.max(lastMs + 1000, isClosed ? closing.startMs + closingMsOf({}) : 0);
	return {
		plan: planOf(works, activity),
		amendments: [...changes, ...pauses].sort(inOrder),
		endedMs
	};
}

/** The minute after the last bell is a minute; one that lasted longer, as that of a recovery check, is kept as a rest. */
const isLongerThanPlanned = ({ startMs, pauses }: TablePhase, endMs: number) =>
	pauses.length === 0 && endMs - startMs > closingMsOf({}) + 1000;

/** Where several come at once, what ends a pause comes first, and what begins one last. */
const places: readonly Amendment['kind'][] = ['resume', 'next', 'finish', 'pause'];
const inOrder = (one: Amendment, other: Amendment) =>
	one.atMs - other.atMs || places.indexOf(one.kind) - places.indexOf(other.kind);

function planOf(works: readonly TablePhase[], activity: Activity): Plan {
	const blocks: Block[] = [];
	for (const work of works) {
		const done = work.activity ?? activity;
		const last = blocks.at(-1);
		if (last && (last.activity === done || blocks.length === mostBlocks)) last.roundCount++;
		else blocks.push({ activity: done, roundCount: 1, roundS: 180, restS: 60, pauseS: 60 });
	}
	const [{ pauseS: _, ...block }, ...others] = blocks as [Block, ...Block[]];
	return {
		name: 'Rounds, from a table',
		...block,
		...(others.length > 0 && { blocks: others }),
		warmUpS: 0,
		getReadyS: 0,
		coolDownS: 0,
		endWarningS: 0,
		startWarningS: 0,
		followsGymBell: true
	};
}
