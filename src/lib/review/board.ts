import { usualOf } from '$lib/physiology/usual';
import type { Athlete } from '$lib/record/athlete';
import { dayOf } from '$lib/record/athlete-changes';
import { nextBout } from '$lib/record/bout-changes';
import { restrictionOf } from '$lib/record/way-back';
import type { TrainingDay } from '$lib/record/day';
import { dateWords } from './day-words';
import { dayTrainingWords, type KeptTraining } from './training';
import { againstUsual } from './usual-words';
import {
	daysAfter,
	knownOn,
	mondayOf,
	trainingsByAthlete,
	trainingsByDate,
	weekAgainstBefore,
	type LoadWeek
} from './weeks';

/** Why a coach should look at somebody, the most pressing first. */
export const reasonsToLook = [
	'restricted',
	'nothing known',
	'effort owed',
	'over the limit',
	'weigh-in near'
] as const;
export type ReasonToLook = (typeof reasonsToLook)[number];

/** What a row of the board says of an athlete; what is absent is not known yet. */
export interface BoardRow {
	athleteId: string;
	name: string;
	/** In the order of `reasonsToLook`. */
	reasons: ReasonToLook[];
	/** The newest day of which anything is known. */
	last?: { date: string; words: string };
	/** The oldest day of the last weeks on which an effort is owed. */
	owedDate?: string;
	owedCount: number;
	/** The week that runs, with the four before it. */
	week: LoadWeek;
	/** The newest drop against the athlete's own usual of like sessions. */
	drop?: { sessionId: string; words: string };
	/** Kilos over the limit by the newest weighing. */
	weight?: { overKg: number; date?: string };
	weighIn?: { date: string; inDays: number };
}

interface BoardFacts {
	/** By athlete and date. */
	days: ReadonlyMap<string, { days: ReadonlyMap<string, TrainingDay> }>;
	/** Of everybody, oldest first. */
	trainings: readonly KeptTraining[];
	/** Days of the goals, YYYY-MM-DD, by athlete. */
	goals: ReadonlyMap<string, string>;
	nowMs: number;
}

/** Own rules: what is older is no news, what is further off no reason yet. */
const knownWithinDays = 7;
const weighInWithinDays = 14;
const owedWithinDays = 28;
const dayMs = 86_400_000;

/** A row an athlete, by the reason to look and then by name: nobody is ranked by what was measured. */
export function boardRows(athletes: readonly Athlete[], facts: BoardFacts): BoardRow[] {
	const ofAthlete = trainingsByAthlete(facts.trainings);
	const rank = ({ reasons: [first] }: BoardRow) =>
		first ? reasonsToLook.indexOf(first) : reasonsToLook.length;
	return athletes
		.map((athlete) => boardRow(athlete, ofAthlete.get(athlete.id) ?? [], facts))
		.sort((one, other) => rank(one) - rank(other) || one.name.localeCompare(other.name));
}

function boardRow(
	athlete: Athlete,
	trainings: readonly KeptTraining[],
	{ days: all, goals, nowMs }: BoardFacts
): BoardRow {
	const days = all.get(athlete.id)?.days ?? new Map<string, TrainingDay>();
	const byDate = trainingsByDate(trainings);
	const now = new Date(nowMs);
	const today = dayOf(now);
	const dates = [...new Set([...days.keys(), ...byDate.keys()])].sort().filter((date) => date <= today);
	const known = knownOn(days, byDate);
	const last = dates.findLast((date) => known(date).isKnown);
	const owedFrom = dayOf(daysAfter(now, 1 - owedWithinDays));
	const owed = dates.filter((date) => date >= owedFrom && known(date).isEffortOwed);
	const row: BoardRow = {
		athleteId: athlete.id,
		name: athlete.name,
		reasons: [],
		owedCount: owed.length,
		week: weekAgainstBefore(mondayOf(now), known, nowMs),
		...(last && { last: { date: last, words: dayTrainingWords(days.get(last), byDate.get(last) ?? []) } }),
		...(owed[0] && { owedDate: owed[0] }),
		...found('drop', dropOf(trainings)),
		...found('weight', overLimit(athlete)),
		...found('weighIn', weighInOf(weighInDayOf(athlete, goals.get(athlete.id), today), today))
	};
	const holds: Record<ReasonToLook, boolean> = {
		restricted: restrictionOf(athlete, today) !== undefined,
		'nothing known': !last || last < dayOf(daysAfter(now, 1 - knownWithinDays)),
		'effort owed': owed.length > 0,
		'over the limit': (row.weight?.overKg ?? 0) > 0,
		'weigh-in near': row.weighIn !== undefined && row.weighIn.inDays <= weighInWithinDays
	};
	row.reasons = reasonsToLook.filter((reason) => holds[reason]);
	return row;
}

