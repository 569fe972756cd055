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

/** The athlete with what the first question was answered with; a threshold that is no new one stays as it was found. */
export function withFirstAnswer(
	athlete: Athlete,
	{ thresholdBpm, birthYear }: Pick<Athlete, 'thresholdBpm' | 'birthYear'>,
	today: string
): Athlete {
	const told = { ...athlete, birthYear };
	return thresholdBpm === undefined || thresholdBpm === athlete.thresholdBpm
		? { ...told, thresholdBpm }
		: withThreshold(told, thresholdBpm, today, 'typed');
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

/** The calendar day of a moment, here, YYYY-MM-DD. */
export function dayOf(moment: Date): string {
	const two = (value: number) => String(value).padStart(2, '0');
	return `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}`;
}
