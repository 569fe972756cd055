import { earlierStep, lastStep, lastUncleared, reaches, type WayStep } from '$lib/physiology/way-steps';
import type { Block, Plan } from '$lib/rounds/plan';
import type { Athlete } from './athlete';
import { heldForOlderPages, lockOf } from './blow';
import { openStep, type Lock } from './lock';

/** What holds an athlete back today, and how far the way is open. */
export interface Restriction {
	step: WayStep;
	/**
	 * `lock`: a blow whose reason has stayed on another laptop. `stop`: a day without sparring that an earlier page kept lies
	 * ahead, or is over and nobody has said that all is well.
	 */
	why: 'blow' | 'lock' | 'stop ahead' | 'stop over';
}

/** What is asked of the guard: a plan, or whatever else names what is done. */
export interface Planned {
	activity: Plan['activity'] | 'bout';
	kind?: Plan['kind'];
	/** Every block of a plan is asked for. */
	blocks?: readonly Pick<Block, 'activity'>[];
}

/** The first step at which this may be done; undefined where a blow to the head bars nothing of it. */
export function neededStep({ blocks = [], ...first }: Planned): WayStep | undefined {
	const steps = [first, ...blocks].flatMap((one) => stepOf(one) ?? []);
	return steps.reduce<WayStep | undefined>(
		(most, step) => (most && reaches(most, step) ? most : step),
		undefined
	);
}

function stepOf({ activity, kind }: Omit<Planned, 'blocks'>): WayStep | undefined {
	if (activity === 'bout') return '6';
	if (activity === 'sparring') return '5';
	return activity === 'pads' || kind === 'threshold run' || kind === 'recovery check' ? '4' : undefined;
}

/**
 * How far the way back is open, over every blow and lock that the card tells; undefined where nothing holds the athlete back.
 *
 * @param today YYYY-MM-DD
 */
export function restrictionOf(athlete: Athlete, today: string): Restriction | undefined {
	const { blows = [], locks = [], noSparringUntil } = athlete;
	const earliest = (all: readonly Lock[], last: WayStep) =>
		all.map((lock) => openStep(lock, today)).reduce(earlierStep, last);
	const ofBlows = earliest(blows.map(lockOf), lastStep);
	const step = earliest(locks, ofBlows);
	if (noSparringUntil !== undefined && !isStopOfBlows(athlete))
		return {
			step: earlierStep(step, lastUncleared),
			why: today < noSparringUntil ? 'stop ahead' : 'stop over'
		};
	return step === lastStep ? undefined : { step, why: ofBlows === lastStep ? 'lock' : 'blow' };
}

/**
 * The one guard: why this athlete does not do this today, or undefined. Whoever starts, joins, takes over or enters a
 * training asks it. It says no more than a coach's screen may show; the reason stands on the athlete's page.
 *
 * @param today YYYY-MM-DD
 */
export function blockedBy(athlete: Athlete, planned: Planned, today: string): string | undefined {
	const needed = neededStep(planned);
	const restriction = needed && restrictionOf(athlete, today);
	if (!needed || !restriction || reaches(restriction.step, needed)) return undefined;
	return 'Restricted today. The athlete’s Details say why.';
}

/** Whether the day without sparring stands on the card for older pages alone. */
export const isStopOfBlows = ({ noSparringUntil, blows = [], locks = [] }: Athlete) =>
	noSparringUntil === heldForOlderPages && blows.length + locks.length > 0;
