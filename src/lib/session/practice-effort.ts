import { defaultBurstS } from '$lib/physiology/over-threshold';
import { promptEveryS } from '$lib/rounds/guided-plans';
import type { Aim } from '$lib/rounds/aim';
import type { PlanKind } from '$lib/rounds/plan';
import type { Phase } from '$lib/rounds/timeline';
import { standingEffort } from './practice-hearts';

const warming = 0.45;
const boxing = 1;
const closingBurst = 1.1;
const sitting = 0.04;
const quiet = 0;
/** A run whose pace is raised at each call. */
const runPaces = [0.76, 0.81, 0.86, 0.9];

/** Easier work has no burst at its end. */
const aimed = { easy: 0.58, working: 0.72, 'near threshold': 0.85 };

/**
 * How hard the simulated athlete works at a moment of a session, 0 (still) to 1 (fight pace) and above in
 * the burst that closes a round. Own rule: for showing and testing, not a model of anybody.
 */
export function practiceEffort(phase: Phase | undefined, ms: number, kind?: PlanKind, aim?: Aim): number {
	if (kind === 'resting') return quiet;
	const everyS = promptEveryS({ kind });
	if (everyS !== undefined && phase?.kind === 'work')
		return runPaces[Math.min(3, Math.floor((ms - phase.startMs) / (everyS * 1000)))] ?? boxing;
	switch (phase?.kind) {
		case 'work':
			if (aim && aim.kind in aimed) return aimed[aim.kind as keyof typeof aimed];
			return ms > phase.plannedEndMs - defaultBurstS * 1000 ? closingBurst : boxing;
		case 'warm-up':
		case 'cool-down':
			return warming;
		case 'rest':
		case 'closing':
			return sitting;
		default:
			return standingEffort;
	}
}
