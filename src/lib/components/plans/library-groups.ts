import type { TemplateGroup } from '$lib/rounds/templates';
import type { Plan } from '$lib/rounds/plan';
import type { OwnPlan } from '$lib/store/plan-list';

/** A plan in the library; one of one's own has an id. */
export interface LibraryPlan {
	plan: Plan;
	id?: string;
}

export interface LibraryGroup {
	name: string;
	/** What stands behind ready plans. */
	source?: string;
	plans: LibraryPlan[];
}

/**
 * The library in order: the plans used last, one's own as they are now among them; one's own that were not; then the ready
 * ones by group. What a group would be empty of is left out.
 */
export function libraryGroups(
	own: readonly OwnPlan[],
	used: readonly Plan[],
	templates: readonly TemplateGroup[]
): LibraryGroup[] {
	const isUsed = new Set(used.map(({ name }) => name));
	const groups: LibraryGroup[] = [
		{
			name: 'Used last',
			plans: used.map((plan) => own.find((one) => one.plan.name === plan.name) ?? { plan })
		},
		{ name: 'Your plans', plans: own.filter(({ plan }) => !isUsed.has(plan.name)) },
		...templates.map(({ plans, ...group }) => ({ ...group, plans: plans.map((plan) => ({ plan })) }))
	];
	return groups.filter(({ plans }) => plans.length > 0);
}
