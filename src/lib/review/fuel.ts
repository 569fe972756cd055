import { availabilityBand, availabilityOf, daysUnderFloor } from '$lib/physiology/availability';
import { budgetOf, type EnergyBudget } from '$lib/physiology/energy-budget';
import { fatFreeMassOf, type FatFreeMass } from '$lib/physiology/fat-free-mass';
import { planPathOf, type PlanWeek } from '$lib/physiology/plan-path';
import { atHighEnd, sumOf, type Range } from '$lib/physiology/range';
import {
	isAdultHere,
	judgeGoal,
	medianWeight,
	noLossReason,
	safeKgPerWeek,
	type WeightPlan
} from '$lib/physiology/weight';
import { youthNeedOf } from '$lib/physiology/youth-energy';
import { dayOf } from '$lib/record/athlete-changes';
import { ageOn } from './age';
import { dateOf, dayNumber, lastDays } from './day-numbers';
import { notCounted, type EatBack } from './eat-back';
import type { SessionRecord } from '$lib/record/body';
import type { Athlete } from '$lib/record/athlete';
import type { TrainingDay } from '$lib/record/day';
import { sessionNetKcal } from './session-energy';

/** What training costs is reckoned from so many days. */
export const exerciseDays = 28;
/** Own rule: fewer days say too little of a usual one. */
const leastKnownDays = 7;
/** So many days are shown. */
export const shownDays = 7;

/** A plan that was found reasonable, week by week. Days are counted from 1 January 1970. */
export interface FuelPath {
	fromDay: number;
	fromKg: number;
	weeks: PlanWeek[];
	/** The weigh-in. */
	goalDay: number;
	goalKg: number;
	/** The fastest loss that any plan may have. */
	safeKgPerWeek: number;
}

/** What the fuel screen shows; absent figures are unknown. */
export interface FuelView {
	isAdult: boolean;
	/** Why nothing that loses weight is planned. */
	barred?: string;
	/** What was eaten is asked for: not where nothing would be made of it. */
	asksFood: boolean;
	/** Why no intake is logged: it is hidden, and this stands in its place. */
	notLogged?: string;
	medianKg?: number;
	/** `day` is counted from 1 January 1970. */
	weights: { date: string; day: number; kg: number; medianKg?: number }[];
	budget?: EnergyBudget;
	budgetReason?: string;
	/** For the young: needs for growth, training included. */
	need?: Range;
	/** Today's sessions; absent where there was none. */
	eatBack?: EatBack;
	fatFree?: FatFreeMass;
	fatFreeReason?: string;
	/** Availability is judged where it was said that all food and all training of the day are known, else `reason` says why not. */
	days: { date: string; availability?: Range; band?: string; reason?: string }[];
	underFloorDays: number;
	plan?: WeightPlan;
	path?: FuelPath;
	earliestDate?: string;
	/** Today's intake by the plan, the upper end of today's sessions eaten back; absent where that is unknown. */
	planned?: Range;
}

interface Logged {
	weightKg: Record<string, number>;
	intakeKcal: Record<string, number>;
	/** Training days by date, for what was said to be all of a day. */
	days: ReadonlyMap<string, TrainingDay>;
	goal?: { kg: number; date: string };
}

/** Body fat as a plan may stand on it. */
export function fatFacts({ measuredFat, bodyFatPercent }: Athlete, today: string) {
	return measuredFat
		? { bodyFatPercent: measuredFat.percent, bodyFatAgeDays: dayNumber(today) - dayNumber(measuredFat.day) }
		: { bodyFatPercent };
}

