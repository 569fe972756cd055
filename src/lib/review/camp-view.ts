import type { PlanWeek } from '$lib/physiology/plan-path';
import type { Range } from '$lib/physiology/range';
import { medianWeight } from '$lib/physiology/weight';
import { limitAnswer, type LimitAnswer } from '$lib/physiology/weight-limit';
import type { Athlete } from '$lib/record/athlete';
import { dayOf } from '$lib/record/athlete-changes';
import type { Bout } from '$lib/record/bout';
import { blockedBy } from '$lib/record/way-back';
import { ageOn } from './age';
import { campWeeks, taperOf, type CampWeek, type MinutesByDay, type Taper } from './camp';
import { dayWords } from './day-words';
import { dateOf, dayNumber } from './day-numbers';
import { currentKg, fatFacts, meanExercise, type DayCost } from './fuel';
import type { KeptSession } from './progress';
import type { KnownDay } from './training';
import { weightWords, type WeightUnit } from './units';
import { weekFrom, type LoadWeek } from './weeks';

/** The weights of a week: the median of the last seven days that end in it, and what is planned for its end. */
export interface CampWeight {
	kg?: number;
	planned?: Range;
}

export interface CampView {
	/** The whole in one sentence. */
	lead: string;
	/** The athlete does not box today; no reason. */
	restricted?: string;
	weeks: (CampWeek & { weight: CampWeight; load?: LoadWeek })[];
	taper: Taper;
	/** Absent where no limit was typed. */
	limit?: LimitAnswer;
	limitWords: string[];
}

/** What is known of the athlete besides the card. */
export interface CampFacts {
	/** Weights by day. */
	weightKg: Readonly<Record<string, number>>;
	costs: readonly DayCost[];
	/** The athlete's own sessions that count. */
	sessions: readonly KeptSession[];
	/** What is known of a day of training, YYYY-MM-DD. */
	known: (date: string) => KnownDay;
}

const noon = (day: string) => dayWords(`${day}T12:00`);
/** Beyond the longest camp, and the four whole weeks before it. */
const shownDays = 400;

/** Minutes of the days up to `today` of which something is known; none on a day of rest. */
function minutesOf({ known }: CampFacts, today: string): MinutesByDay {
	const minutes: Record<string, number> = {};
	for (let back = shownDays; back >= 0; back--) {
		const date = dateOf(dayNumber(today) - back);
		const { isKnown, trainings } = known(date);
		if (!isKnown) continue;
		minutes[date] = trainings.reduce((sum, one) => sum + (one.isLeftOut ? 0 : one.minutes), 0);
	}
	return minutes;
}

/** What a week that has begun came to in effort load. */
function loadOf(monday: string, { known }: CampFacts, today: string): LoadWeek | undefined {
	return monday > today
		? undefined
		: weekFrom(new Date(`${monday}T00:00`), known, Date.parse(`${today}T00:00`));
}

/** What becomes of the limit, in sentences, the one that matters first. */
function wordsOf(answer: LimitAnswer, limitKg: number, bout: Bout, unit: WeightUnit): string[] {
	const limit = weightWords(limitKg, unit);
	const until = noon(bout.weighInDay ?? bout.day);
	const todays = (classKg: number | undefined) =>
		classKg === undefined
			? 'No class that was entered holds today’s weight.'
			: `Today’s weight is in the class to ${weightWords(classKg, unit)}.`;
	switch (answer.kind) {
		case 'made':
			return [`Within the limit of ${limit} today.`];
		case 'barred':
			return [todays(answer.classKg), answer.reason];
		case 'unknown':
			return [`Whether ${limit} can be made safely is not known.`, answer.reason];
		case 'safe':
			return [`The limit of ${limit} can be made by ${until}, within what is safe.`];
		case 'unsafe':
			return [
				`The limit of ${limit} cannot be made safely by ${until}.`,
				answer.classKg === undefined
					? 'No higher class that was entered can be made safely either.'
					: `The next class up that can: to ${weightWords(answer.classKg, unit)}.`,
				...(answer.leastKg === undefined
					? []
					: [`The least that is safe by then is ${weightWords(answer.leastKg, unit)}.`]),
				answer.reason
			];
	}
}

/** The limit of the bout, else the one that stands on the card. */
const limitKgOf = ({ weightLimitKg }: Athlete, bout: Bout) => bout.limitKg ?? weightLimitKg;

