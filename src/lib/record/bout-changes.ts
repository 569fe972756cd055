import type { Athlete } from './athlete';
import type { Bout } from './bout';

/** Own rule: no federation boxes under it or has a limit over it. */
const limits = { leastKg: 25, mostKg: 200 };

/**
 * What is wrong with a bout that somebody enters, in a sentence; undefined where nothing is.
 *
 * @param today YYYY-MM-DD
 */
export function boutProblem(bout: Bout, today: string): string | undefined {
	const { day, weighInDay, weighInTime, walkTime, limitKg, campFrom } = bout;
	if (day < today) return 'The day of the bout is over. Enter a day to come.';
	if (weighInDay !== undefined && weighInDay > day)
		return 'The weigh-in lies after the bout. Enter a day on or before it.';
	const isSameDay = (weighInDay ?? day) === day;
	if (isSameDay && weighInTime !== undefined && walkTime !== undefined && weighInTime >= walkTime)
		return 'The weigh-in lies after the walk to the ring. Put one of the two times right.';
	for (const kg of [...(limitKg === undefined ? [] : [limitKg]), ...(bout.classesKg ?? [])])
		if (kg < limits.leastKg || kg > limits.mostKg)
			return `A class limit of ${kg} kg cannot be. Enter ${limits.leastKg} to ${limits.mostKg} kg.`;
	if (campFrom !== undefined && campFrom >= day)
		return 'The camp begins after the bout. Enter an earlier day.';
	return undefined;
}

/** The card with a bout entered, or put in place of the one with its id. */
export function withBout(athlete: Athlete, bout: Bout): Athlete {
	const others = (athlete.bouts ?? []).filter(({ id }) => id !== bout.id);
	return { ...athlete, bouts: [...others, bout].sort(byDay) };
}

/** The card without a bout. */
export function withoutBout(athlete: Athlete, id: string): Athlete {
	const { bouts = [], ...card } = athlete;
	const left = bouts.filter((bout) => bout.id !== id);
	return left.length > 0 ? { ...card, bouts: left } : card;
}

/** The bout that comes next, today's included. */
export const nextBout = ({ bouts = [] }: Athlete, today: string): Bout | undefined =>
	bouts.filter(({ day }) => day >= today).sort(byDay)[0];

const byDay = (one: Bout, other: Bout) => (one.day + one.id < other.day + other.id ? -1 : 1);
