import { boutRoundS } from './formats';
import type { Plan } from './plan';

const runS = 1200;
const quietS = 300;
const raisePaceS = 300;

const silent = { getReadyS: 0, endWarningS: 0, startWarningS: 0 };

/**
 * Twenty minutes in which the pace is raised about every five (common practice, no source), after a warm-up of
 * the athlete's own length.
 */
export function thresholdRunPlan(warmUpS: number): Plan {
	return {
		...silent,
		name: 'Threshold run',
		kind: 'threshold run',
		activity: 'running',
		roundCount: 1,
		roundS: runS,
		restS: 60,
		warmUpS,
		getReadyS: 10,
		coolDownS: 300
	};
}

/** Five quiet minutes; nothing rings but their start and their end. */
export function restingPlan(posture: 'lying' | 'sitting'): Plan {
	return {
		...silent,
		name: `Resting, ${posture}`,
		kind: 'resting',
		activity: 'rest',
		posture,
		roundCount: 1,
		roundS: quietS,
		restS: 60,
		warmUpS: 0,
		coolDownS: 0
	};
}

/**
 * The recovery check: three rounds of shadow boxing at fight pace, always the same, then three minutes still.
 * A round lasts as long as in the bouts of that age: three minutes, two at 15 and 16, one and a half under 15.
 */
export function recoveryCheckPlan(ageYears: number | undefined): Plan {
	const roundS = boutRoundS(ageYears);
	return {
		name: `Recovery check, 3 x ${roundS / 60}`,
		kind: 'recovery check',
		activity: 'shadow boxing',
		posture: 'standing',
		roundCount: 3,
		roundS,
		restS: 60,
		warmUpS: 120,
		getReadyS: 15,
		coolDownS: 0,
		endWarningS: 10,
		startWarningS: 10
	};
}

/** How often a plan calls for more pace, in seconds of the work; undefined where it does not. */
export function promptEveryS(plan: Pick<Plan, 'kind'>): number | undefined {
	return plan.kind === 'threshold run' ? raisePaceS : undefined;
}
