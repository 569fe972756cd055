import { availabilityBand, availabilityOf, daysUnderFloor } from '$lib/physiology/availability';
import { budgetOf, type EnergyBudget } from '$lib/physiology/energy-budget';
import { fatFreeMassOf, type FatFreeMass } from '$lib/physiology/fat-free-mass';
import { sumOf, type Range } from '$lib/physiology/range';
import { isAdultHere, judgeGoal, medianWeight, noLossReason, type WeightPlan } from '$lib/physiology/weight';
import { youthNeedOf } from '$lib/physiology/youth-energy';
import { dayOf } from './athlete-changes';
import type { SessionRecord } from './record';
import type { Athlete } from './record-schema';
import { sessionNetKcal } from './session-energy';

const dayMs = 86_400_000;
const exerciseDays = 28;
const shownDays = 7;

/** What the fuel screen shows; absent figures are unknown. */
export interface FuelView {
	isAdult: boolean;
	/** Why nothing that loses weight is planned. */
	barred?: string;
	medianKg?: number;
	weights: { date: string; kg: number; medianKg?: number }[];
	budget?: EnergyBudget;
	budgetReason?: string;
	/** For the young: needs for growth, training included. */
	need?: Range;
	today: Range;
	fatFree?: FatFreeMass;
	days: { date: string; availability?: Range; band?: string }[];
	underFloorDays: number;
	plan?: WeightPlan;
	earliestDate?: string;
	/** Today's intake by the plan, the upper end of today's sessions eaten back. */
	plannedKcal?: number;
}

export const dayNumber = (date: string) => Math.round(Date.parse(`${date}T00:00:00Z`) / dayMs);
export const dateOf = (day: number) => new Date(day * dayMs).toISOString().slice(0, 10);

interface Logged {
	weightKg: Record<string, number>;
	intakeKcal: Record<string, number>;
	goal?: { kg: number; date: string };
}

/** Joins log, sessions and athlete into what `today` (YYYY-MM-DD, local) comes to. Costs are net kcal. */
export function fuelOf(
	athlete: Athlete,
	log: Logged,
	sessions: readonly { date: string; net: Range }[],
	today: string
): FuelView {
	const day = dayNumber(today);
	const entries = Object.entries(log.weightKg).map(([date, kg]) => ({ date, day: dayNumber(date), kg }));
	const medianKg = currentKg(athlete, log.weightKg, today);
	const ageYears =
		athlete.birthYear === undefined ? undefined : Number(today.slice(0, 4)) - athlete.birthYear;
	const facts = { ...athlete, ageYears };
	const activity = athlete.dailyActivity ?? 'sitting';
	const isAdult = isAdultHere(facts);
	const costOf = (date: string) => sumOf(sessions.filter((one) => one.date === date).map(({ net }) => net));
	const cost = costOf(today);
	const view: FuelView = {
		isAdult,
		barred: noLossReason(facts),
		medianKg,
		weights: entries
			.sort((a, b) => a.day - b.day)
			.map(({ date, day, kg }) => ({ date, kg, medianKg: medianWeight(entries, day) })),
		today: cost,
		days: [],
		underFloorDays: 0
	};
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
	view.fatFree = fatFreeMassOf({ ...adult, ageYears: adult.ageYears, weightKg: medianKg }).value;
	const { fatFree } = view;
	if (fatFree) {
		view.days = Array.from({ length: shownDays }, (_, i) => dateOf(day - shownDays + 1 + i)).map((date) => {
			const availability = availabilityOf(log.intakeKcal[date], costOf(date), fatFree);
			return { date, availability, band: availability && availabilityBand(availability.value) };
		});
		view.underFloorDays = daysUnderFloor(view.days.map(({ availability }) => availability?.value));
	}
	if (!log.goal) return view;
	const recent = sessions.filter(({ date }) => dayNumber(date) > day - exerciseDays && date <= today);
	const total = sumOf(recent.map(({ net }) => net));
	const mean = {
		low: total.low / exerciseDays,
		value: total.value / exerciseDays,
		high: total.high / exerciseDays
	};
	view.plan = judgeGoal(adult, medianKg, log.goal.kg, dayNumber(log.goal.date) - day, activity, mean);
	if (view.plan.kind === 'refused' && view.plan.earliestDays)
		view.earliestDate = dateOf(day + view.plan.earliestDays);
	if (view.plan.kind === 'reasonable') view.plannedKcal = view.plan.intakeKcal + cost.high;
	return view;
}

/** A session's net cost, kcal, on its day. */
export interface DayCost {
	date: string;
	net: Range;
}

/** Net costs of kept sessions by day, and the reasons where one is unknown. */
export function dayCostsOf(
	records: readonly SessionRecord[],
	athlete: Athlete,
	weightKg: Record<string, number>,
	today: string
): { costs: DayCost[]; unknown: string[] } {
	const ageYears =
		athlete.birthYear === undefined ? undefined : Number(today.slice(0, 4)) - athlete.birthYear;
	const costs: DayCost[] = [];
	const unknown = new Set<string>();
	for (const record of records) {
		const { value, reason } = sessionNetKcal(record, athlete.dailyActivity ?? 'sitting', {
			...athlete,
			weightKg: currentKg(athlete, weightKg, today),
			ageYears
		});
		if (value) costs.push({ date: dayOf(new Date(record.head.startedAt)), net: value });
		else unknown.add(reason);
	}
	return { costs, unknown: [...unknown] };
}

/** The median of the seven days that end with the last weighing, else the athlete's usual weight. */
function currentKg(athlete: Athlete, weightKg: Record<string, number>, today: string): number | undefined {
	const entries = Object.entries(weightKg).map(([date, kg]) => ({ day: dayNumber(date), kg }));
	const lastDay = Math.max(...entries.map(({ day }) => day).filter((day) => day <= dayNumber(today)));
	return Number.isFinite(lastDay) ? medianWeight(entries, lastDay) : athlete.weightKg;
}
