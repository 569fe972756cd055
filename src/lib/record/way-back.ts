import { earlierStep, lastStep, lastUncleared, reaches, type WayStep } from '$lib/physiology/way-steps';
import type { Plan } from '$lib/rounds/plan';
import type { Athlete } from './athlete';
import { heldForOlderPages, isOnTheWay, openStep, type Blow } from './blow';

/** What holds an athlete back today, and how far the way is open. */
export interface Restriction {
	step: WayStep;
	/** A day without sparring that an earlier page kept lies ahead, or is over and nobody has said that all is well. */
	why: 'blow' | 'stop ahead' | 'stop over';
}

/** What is asked of the guard: a plan, or whatever else names what is done. */
export interface Planned {
	activity: Plan['activity'] | 'bout';
	kind?: Plan['kind'];
}

/** The first step at which this may be done; undefined where a blow to the head bars nothing of it. */
export function neededStep({ activity, kind }: Planned): WayStep | undefined {
	if (activity === 'bout') return '6';
	if (activity === 'sparring') return '5';
	return activity === 'pads' || kind === 'threshold run' || kind === 'recovery check' ? '4' : undefined;
}

/**
 * How far the way back is open, over every blow that the card tells; undefined where nothing holds the athlete back.
 *
 * @param today YYYY-MM-DD
 */
export function restrictionOf(athlete: Athlete, today: string): Restriction | undefined {
	const { blows = [], noSparringUntil } = athlete;
	const steps = blows.map((blow) => openStep(blow, today));
	const step = steps.length > 0 ? steps.reduce(earlierStep) : lastStep;
	if (noSparringUntil !== undefined && !isStopOfBlows(athlete))
		return {
			step: earlierStep(step, lastUncleared),
			why: today < noSparringUntil ? 'stop ahead' : 'stop over'
		};
	return step === lastStep ? undefined : { step, why: 'blow' };
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

/**
 * The card with a blow entered or changed. A step that is not open falls back to the furthest that is, and is climbed from
 * there again. A day without sparring that an earlier page kept becomes the stand-down, where it lies further ahead.
 *
 * @param today YYYY-MM-DD
 * @param before the day under which the blow stood, where that was another
 */
export function withBlow(athlete: Athlete, blow: Blow, today: string, before = blow.day): Athlete {
	const { noSparringUntil = '', ...card } = athlete;
	const stop = noSparringUntil === heldForOlderPages ? '' : noSparringUntil;
	const held = stop > (blow.standDownUntil ?? blow.day) ? { ...blow, standDownUntil: stop } : blow;
	const others = (card.blows ?? []).filter(({ day }) => day !== blow.day && day !== before);
	const blows = [...others, { ...held, step: openStep(held, today) }];
	return withStop({ ...card, blows: blows.sort((one, other) => (one.day < other.day ? -1 : 1)) });
}

/** The card without a blow that was entered by mistake. */
export function withoutBlow(athlete: Athlete, day: string): Athlete {
	const blows = (athlete.blows ?? []).filter((blow) => blow.day !== day);
	const { blows: _, ...card } = withoutStopOfBlows(athlete);
	return withStop(blows.length > 0 ? { ...card, blows } : card);
}

/** The card without the day that an earlier page kept: somebody has said that it was a mistake, or is behind. */
export function withoutStop(athlete: Athlete): Athlete {
	const { noSparringUntil: _, ...card } = athlete;
	return withStop(card);
}

/** Whether the day without sparring stands on the card for older pages alone. */
export const isStopOfBlows = ({ noSparringUntil, blows = [] }: Athlete) =>
	noSparringUntil === heldForOlderPages && blows.length > 0;

function withoutStopOfBlows(athlete: Athlete): Athlete {
	if (!isStopOfBlows(athlete)) return athlete;
	const { noSparringUntil: _, ...card } = athlete;
	return card;
}

/** The card with what older pages lock by: a day never to come while any blow locks, and none where all are behind. */
export function withStop(card: Athlete): Athlete {
	return card.blows?.some(isOnTheWay)
		? { ...card, noSparringUntil: heldForOlderPages }
		: withoutStopOfBlows(card);
}