function limitOf(athlete: Athlete, bout: Bout, facts: CampFacts, today: string): LimitAnswer | undefined {
	const limitKg = limitKgOf(athlete, bout);
	if (limitKg === undefined) return undefined;
	const kg = currentKg(athlete, facts.weightKg, today);
	if (kg === undefined) return { kind: 'unknown', reason: 'Log a weight first.' };
	const years = ageOn(today, athlete);
	// A confirmed adult of 18 counts as 19 for the equations of adults.
	const ageYears = years === 18 && athlete.isAdult ? 19 : years;
	return limitAnswer(
		{ ...athlete, ageYears, ...fatFacts(athlete, today) },
		kg,
		limitKg,
		[...(bout.classesKg ?? []), limitKg],
		dayNumber(bout.weighInDay ?? bout.day) - dayNumber(today),
		athlete.dailyActivity ?? 'sitting',
		// Days with a measured session alone count as known: of two guesses the one that leaves more to eat.
		meanExercise(facts.costs, today, (date) => facts.costs.some((one) => one.date === date && one.net))
	);
}

/** The weight that a path from `fromKg` has so many days on, along the straight lines between the ends of its weeks. */
function plannedOn(path: readonly PlanWeek[], fromKg: number, day: number): Range | undefined {
	const week = path.find(({ toDay }) => day <= toDay) ?? path.at(-1);
	if (!week) return undefined;
	const { fromDay, toDay, kg } = week;
	const before = path[path.indexOf(week) - 1]?.kg ?? { low: fromKg, value: fromKg, high: fromKg };
	const share = Math.min(1, (day - fromDay) / (toDay - fromDay));
	const along = (end: keyof Range) => before[end] + share * (kg[end] - before[end]);
	return { low: along('low'), value: along('value'), high: along('high') };
}

/**
 * What the camp before a bout comes to.
 *
 * @param today YYYY-MM-DD
 */
export function campView(
	athlete: Athlete,
	bout: Bout,
	facts: CampFacts,
	unit: WeightUnit,
	today: string
): CampView {
	const now = dayNumber(today);
	const minutes = minutesOf(facts, today);
	const done = facts.sessions.map(({ head }) => ({
		date: dayOf(new Date(head.startedAt)),
		kind: head.plan.kind
	}));
	const limitKg = limitKgOf(athlete, bout);
	const limit = limitOf(athlete, bout, facts, today);
	const path = limit && 'weeks' in limit ? limit.weeks : [];
	const nowKg = currentKg(athlete, facts.weightKg, today);
	const entries = Object.entries(facts.weightKg).map(([date, kg]) => ({ day: dayNumber(date), kg }));
	const weightAt = (monday: string): CampWeight => {
		if (athlete.hidesFuel) return {};
		const sunday = dayNumber(monday) + 6;
		const kg = monday <= today ? medianWeight(entries, Math.min(sunday, now)) : undefined;
		const planned = sunday > now ? plannedOn(path, nowKg ?? NaN, sunday - now) : undefined;
		return { ...(kg !== undefined && { kg }), ...(planned && { planned }) };
	};
	const days = dayNumber(bout.day) - now;
	const restricted = blockedBy(athlete, { activity: 'bout' }, today);
	return {
		lead: `${days === 0 ? 'The bout is today' : days === 1 ? 'The bout is tomorrow' : `${days} days to the bout on ${noon(bout.day)}`}${bout.place ? `, ${bout.place}` : ''}.`,
		...(restricted !== undefined && { restricted }),
		weeks: campWeeks(bout, minutes, done, today).map((week) => {
			const load = loadOf(week.monday, facts, today);
			return { ...week, weight: weightAt(week.monday), ...(load && { load }) };
		}),
		taper: taperOf(bout, minutes, today),
		...(limit && { limit }),
		limitWords: limit && limitKg !== undefined ? wordsOf(limit, limitKg, bout, unit) : []
	};
}

/** What happens on the day of a bout, by the clock of the hall. */
export function boutDayOf(bout: Bout): { time: string; words: string }[] {
	const { weighInTime, walkTime, meals = [] } = bout;
	const isSameDay = (bout.weighInDay ?? bout.day) === bout.day;
	return [
		...(weighInTime && isSameDay ? [{ time: weighInTime, words: 'Weigh-in' }] : []),
		...meals.map(({ time, words }) => ({ time, words })),
		...(walkTime ? [{ time: walkTime, words: 'Walk to the ring' }] : [])
	].sort((one, other) => (one.time < other.time ? -1 : 1));
}
