import type { Athlete } from '$lib/record/athlete';
import { snapshotOf } from '$lib/record/athlete-snapshot';
import type { AthleteSnapshot } from '$lib/record/head';
import { checkPlan } from '$lib/rounds/check-plan';
import type { Plan } from '$lib/rounds/plan';
import { longestPartS } from '$lib/rounds/plan-schema';
import { withHandOvers } from '$lib/rounds/turns';
import type { PlannedTurns } from './planned-turns';
import type { Sharing } from './start-session';

/** How the straps of a roster are shared, as planned before Start. */
export interface PlannedSharing {
	planned: PlannedTurns;
	/** With time for handing over. */
	plan: Plan;
	/** What keeps a session from being started that way, in a sentence. */
	whyNot?: string;
}

/** Whether this can be the time for handing over. */
export const isHandOverLength = (s: number) => Number.isInteger(s) && s >= 0 && s <= longestPartS;

/** What keeps a session with such turns from being started, in a sentence; undefined where nothing does. */
export function whyNotShared(planned: PlannedTurns, handOverS: number, plan: Plan): string | undefined {
	if (planned.problems.size > 0) return 'The turns need a look: see the boxers.';
	if (planned.groups.length === 0) return undefined;
	if (!isHandOverLength(handOverS)) return 'The time to hand over needs a look: see Turns.';
	return checkPlan(plan).length === 0 && checkPlan(planShared(planned, handOverS, plan)).length > 0
		? 'With the time to hand over it lasts more than 4 hours: make that shorter, or take fewer rounds.'
		: undefined;
}

/** The plan with time for handing over; to the gym's own bell nobody plans any. */
export const planShared = (planned: PlannedTurns, handOverS: number, plan: Plan): Plan =>
	plan.followsGymBell || !isHandOverLength(handOverS)
		? plan
		: withHandOvers(plan, planned.afterRounds, handOverS);

/**
 * Who begins with a strap and who without one, and their turns by the place among all, those with a strap first.
 *
 * @param boxers a row each; `planned` names them by place
 */
export function sharedBy(
	boxers: readonly { athlete: Athlete | undefined; isBare: boolean }[],
	planned: PlannedTurns | undefined,
	year: number
): { strapped: AthleteSnapshot[]; sharing: Sharing } {
	const rows = boxers.flatMap(({ athlete, isBare }, row) =>
		athlete ? { athlete: snapshotOf(athlete, year), isBare, row } : []
	);
	const [strapped, bare] = [rows.filter(({ isBare }) => !isBare), rows.filter(({ isBare }) => isBare)];
	const places = new Map([...strapped, ...bare].map(({ row }, place) => [row, place]));
	const athletesOf = (some: typeof rows) => some.map(({ athlete }) => athlete);
	return {
		strapped: athletesOf(strapped),
		sharing: {
			bare: athletesOf(bare),
			turns: (planned?.turns ?? []).map((turns) =>
				turns.map(({ who, rounds }) => ({ who: places.get(who)!, rounds: [...rounds] }))
			)
		}
	};
}
