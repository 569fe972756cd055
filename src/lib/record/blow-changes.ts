import type { Athlete } from './athlete';
import { heldForOlderPages, isCleared, lockOf, type Blow } from './blow';
import { isOnTheWay, openStep, type Lock } from './lock';
import { isStopOfBlows } from './way-back';
import { earlierStep, lastUncleared, reaches, waySteps, type WayStep } from '$lib/physiology/way-steps';

const dayMs = 86_400_000;

/**
 * Why this step cannot be set at this moment, in a sentence. A step back always can; forward it goes singly, each step
 * held for 24 hours or as long as the federation says, and beyond 3 with a doctor's clearance after the stand-down.
 *
 * @param today the calendar day of that moment, YYYY-MM-DD
 */
export function whyNotStep(
	blow: Blow,
	step: WayStep,
	{ nowMs, today, isAdult }: { nowMs: number; today: string; isAdult: boolean }
): string | undefined {
	if (reaches(blow.step, step)) return undefined;
	if (waySteps.indexOf(step) > waySteps.indexOf(blow.step) + 1) return 'The steps open one after the other.';
	if (!isAdult && blow.daysPerStep === undefined)
		return 'Under 18 each step lasts longer. Enter the days that the federation says.';
	const days = blow.daysPerStep ?? 1;
	if (nowMs - Date.parse(blow.since) < days * dayMs)
		return `Each step lasts at least ${days === 1 ? '24 hours' : `${days} days`}.`;
	if (reaches(lastUncleared, step)) return undefined;
	if (!isCleared(blow)) return 'This step opens with a doctor’s clearance. Enter it first.';
	return openStep({ ...lockOf(blow), step }, today) === step
		? undefined
		: 'The stand-down of the officials is not over.';
}

/** What is wrong with a blow that somebody enters, in a sentence; undefined where nothing is. */
export function blowProblem(blow: Blow, today: string, nowMs: number): string | undefined {
	const { day, standDownUntil, clearance, since } = blow;
	if (day > today) return 'The day of the blow lies ahead. Enter the day on which it happened.';
	if (standDownUntil !== undefined && standDownUntil < day)
		return 'The stand-down ends before the blow. Enter the day on which it ends.';
	// The day here may have begun up to 14 hours before that in UTC.
	if (Date.parse(since) < Date.parse(day) - dayMs)
		return 'The step began before the blow. Enter when it was set.';
	if (Date.parse(since) > nowMs) return 'The step begins in the future. Enter when it was set.';
	if (!clearance) return undefined;
	if (clearance.by.trim() === '') return 'Enter the doctor who gave the clearance.';
	if (clearance.day < day) return 'The clearance was given before the blow. It must be for this blow.';
	return clearance.day > today ? 'The clearance lies ahead. Enter the day on which it was given.' : undefined;
}

/**
 * What holds of several words on one blow that were said unaware of each other: of each part the strictest.
 *
 * @param all the latest first
 */
export function strictest(all: readonly [Blow, ...Blow[]]): Blow {
	const { standDownUntil: _, daysPerStep: __, clearance: ___, ...latest } = all[0];
	const step = all.map((blow) => blow.step).reduce(earlierStep);
	const since = all.flatMap((blow) => (blow.step === step ? blow.since : [])).reduce(later);
	const until = all.map(({ standDownUntil = '' }) => standDownUntil).reduce(later);
	const days = Math.max(...all.map(({ daysPerStep = 0 }) => daysPerStep));
	const given = all.flatMap(({ clearance }) => clearance ?? []);
	return {
		...latest,
		step,
		since,
		...(until !== '' && { standDownUntil: until }),
		...(days > 0 && { daysPerStep: days }),
		...(given.length === all.length && {
			clearance: given.reduce((one, other) => (other.day < one.day ? other : one))
		})
	};
}

const later = (one: string, other: string) => (other > one ? other : one);

/** The same of bare locks of one day. */
export function strictestLock(all: readonly [Lock, ...Lock[]]): Lock {
	const until = all.map(({ standDownUntil = '' }) => standDownUntil).reduce(later);
	return {
		day: all[0].day,
		step: all.map(({ step }) => step).reduce(earlierStep),
		...(until !== '' && { standDownUntil: until }),
		...(all.every(({ isCleared }) => isCleared) && { isCleared: true })
	};
}

/** A blow, and what else is known of its day as a bare lock: of each part the strictest. */
export function heldTo({ clearance, ...blow }: Blow, lock: Lock): Blow {
	const { step, standDownUntil } = strictestLock([lockOf(blow), lock]);
	return {
		...blow,
		step,
		...(standDownUntil && { standDownUntil }),
		...(lock.isCleared && clearance && { clearance })
	};
}

/**
 * The card with a blow entered or changed. A step that is not open falls back to the furthest that is, and is climbed from
 * there again. A day without sparring that an earlier page kept becomes the stand-down, where it lies further ahead. A bare
 * lock of the day goes: the blow tells more, and starts no further than the lock was open; what a doctor says of it is said
 * here.
 *
 * @param today YYYY-MM-DD
 * @param before the day under which the blow stood, where that was another
 */
export function withBlow(athlete: Athlete, blow: Blow, today: string, before = blow.day): Athlete {
	const { noSparringUntil = '', locks = [], ...card } = athlete;
	const stop = noSparringUntil === heldForOlderPages ? '' : noSparringUntil;
	const lock = locks.find(({ day }) => day === blow.day);
	const told = lock ? heldTo(blow, { ...lock, isCleared: true }) : blow;
	const held = stop > (told.standDownUntil ?? told.day) ? { ...told, standDownUntil: stop } : told;
	const others = (card.blows ?? []).filter(({ day }) => day !== blow.day && day !== before);
	const blows = [...others, { ...held, step: openStep(lockOf(held), today) }];
	const otherLocks = locks.filter((one) => one !== lock);
	return withStop({
		...card,
		...(otherLocks.length > 0 && { locks: otherLocks }),
		blows: blows.sort((one, other) => (one.day < other.day ? -1 : 1))
	});
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

function withoutStopOfBlows(athlete: Athlete): Athlete {
	if (!isStopOfBlows(athlete)) return athlete;
	const { noSparringUntil: _, ...card } = athlete;
	return card;
}

/** Everything that locks a card, by day, and nothing that says why. */
function locksOf({ blows = [], locks = [] }: Athlete): Lock[] {
	return [...blows.map(lockOf), ...locks].sort((one, other) => (one.day < other.day ? -1 : 1));
}

/** The card as it may be told where nobody agreed that the reason goes along: of each blow to the head the bare lock. */
export function bareCard(athlete: Athlete): Athlete {
	const { blows: _, locks: __, ...card } = athlete;
	const locks = locksOf(athlete);
	return locks.length > 0 ? { ...card, locks } : card;
}

/** The card with what older pages lock by: a day never to come while any blow locks, and none where all are behind. */
export function withStop(card: Athlete): Athlete {
	return locksOf(card).some(isOnTheWay)
		? { ...card, noSparringUntil: heldForOlderPages }
		: withoutStopOfBlows(card);
}
