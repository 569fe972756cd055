import { grouped } from '$lib/record/grouped';
import type { RestSummary, RoundSummary } from '$lib/record/summary';
import type { Activity } from '$lib/rounds/plan';

/** Rounds of one activity, whose drops may be compared. */
export interface SameWork<Round> {
	/** Absent where all of the session was what its plan begins with. */
	activity?: Activity;
	rounds: readonly Round[];
}

type Boxed = Pick<RoundSummary, 'activity' | 'rest'>;

/** Rounds by what was done, in the order in which it was first done. */
export function byActivity<Round extends Pick<RoundSummary, 'activity'>>(
	rounds: readonly Round[]
): SameWork<Round>[] {
	return [...grouped(rounds, ({ activity }) => activity)].map(([activity, same]) => ({
		...(activity && { activity }),
		rounds: same
	}));
}

/** Whether a rest has a drop that may be set against others. */
export const hasJudgedDrop = (rest: RestSummary | undefined): rest is RestSummary & { drop60: number } =>
	rest?.drop60 !== undefined && rest.verdict !== 'not judged';

/** The rests whose drops count: the judged ones; where none was judged, those that were measured. */
export function countingRests<Round extends Boxed>(rounds: readonly Round[]) {
	const dropped = rounds.flatMap(({ rest }) => (rest?.drop60 === undefined ? [] : rest));
	const judged = dropped.filter(hasJudgedDrop);
	return judged.length > 0 ? judged : dropped;
}

/** The activity that a session of several stands for where one figure is wanted: that with the most drops, the first of equals. */
export function chiefWork<Round extends Boxed>(rounds: readonly Round[]): SameWork<Round> {
	const count = ({ rounds: same }: SameWork<Round>) => countingRests(same).length;
	const [first = { rounds }, ...others] = byActivity(rounds);
	return others.reduce((chief, one) => (count(one) > count(chief) ? one : chief), first);
}