const found = <Name extends string, T>(name: Name, value: T | undefined) =>
	(value === undefined ? {} : { [name]: value }) as { [key in Name]?: T };

/** The newest session with judged drops against those like it before; without five of these nothing is usual yet. */
function dropOf(trainings: readonly KeptTraining[]): BoardRow['drop'] {
	const judged = trainings.filter(({ drops }) => drops.length > 0);
	const newest = judged.at(-1);
	if (!newest) return undefined;
	const like = judged.filter(
		(one) =>
			one !== newest &&
			one.planKind === newest.planKind &&
			one.activity === newest.activity &&
			one.posture === newest.posture
	);
	const mean = newest.drops.reduce((sum, drop) => sum + drop, 0) / newest.drops.length;
	const usual = usualOf(like.map(({ drops }) => drops));
	const against = usual
		? `${againstUsual(mean, usual)} (${Math.round(usual.low)} to ${Math.round(usual.high)})`
		: 'usual not known yet';
	return { sessionId: newest.id, words: `${Math.round(mean)}, ${against}` };
}

/** Nothing of whoever wants to see no figures of weight, or could be harmed by them. */
function overLimit(athlete: Athlete): BoardRow['weight'] {
	const { weightLimitKg, weightKg, weights, hidesFuel, eatingDisorderHistory } = athlete;
	if (hidesFuel || eatingDisorderHistory || weightLimitKg === undefined) return undefined;
	const weighed = weights?.at(-1);
	const kg = weighed?.kg ?? weightKg;
	if (kg === undefined) return undefined;
	return { overKg: Math.max(0, kg - weightLimitKg), ...(weighed && { date: weighed.date }) };
}

/** That of the next bout, else the day of the goal for weight. */
function weighInDayOf(athlete: Athlete, goalDate: string | undefined, today: string): string | undefined {
	const bout = nextBout(athlete, today);
	const day = bout && (bout.weighInDay ?? bout.day);
	return day !== undefined && day >= today ? day : goalDate;
}

function weighInOf(date: string | undefined, today: string): BoardRow['weighIn'] {
	if (date === undefined || date < today) return undefined;
	return { date, inDays: Math.round((Date.parse(date) - Date.parse(today)) / dayMs) };
}

/** What a reason is called on the board. Of a restriction only that there is one. */
export function reasonWords(row: BoardRow, reason: ReasonToLook): string {
	switch (reason) {
		case 'restricted':
			return 'restricted';
		case 'nothing known':
			return row.last ? `nothing known since ${dateWords(row.last.date)}` : 'nothing known yet';
		case 'effort owed':
			return row.owedCount === 1 ? 'effort owed' : `${row.owedCount} efforts owed`;
		case 'over the limit':
			return `${row.weight!.overKg.toFixed(1)} kg over the limit`;
		case 'weigh-in near':
			return row.weighIn!.inDays === 0 ? 'weigh-in today' : `weigh-in in ${row.weighIn!.inDays} days`;
	}
}
