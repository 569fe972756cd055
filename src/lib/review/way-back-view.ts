import { isAdultHere } from '$lib/physiology/weight';
import { redFlags, stepCeiling, stepWords } from '$lib/physiology/way-back';
import { lastStep, lastUncleared, reaches, waySteps, type WayStep } from '$lib/physiology/way-steps';
import type { Athlete } from '$lib/record/athlete';
import { lockOf, type Blow } from '$lib/record/blow';
import { openStep, type Lock } from '$lib/record/lock';
import { whyNotStep, withBlow } from '$lib/record/blow-changes';
import { restrictionOf } from '$lib/record/way-back';
import { ageOn } from './age';
import { dayWords, momentWords } from './day-words';

/** A moment, and the calendar day that it has here, YYYY-MM-DD. */
export interface Moment {
	nowMs: number;
	today: string;
}

const noon = (day: string) => dayWords(`${day}T12:00`);

/** The steps that may be set without a clearance, in words. */
export const firstSteps = waySteps
	.filter((step) => reaches(lastUncleared, step))
	.map((step) => ({ step, words: `${step}: ${stepWords[step]}` }));

function whyNot(athlete: Athlete, blow: Blow, step: WayStep, moment: Moment): string | undefined {
	const isAdult = isAdultHere({ ...athlete, ageYears: ageOn(moment.today, athlete) });
	return whyNotStep(blow, step, { ...moment, isAdult });
}

/** The card with a step set at this moment; undefined where that step cannot be set. */
export function steppedTo(athlete: Athlete, blow: Blow, step: WayStep, moment: Moment): Athlete | undefined {
	if (whyNot(athlete, blow, step, moment) !== undefined) return undefined;
	return withBlow(athlete, { ...blow, step, since: new Date(moment.nowMs).toISOString() }, moment.today);
}

/** What the athlete's page shows of the way back after a blow to the head. */
export function wayBackView(athlete: Athlete, moment: Moment) {
	const { today } = moment;
	const restriction = restrictionOf(athlete, today);
	const opened = (lock: Lock) => {
		const step = openStep(lock, today);
		return {
			step,
			standDown: lock.standDownUntil
				? `Stand-down until ${noon(lock.standDownUntil)}.`
				: 'No stand-down was entered.',
			ceiling: stepCeiling(step, { ...athlete, ageYears: ageOn(today, athlete) }),
			isOver: step === lastStep
		};
	};
	return {
		isRestricted: restriction !== undefined,
		redFlags,
		isMaximumMeasured: athlete.measuredMaxBpm !== undefined,
		/** The day without sparring that an earlier page kept. */
		stop:
			restriction?.why === 'stop ahead' || restriction?.why === 'stop over'
				? { day: noon(athlete.noSparringUntil!), isOver: restriction.why === 'stop over' }
				: undefined,
		blows: (athlete.blows ?? []).toReversed().map((blow) => {
			const { clearance } = blow;
			const next = waySteps[waySteps.indexOf(blow.step) + 1];
			return {
				blow,
				day: noon(blow.day),
				...opened(lockOf(blow)),
				clearance: clearance
					? `Cleared by ${clearance.by} on ${noon(clearance.day)}.`
					: 'No clearance was entered.',
				steps: waySteps.map((step) => ({
					step,
					words: stepWords[step],
					since: step === blow.step ? momentWords(blow.since) : undefined,
					isBehind: step !== blow.step && reaches(blow.step, step)
				})),
				next: next && { step: next, why: whyNot(athlete, blow, next, moment) }
			};
		}),
		/** Blows whose reason has stayed on another laptop, as long as they lock. */
		locks: (athlete.locks ?? []).toReversed().flatMap((lock) => {
			const { isOver, ...open } = opened(lock);
			return isOver
				? []
				: {
						...open,
						day: noon(lock.day),
						words: stepWords[open.step],
						clearance: lock.isCleared ? 'A doctor has cleared it.' : 'No clearance was entered.'
					};
		})
	};
}
