import { gymPlans } from '$lib/rounds/formats';
import type { Plan } from '$lib/rounds/plan';
import { timelineOf } from '$lib/rounds/timeline';
import { snapshotOf } from '$lib/record/athlete-snapshot';
import { dayOf, withThreshold, withWeight } from '$lib/record/athlete-changes';
import { packReadings } from '$lib/record/columns';
import { recoveryCheckPlan, restingPlan, thresholdRunPlan } from '$lib/rounds/guided-plans';
import type { MeasuredRecord } from '$lib/record/journal';
import { exampleSquad, type ExampleDay } from './example-squad';
import { practisedReadings } from './practised-readings';
import { recordVersion } from '$lib/record/check';
import type { RecordEdit } from '$lib/record/edit';
import type { Athlete } from '$lib/record/athlete';
import { measured } from '$lib/review/summary';
import { beats } from '$lib/review/beats';

const dayMs = 86_400_000;
const weeks = 13;

/** Two invented boxers with a strap: one who gets fitter, one who stays where he is. */
const people = [
	{
		athlete: {
			id: 'example-ilka',
			name: 'Ilka Brandvoll (example)',
			birthYear: 2001,
			sex: 'female',
			heightCm: 168,
			weightKg: 62.5,
			thresholdBpm: 164,
			thresholdSource: 'typed',
			groups: ['Elite'],
			example: true
		} satisfies Athlete as Athlete,
		heart: (week: number) => ({ restBpm: 64 - 0.5 * week, maxBpm: 194, riseS: 24, fallS: 78 - 2.6 * week }),
		kg: (week: number) => 62.5 - 0.15 * week
	},
	{
		athlete: {
			id: 'example-tomaso',
			name: 'Tomaso Quellin (example)',
			birthYear: 1996,
			sex: 'male',
			heightCm: 181,
			weightKg: 81,
			thresholdBpm: 168,
			thresholdSource: 'typed',
			groups: ['Elite'],
			example: true
		} satisfies Athlete as Athlete,
		heart: () => ({ restBpm: 58, maxBpm: 190, riseS: 26, fallS: 58 }),
		kg: (week: number) => 81 + 0.3 * Math.sin(week)
	}
];

/** What is trained in a week: weekday from 0, hour of the day, plan, rating. */
function weekOfPlans(week: number, athlete: Athlete) {
	const days: { day: number; hour: number; plan: Plan; effort?: number }[] = [
		{ day: 0, hour: 7, plan: restingPlan('lying') },
		{ day: 0, hour: 18, plan: gymPlans[1]!, effort: 6 + (week % 3) },
		{ day: 2, hour: 18, plan: gymPlans[2]!, effort: 5 },
		{ day: 4, hour: 7, plan: restingPlan('lying') }
	];
	if (week % 2 === 0)
		days.push({ day: 4, hour: 18, plan: recoveryCheckPlan(2026 - (athlete.birthYear ?? 0)), effort: 8 });
	if (week % 6 === 0) days.push({ day: 5, hour: 10, plan: thresholdRunPlan(600), effort: 7 });
	return days;
}

export interface ExampleGym {
	/** Those with a strap first. */
	athletes: Athlete[];
	/** What was trained without one, and days of rest. */
	days: ExampleDay[];
	sessions: { record: MeasuredRecord; edit?: RecordEdit }[];
}

/**
 * Three months of twelve invented athletes, ending yesterday, two of them with the practice strap on a clock that is moved
 * by hand, so the same day gives the same gym. `breathe` is awaited between sessions, so that a page stays
 * alive meanwhile; it is told the share done by then (0 to 1), and ends the making by rejecting.
 */
export async function exampleGym(
	nowMs: number,
	breathe: (share: number) => Promise<void>
): Promise<ExampleGym> {
	const start = new Date(nowMs - weeks * 7 * dayMs);
	start.setHours(0, 0, 0, 0);
	const sessions: ExampleGym['sessions'] = [];
	const athletes: Athlete[] = [];
	for (const [who, { athlete, heart, kg }] of people.entries()) {
		let now = athlete;
		for (let week = 0; week < weeks; week++) {
			for (const { day, hour, plan, effort } of weekOfPlans(week, athlete)) {
				const startedMs = start.getTime() + (week * 7 + day) * dayMs + hour * 3_600_000;
				const id = `example-${who}-${week}-${day}-${hour}`;
				now = withWeight(now, Math.round(kg(week) * 10) / 10, dayOf(new Date(startedMs)));
				const year = new Date(startedMs).getFullYear();
				const timeline = timelineOf(plan);
				const record = measured({
					head: {
						version: recordVersion,
						id,
						groupId: id,
						startedAt: new Date(startedMs).toISOString(),
						zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
						endedMs: timeline.at(-1)?.endMs ?? 0,
						plan,
						amendments: [],
						athlete: snapshotOf(now, year),
						strapName: 'Simulated strap',
						practice: true,
						events: [],
						example: true
					},
					body: packReadings(await practisedReadings(plan, 1000 * who + 20 * week + day + hour, heart(week)))
				});
				const { guided } = record.summary ?? {};
				if (guided?.thresholdBpm !== undefined)
					now = withThreshold(
						now,
						beats(guided.thresholdBpm),
						dayOf(new Date(startedMs)),
						'run',
						'mean less 5 %'
					);
				if (guided?.restBpm !== undefined)
					now = {
						...now,
						restBpm: guided.restBpm,
						restDate: dayOf(new Date(startedMs)),
						restPosture: 'lying'
					};
				const at = new Date(startedMs + 3_600_000).toISOString();
				sessions.push({ record, ...(effort !== undefined && { edit: { at, effort } }) });
				await breathe((who * weeks + week + 1) / (people.length * weeks));
			}
		}
		athletes.push(now);
	}
	const squad = exampleSquad(start, weeks * 7);
	const rests = restsBetween(start, sessions);
	return { athletes: [...athletes, ...squad.athletes], sessions, days: [...rests, ...squad.days] };
}

/** Those with a strap rest on every day on which they do not train, and say so. */
function restsBetween(start: Date, sessions: ExampleGym['sessions']): ExampleDay[] {
	return people.flatMap(({ athlete: { id } }) => {
		const trained = new Set(
			sessions
				.filter(({ record: { head } }) => head.athlete.athleteId === id && head.plan.kind !== 'resting')
				.map(({ record }) => dayOf(new Date(record.head.startedAt)))
		);
		return Array.from({ length: weeks * 7 }, (_, day) =>
			dayOf(new Date(start.getFullYear(), start.getMonth(), start.getDate() + day))
		)
			.filter((date) => !trained.has(date))
			.map((date) => ({ athleteId: id, date, day: { entries: [], rest: true } as const }));
	});
}
