import { check, type Checked } from './check';
import { checkedPlan } from './plan';
import {
	changedRegisters,
	joined,
	latestAt,
	registersSchema,
	type Registers,
	type RegisterWays,
	type Said
} from './registers';
import { hashOf, isSame } from './same';
import type { Stamp } from './stamp';
import type { Plan } from '$lib/rounds/plan';

/**
 * A plan of one's own as several laptops change it. It is one register, the whole plan: the rounds of one laptop with the
 * rests of another would be a plan that nobody drew up. Of a plan that was removed the latest word has no value.
 */
const register = 'plan';
// Far beyond what this page writes; a later one may say more of a plan.
const mostRegisters = 20;
const ways: RegisterWays = { shownOf: (_, said) => said?.[0]?.value, keepsEarlier: () => false };

/** What lies here of one plan. */
export interface KeptPlan {
	/** Who said what of it when; absent where pages kept it that knew no registers of plans. */
	said?: Registers;
	/** Absent where it was removed, or never lay here. */
	plan?: Plan;
	/** When that was entered or removed, ISO 8601 in UTC; absent where nobody knows. */
	at?: string;
}

/** Everything said of a plan, read back. All of it is checked, since any of it may come to be shown. Never throws. */
export function checkedPlanState(stored: unknown): Checked<Registers> {
	const { value: state, problem } = check(registersSchema, stored);
	if (problem !== undefined) return { problem };
	if (Object.keys(state).length > mostRegisters) return { problem: 'It holds more than a plan can.' };
	const all: Said[] = [];
	for (const said of state[register] ?? []) {
		const { value: plan, problem } =
			said.value === undefined ? { value: undefined } : checkedPlan(said.value);
		if (problem !== undefined) return { problem };
		all.push(plan ? { ...said, value: plan } : said);
	}
	return { value: all.length > 0 ? { ...state, [register]: all } : state };
}

/** The latest word on a plan; undefined where it was removed, or nothing was ever said. */
export const shownPlan = (state: Registers | undefined) => state?.[register]?.[0]?.value as Plan | undefined;

/** When the latest word was said; undefined where nobody knows. */
export const saidAt = (state: Registers) => state[register]?.[0]?.at || undefined;

const valuesOf = (plan: Plan | undefined) => new Map<string, unknown>(plan && [[register, plan]]);

/**
 * A change by hand, in knowledge of all that was said of the plan before.
 *
 * @param plan absent where it is removed
 * @param wanted the moment by this machine's clock, and its id
 */
export function changedPlan(
	state: Registers,
	plan: Plan | undefined,
	wanted: { ms: number; by: string }
): Registers {
	return changedRegisters(state, valuesOf(shownPlan(state)), valuesOf(plan), wanted, ways);
}

/**
 * All that is known of a plan here. What a page without registers of plans wrote is later than them in knowledge of them,
 * and else stands beside them.
 */
export function planState({ said = {}, plan, at }: KeptPlan): Registers {
	if (isSame(shownPlan(said), plan)) return said;
	const moment = momentOf(at);
	const by = signOf(plan);
	if (moment > latestAt(said)) return changedPlan(said, plan, { ms: Date.parse(moment), by });
	return plan ? joined(said, { [register]: [{ value: plan, at: moment, by }] }) : said;
}

/** What is known of a plan here and what comes from elsewhere. */
export function joinedPlan(here: KeptPlan, coming: Registers): Registers {
	// Of a plan that a page without registers removed, the moment alone is known: it was removed in knowledge of what is older.
	if (!here.said && !here.plan) return planState({ ...here, said: coming });
	return joined(planState(here), coming);
}

/**
 * Own rule: of a plan that was changed on two laptops unaware of each other the later one is shown, and the other is kept
 * as a plan of its own. It has one id and one moment wherever it is made, so that all laptops have it once, and one that was
 * deleted stays deleted.
 */
export function copiesOf(id: string, state: Registers): [id: string, state: Registers][] {
	const [shown, ...others] = state[register] ?? [];
	return others.flatMap(({ value, at, by }) => {
		if (value === undefined || isSame(value, shown?.value)) return [];
		const plan = { ...(value as Plan), name: copiedName((value as Plan).name) };
		return [[copyId(id, { at, by }), { [register]: [{ value: plan, at, by }] }]];
	});
}

const mark = ' (from another laptop)';
const copiedName = (name: string) => (name.endsWith(mark) ? name : name + mark);

// An id has 64 characters at most: 17 of the moment, 32 of the machine, and the rest tells plans of one moment apart.
const copyId = (id: string, { at, by }: Stamp) =>
	`${at.replaceAll(/\D/g, '')}-${by.replaceAll(/[^\w-]/g, '')}-${id.slice(0, 13)}`;

/** A moment as registers have it: none where it is no sound one. */
function momentOf(at: string | undefined): string {
	const instant = new Date(at ?? '');
	if (Number.isNaN(instant.getTime())) return '';
	const text = instant.toISOString();
	return /^\d{4}-/.test(text) ? text : '';
}

/** Who signs what a page without registers kept: laptops that have the same plan from one backup say one word, not two. */
const signOf = (plan: Plan | undefined) => `plain${hashOf(plan).toString(36)}`;
