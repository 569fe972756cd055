import { checkPlan, type PlanProblem } from './check-plan';
import type { Block, Plan } from './plan';

const carrier: Plan = {
	...{ name: 'any', activity: 'bag', roundCount: 1, roundS: 1, restS: 1 },
	...{ warmUpS: 0, getReadyS: 0, coolDownS: 0, endWarningS: 0, startWarningS: 0 }
};

/** What `checkPlan` says of a block that is added to what runs. */
export function checkBlock(block: Block): PlanProblem[] {
	return checkPlan({ ...carrier, blocks: [block] }).map(({ field, message }) => {
		const words = message.replace(/^Block 2: /, '');
		return { field, message: words.charAt(0).toUpperCase() + words.slice(1) };
	});
}
