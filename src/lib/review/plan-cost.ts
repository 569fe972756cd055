import type { Answer } from '$lib/physiology/answer';
import { sessionRatingLoad } from '$lib/physiology/load';
import { leastSessions, usualOf } from '$lib/physiology/usual';
import { activitiesOf, blocksOf } from '$lib/rounds/blocks';
import { totalMs } from '$lib/rounds/totals';
import type { Plan } from '$lib/rounds/plan';
import type { KeptTraining } from './training';

/** What a plan costs at the athlete's usual effort. */
export interface PlanCost {
	/** Of the whole session as planned, rests and the closing minute included; with rests until recovered the most. */
	minutes: number;
	/** The middle of the efforts of the last like sessions, 0 to 10. */
	effort: number;
	/** Effort times minutes (Foster et al. 2001). */
	load: number;
	sessionCount: number;
}

/** Own rule: what felt hard years ago says little of today. */
const mostLike = 10;

/**
 * Effort load of a plan at the athlete's usual effort: the middle of the efforts of the last ten sessions of the same
 * activities, from five on (own rule), times the planned minutes. Foster et al., J Strength Cond Res 2001;15:109-115, for
 * the product; what a session will feel like nobody knows before it.
 *
 * @param trainings of one athlete, in any order
 * @param plan one that may start
 */
export function planCost(trainings: readonly KeptTraining[], plan: Plan): Answer<PlanCost> {
	const minutes = totalMs(plan) / 60_000;
	if (plan.followsGymBell)
		return { reason: 'Effort load not known: the gym’s own bell says how long it lasts.' };
	const work = inOrder(activitiesOf(blocksOf(plan)));
	const efforts = trainings
		.filter(({ planKind, done, activity }) => !planKind && inOrder((done ?? activity).split(', ')) === work)
		.toSorted((one, other) => (one.startedAt < other.startedAt ? -1 : 1))
		.flatMap(({ effort }) => effort ?? [])
		.slice(-mostLike);
	const effort = usualOf(efforts.map((one) => [one]))?.middle;
	const load = effort === undefined ? undefined : sessionRatingLoad(effort, minutes);
	return effort === undefined || load === undefined
		? {
				reason: `Effort load not known yet: ${efforts.length} of ${leastSessions} sessions of ${work} with an effort.`
			}
		: { value: { minutes, effort, load, sessionCount: efforts.length } };
}

const inOrder = (activities: readonly string[]) => activities.toSorted().join(', ');

/** What a plan costs, in a sentence. */
export function planCostWords({ value, reason }: Answer<PlanCost>, isAtMost: boolean): string {
	if (!value) return reason;
	const { minutes, effort, load, sessionCount } = value;
	const rounded = Math.round(effort * 10) / 10;
	return `Effort load ${isAtMost ? 'up to' : 'about'} ${Math.round(load)}: ${Math.round(minutes)} minutes at effort ${rounded}, the middle of ${sessionCount} like sessions.`;
}
