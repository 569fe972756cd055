import type { ThresholdBasis } from '$lib/physiology/threshold-basis';
import type { Athlete, MeasuredFat } from './athlete';

const dayMs = 86_400_000;
/** Own rule, adjustable: a threshold is worth measuring again after eight weeks. */
export const retestAfterDays = 56;

/**
 * The athlete with a new threshold; the one that held before is kept with its date.
 *
 * @param basis which reading of a run it is
 */
export function withThreshold(
	athlete: Athlete,
	bpm: number,
	date: string,
	source: 'typed' | 'run',
	basis?: ThresholdBasis
): Athlete {
	const { thresholdBasis, ...others } = athlete;
	const { thresholdBpm, thresholdDate, thresholdSource, olderThresholds = [] } = others;
	const older =
		thresholdBpm === undefined
			? olderThresholds
			: [
					...olderThresholds,
					{
						bpm: thresholdBpm,
						...(thresholdDate && { date: thresholdDate }),
						...(thresholdSource && { source: thresholdSource }),
						...(thresholdBasis && { basis: thresholdBasis })
					}
				];
	return {
		...others,
		thresholdBpm: bpm,
		thresholdDate: date,
		thresholdSource: source,
		...(basis && { thresholdBasis: basis }),
		...(older.length > 0 && { olderThresholds: older })
	};
}

/** The athlete with a new weight; a second one on a day replaces the first. */
export function withWeight(athlete: Athlete, kg: number, date: string): Athlete {
	const others = (athlete.weights ?? []).filter((weight) => weight.date !== date);
	const weights = [...others, { date, kg }].sort((a, b) => (a.date < b.date ? -1 : 1));
	// A day filled in late does not change what the athlete weighs now.
	return { ...athlete, weightKg: weights.at(-1)!.kg, weights };
}

/** The athlete with body fat as it was measured: the figure that everything else goes by, too. */
export const withMeasuredFat = (athlete: Athlete, measuredFat: MeasuredFat): Athlete => ({
	...athlete,
	bodyFatPercent: measuredFat.percent,
	measuredFat
});

/**
 * All weights that are known of an athlete by day: those on the card, and those logged beside what was eaten. The
 * card's holds: whatever logs a weight writes it there too, and what is put right on the card alone is the later word.
 */
export function weightsByDay(
	athlete: Athlete,
	logged: Readonly<Record<string, number>>
): Record<string, number> {
	return { ...logged, ...Object.fromEntries((athlete.weights ?? []).map(({ date, kg }) => [date, kg])) };
}

/** Whole days since the threshold was found; undefined without a date. */
function thresholdAgeDays({ thresholdDate }: Athlete, today: string): number | undefined {
	if (!thresholdDate) return undefined;
	return Math.round((Date.parse(today) - Date.parse(thresholdDate)) / dayMs);
}

/** How old the threshold is, in days, where it is older than `afterDays` and so worth measuring again. */
export function retestDueDays(
	athlete: Athlete,
	today: string,
	afterDays: number = retestAfterDays
): number | undefined {
	const ageDays = thresholdAgeDays(athlete, today);
	return ageDays !== undefined && ageDays > afterDays ? ageDays : undefined;
}

/** What is left out because the athlete has not said something, in plain sentences. */
export function notComputed(athlete: Athlete): string[] {
	const missing: string[] = [];
	if (!athlete.sex)
		missing.push(
			athlete.hidesFuel
				? 'Sex is not given: training impulse is not computed.'
				: 'Sex is not given: energy, training impulse and resting expenditure are not computed.'
		);
	if (athlete.birthYear === undefined)
		missing.push(
			`Year of birth is not given: no maximum is estimated${athlete.hidesFuel ? '' : ' and energy is not computed'}.`
		);
	if (athlete.weightKg === undefined && !athlete.hidesFuel)
		missing.push('Weight is not given: energy is not computed.');
	if (athlete.thresholdBpm === undefined)
		missing.push('No threshold: time over the threshold is not counted.');
	if (athlete.slowingMedicine)
		missing.push('Medicine that slows the heart: no verdict on a rest is given, and rates mean little.');
	if (athlete.pregnant)
		missing.push('Pregnancy: no figure here was made for it. A midwife or doctor decides what is trained.');
	return missing;
}

/** The calendar day of a moment, here, YYYY-MM-DD. */
export function dayOf(moment: Date): string {
	const two = (value: number) => String(value).padStart(2, '0');
	return `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}`;
}
