import type { Measured } from '$lib/rounds/aim';
import type { PlanProblem } from '$lib/rounds/check-plan';
import type { Plan } from '$lib/rounds/plan';

/** What a form that changes a plan is given. */
export interface PlanEditing {
	plan: Plan;
	problems: readonly PlanProblem[];
	measured: Measured;
	onChange: (plan: Plan) => void;
}
