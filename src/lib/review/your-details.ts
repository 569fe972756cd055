import type { Athlete } from '$lib/record/athlete';
import type { AskedFact } from './asked-facts';
import type { FuelView } from './fuel';
import { heightWords, weightWords, type Units, type WeightUnit } from './units';

const eighteen = 18;

/** What the estimates take from a card, for the eye: ["male", "born 1996", "180 cm"]. */
export function knownDetails(
	{ sex, birthYear, heightCm, pregnant, vo2max }: Athlete,
	units: Units
): string[] {
	return [
		sex,
		birthYear !== undefined && `born ${birthYear}`,
		heightCm !== undefined && heightWords(heightCm, units),
		vo2max !== undefined && `VO2max ${vo2max}`,
		pregnant && 'pregnant'
	].filter((words) => typeof words === 'string');
}

/** What the estimates take and the card does not say. */
export function lackingDetails(athlete: Athlete): AskedFact[] {
	return (['sex', 'birthYear', 'heightCm'] as const).filter((fact) => athlete[fact] === undefined);
}

/** Whether only the athlete can say if they are 18: the year of birth is unknown, or leaves it open this year. */
export const asksAdult = ({ birthYear }: Athlete, year: number) =>
	birthYear === undefined || year - birthYear === eighteen;

/** Where the weight stands, in a sentence. */
export function weightSentence({ medianKg }: FuelView, athlete: Athlete, unit: WeightUnit): string {
	if (medianKg === undefined) return 'No weight is known yet.';
	const limit = athlete.weightLimitKg;
	const limitWords = limit === undefined ? '' : ` Weight limit: ${weightWords(limit, unit)}.`;
	return `Weighs ${weightWords(medianKg, unit)}, the median of seven days.${limitWords}`;
}
