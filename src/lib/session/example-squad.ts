import type { Athlete } from '$lib/record/athlete';
import { dayOf } from '$lib/record/athlete-changes';
import type { DayEntry, TrainingDay } from '$lib/record/day';

/** A day of an invented athlete. */
export interface ExampleDay {
	athleteId: string;
	/** YYYY-MM-DD. */
	date: string;
	day: TrainingDay;
}

interface Member {
	id: string;
	name: string;
	group: string;
	birthYear: number;
	/** Weekdays of training from 0 (Monday), and how hard it mostly feels. */
	trains: readonly number[];
	effort: number;
	/** Says nothing of days without training, so that they stay unknown. */
	isSilent?: true;
	/** Nothing was entered in so many days before the last one. */
	silentDays?: number;
	/** The newest effort is owed. */
	owes?: true;
	restrictedDays?: number;
	limitKg?: number;
	kg?: number;
}

/** Ten invented boxers who share the gym's two straps hardly ever. */
const members: readonly Member[] = [
	{ id: 'bente', name: 'Bente Aasland', group: 'Juniors', birthYear: 2010, trains: [0, 2, 4], effort: 5 },
	{
		id: 'corin',
		name: 'Corin Vashti',
		group: 'Juniors',
		birthYear: 2009,
		trains: [0, 2],
		effort: 6,
		owes: true
	},
	{ id: 'davor', name: 'Davor Ilinca', group: 'Elite', birthYear: 2000, trains: [0, 1, 2, 4, 5], effort: 7 },
	{
		id: 'emrys',
		name: 'Emrys Okafor',
		group: 'Elite',
		birthYear: 1999,
		trains: [0, 1, 3, 4],
		effort: 6,
		limitKg: 71,
		kg: 73.4
	},
	{
		id: 'fenja',
		name: 'Fenja Morvan',
		group: 'Elite',
		birthYear: 2002,
		trains: [1, 3, 5],
		effort: 7,
		restrictedDays: 12
	},
	{
		id: 'goran',
		name: 'Goran Teixidor',
		group: 'Elite',
		birthYear: 1998,
		trains: [0, 2, 4, 5],
		effort: 5,
		isSilent: true
	},
	{
		id: 'hanne',
		name: 'Hanne Dubrow',
		group: 'Juniors',
		birthYear: 2010,
		trains: [1, 3],
		effort: 4,
		isSilent: true
	},
	{ id: 'ismet', name: 'Ismet Varga', group: 'Elite', birthYear: 2001, trains: [0, 2, 3, 5], effort: 8 },
	{
		id: 'jorun',
		name: 'Jorun Castell',
		group: 'Juniors',
		birthYear: 2011,
		trains: [0, 4],
		effort: 5,
		silentDays: 11
	},
	{
		id: 'kalev',
		name: 'Kalev Brandt',
		group: 'Elite',
		birthYear: 1997,
		trains: [1, 2, 4],
		effort: 6,
		owes: true
	}
];

const works = [
	['pads', 60],
	['bag', 45],
	['running', 40],
	['sparring', 50],
	['circuit', 35]
] as const;

/**
 * Athletes without a strap over some weeks up to yesterday, made by arithmetic alone: the same day gives the same squad.
 *
 * @param start the first day, at midnight here
 * @param dayCount of the term
 */
export function exampleSquad(start: Date, dayCount: number): { athletes: Athlete[]; days: ExampleDay[] } {
	const dayAt = (day: number) => new Date(start.getFullYear(), start.getMonth(), start.getDate() + day);
	const athletes = members.map((member): Athlete => {
		const { id, name, group, birthYear, restrictedDays, limitKg, kg } = member;
		return {
			id: `example-${id}`,
			name: `${name} (example)`,
			birthYear,
			groups: [group],
			example: true,
			...(restrictedDays && { noSparringUntil: dayOf(dayAt(dayCount + restrictedDays)) }),
			...(limitKg && { weightLimitKg: limitKg }),
			...(kg && { weightKg: kg, weights: [{ date: dayOf(dayAt(dayCount - 2)), kg }] })
		};
	});
	const days = members.flatMap((member, who) =>
		Array.from({ length: dayCount }, (_, day) => day)
			.filter((day) => day < dayCount - (member.silentDays ?? 0))
			.flatMap((day): ExampleDay[] => {
				const date = dayOf(dayAt(day));
				const told = dayOfMember(member, who, day, (dayAt(day).getDay() + 6) % 7, dayCount);
				return told ? [{ athleteId: `example-${member.id}`, date, day: told }] : [];
			})
	);
	return { athletes, days };
}

function dayOfMember(
	member: Member,
	who: number,
	day: number,
	weekday: number,
	dayCount: number
): TrainingDay | undefined {
	// Now and then a training is missed, and nobody says why.
	const isMissed = (day * 5 + who * 3) % 17 === 0;
	if (!member.trains.includes(weekday))
		return member.isSilent || isMissed ? undefined : { entries: [], rest: true };
	if (isMissed) return undefined;
	const [activity, minutes] = works[(day + who) % works.length]!;
	const isOwed = member.owes && day >= dayCount - 5;
	const entry: DayEntry = {
		id: `example-${day}`,
		activity,
		minutes: minutes + 5 * ((day + who) % 3),
		...(!isOwed && { effort: Math.min(10, Math.max(0, member.effort + ((day * 7 + who) % 3) - 1)) }),
		madeAt: '2026-01-01T20:00:00.000Z'
	};
	return { entries: [entry] };
}
