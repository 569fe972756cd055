import { entriesUnder, read, type Unreadable, type UseStore } from './database';
import { checkedPlan, underOwnNames } from '$lib/record/plan';
import type { Plan } from '$lib/rounds/plan';

export interface OwnPlan {
	id: string;
	plan: Plan;
}

export const planPrefix = 'plan/';
/** The plans of one's own by name, each under one of its own. What cannot be read is named and stays. Rejects with `StoreError`. */
export async function listPlans(store: UseStore): Promise<{ plans: OwnPlan[]; unreadable: Unreadable[] }> {
	const plans: OwnPlan[] = [];
	const unreadable: Unreadable[] = [];
	for (const [key, stored] of await read(store, (objects) => entriesUnder(objects, planPrefix))) {
		const { value: plan, problem } = checkedPlan(stored);
		if (plan) plans.push({ id: key.slice(planPrefix.length), plan });
		else unreadable.push({ key, problem });
	}
	const named = underOwnNames(plans).sort((a, b) => a.plan.name.localeCompare(b.plan.name));
	return { plans: named, unreadable };
}