/** Joins log, sessions and athlete into what `today` (YYYY-MM-DD, local) comes to. Costs are net kcal. */
export function fuelOf(athlete: Athlete, log: Logged, sessions: readonly DayCost[], today: string): FuelView {
	const day = dayNumber(today);
	const entries = Object.entries(log.weightKg).map(([date, kg]) => ({ date, day: dayNumber(date), kg }));
	const medianKg = currentKg(athlete, log.weightKg, today);
	const ageYears = ageOn(today, athlete);
	const facts = { ...athlete, ageYears, ...fatFacts(athlete, today) };
	const activity = athlete.dailyActivity ?? 'sitting';
	const isAdult = isAdultHere(facts);
	const onDay = (date: string) => sessions.filter((one) => one.date === date);
	const costOf = (date: string) => atHighEnd(sumOf(onDay(date).flatMap(({ net }) => net ?? [])));
	/** One session of unknown cost makes a day's cost unknown: a sum without it would read too low. */
	const isCostKnown = (date: string) => onDay(date).every(({ net }) => net);
	/** Nothing is missing in what the day's training cost. */
	const isTrainingKnown = (date: string) =>
		(log.days.get(date)?.allTraining ?? athlete.entersAllTraining ?? false) && isCostKnown(date);
	const isFoodKnown = (date: string) =>
		(log.days.get(date)?.allFood ?? athlete.entersAllFood ?? false) && log.intakeKcal[date] !== undefined;
	const cost = costOf(today);
	const uncounted = notCounted(athlete, Number(today.slice(0, 4)));
	const eatBackToday = (): EatBack | undefined => {
		if (onDay(today).length === 0) return undefined;
		if (uncounted !== undefined) return { reason: uncounted };
		return isCostKnown(today) ? { value: cost } : { reason: "Today's sessions: the cost of one is unknown." };
	};
	const view: FuelView = {
		isAdult,
		barred: noLossReason(facts),
		asksFood: !athlete.eatingDisorderHistory && !athlete.pregnant,
		notLogged: athlete.eatingDisorderHistory && uncounted,
		medianKg,
		weights: entries
			.sort((a, b) => a.day - b.day)
			.map(({ date, day, kg }) => ({ date, day, kg, medianKg: medianWeight(entries, day) })),
		eatBack: eatBackToday(),
		days: [],
		underFloorDays: 0
	};
	if (athlete.eatingDisorderHistory) return view;
	if (athlete.pregnant)
		return { ...view, budgetReason: uncounted, fatFreeReason: 'No estimate here holds in pregnancy.' };
	if (medianKg === undefined) return { ...view, budgetReason: 'Log a weight first.' };
	if (!isAdult) {
		const { sex, heightCm } = athlete;
		return ageYears === undefined || !sex || !heightCm
			? { ...view, budgetReason: 'Energy needs want year of birth, sex and height: enter them.' }
			: { ...view, need: youthNeedOf(sex, ageYears, heightCm, medianKg) };
	}
	// A confirmed adult of 18 counts as 19 for the equations of adults.
	const adult = { ...facts, ageYears: ageYears === undefined ? undefined : Math.max(19, ageYears) };
	const budget = budgetOf({ ...adult, weightKg: medianKg }, activity, [cost]);
	if (!budget.value || adult.ageYears === undefined) return { ...view, budgetReason: budget.reason };
	view.budget = budget.value;
	const lean = fatFreeMassOf({ ...adult, ageYears: adult.ageYears, weightKg: medianKg });
	const fatFree = lean.value;
	view.fatFree = fatFree;
	view.fatFreeReason = lean.reason;
	if (fatFree) {
		view.days = Array.from({ length: shownDays }, (_, i) => dateOf(day - shownDays + 1 + i)).map((date) => {
			const reason = !isCostKnown(date)
				? 'the cost of a training is unknown'
				: !isTrainingKnown(date)
					? 'nobody said that was all training'
					: !isFoodKnown(date)
						? 'nobody said that was all food'
						: undefined;
			const intakeKcal = reason === undefined ? log.intakeKcal[date] : undefined;
			const availability = availabilityOf(intakeKcal, costOf(date), fatFree);
			return {
				date,
				...(reason !== undefined && { reason }),
				availability,
				band: availability && availabilityBand(availability.value)
			};
		});
		view.underFloorDays = daysUnderFloor(view.days.map(({ availability }) => availability?.value));
	}
	if (!log.goal) return view;
	const known = lastDays(today, exerciseDays).filter(isTrainingKnown);
	const mean = meanExercise(sessions, today, isTrainingKnown);
	const { kg: goalKg, date: goalDate } = log.goal;
	const goalDay = dayNumber(goalDate);
	view.plan = judgeGoal(adult, medianKg, goalKg, goalDay - day, activity, mean);
	if (view.plan.kind === 'refused' && view.plan.earliestDays)
		view.earliestDate = dateOf(day + view.plan.earliestDays);
	if (known.length < leastKnownDays && view.plan.kind === 'reasonable') {
		view.plan = {
			kind: 'none',
			reason: `What training costs is known of ${known.length} of the last ${exerciseDays} days; a plan needs ${leastKnownDays} (own rule). Say below which days have all their training.`
		};
		return view;
	}
	const weeks = planPathOf(adult, medianKg, goalKg, goalDay - day, activity, mean);
	const thisWeek = weeks?.[0]?.intakeKcal;
	if (!weeks || !thisWeek) return view;
	view.path = {
		fromDay: day,
		fromKg: medianKg,
		weeks,
		goalDay,
		goalKg,
		safeKgPerWeek: safeKgPerWeek(goalKg)
	};
	if (!isCostKnown(today)) return view;
	view.planned = {
		low: thisWeek.low + cost.high,
		value: thisWeek.value + cost.high,
		high: thisWeek.high + cost.high
	};
	return view;
}

/** Mean net cost of training over the days of the last four weeks whose training is known, kcal a day: the others are no days of rest. */
export function meanExercise(
	sessions: readonly DayCost[],
	today: string,
	isTrainingKnown: (date: string) => boolean
): Range {
	const known = lastDays(today, exerciseDays).filter(isTrainingKnown);
	const total = sumOf(sessions.filter(({ date }) => known.includes(date)).flatMap(({ net }) => net ?? []));
	const count = Math.max(1, known.length);
	return { low: total.low / count, value: total.value / count, high: total.high / count };
}

/** A session's net cost, kcal, on its day; absent where it is unknown. */
export interface DayCost {
	date: string;
	net?: Range;
}

/** Net costs of kept sessions by day, and the reasons where one is unknown. */
export function dayCostsOf(
	records: readonly SessionRecord[],
	athlete: Athlete,
	weightKg: Record<string, number>,
	today: string
): { costs: DayCost[]; unknown: string[] } {
	const ageYears = ageOn(today, athlete);
	const costs: DayCost[] = [];
	const unknown = new Set<string>();
	for (const record of records) {
		const { value, reason } = sessionNetKcal(record, athlete.dailyActivity ?? 'sitting', {
			...athlete,
			weightKg: currentKg(athlete, weightKg, today),
			ageYears
		});
		costs.push({ date: dayOf(new Date(record.head.startedAt)), ...(value && { net: value }) });
		if (!value) unknown.add(reason);
	}
	return { costs, unknown: [...unknown] };
}

/** The median of the seven days that end with the last weighing, else the athlete's usual weight. */
export function currentKg(
	athlete: Athlete,
	weightKg: Record<string, number>,
	today: string
): number | undefined {
	const entries = Object.entries(weightKg).map(([date, kg]) => ({ day: dayNumber(date), kg }));
	const lastDay = Math.max(...entries.map(({ day }) => day).filter((day) => day <= dayNumber(today)));
	return Number.isFinite(lastDay) ? medianWeight(entries, lastDay) : athlete.weightKg;
}
