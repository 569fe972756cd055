import { check, type Checked } from './check';
import { withoutHandOvers } from '$lib/rounds/hand-overs';
import type { Plan } from '$lib/rounds/plan';
import { planSchema } from '$lib/rounds/plan-schema';

/** A plan read back from storage or from a file, as a library keeps it. Never throws. */
export function checkedPlan(stored: unknown): Checked<Plan> {
	const { value, problem } = check(planSchema, stored);
	return problem === undefined ? { value: withoutHandOvers(value) } : { problem };
}

/**
 * The same plans, each under a name of its own: who chooses one does so by its name, and two laptops may give one name
 * unaware of each other. The order of ids decides, which is the same on every laptop.
 */
export function underOwnNames<T extends { id: string; plan: Plan }>(plans: readonly T[]): T[] {
	const taken = new Set(plans.map(({ plan }) => plan.name));
	const given = new Set<string>();
	return plans
		.toSorted((one, other) => (one.id < other.id ? -1 : 1))
		.map((own) => {
			let { name } = own.plan;
			for (let number = 2; given.has(name) || (number > 2 && taken.has(name)); number++)
				name = `${own.plan.name} (${number})`;
			given.add(name);
			return name === own.plan.name ? own : { ...own, plan: { ...own.plan, name } };
		});
}
