import { withThreshold, withWeight } from '$lib/record/athlete-changes';
import type { AthleteSnapshot } from '$lib/record/head';
import type { ToldLater } from '$lib/record/edit';
import type { Athlete } from '$lib/record/athlete';
import { heightField, heightWords, weightField, weightWordsIn, type Units } from './units';

/** What may be asked for where a number wants it. */
export type AskedFact = 'sex' | 'birthYear' | 'heightCm' | 'weightKg' | 'restBpm' | 'thresholdBpm';

/** Answers to what was asked; what was left empty is absent. */
export type Answers = Partial<Pick<Athlete, AskedFact>>;

/** A number that is not computed, and what it lacks. */
export interface Gap {
	/** "the energy": completes "weight gives the energy". */
	gives: string;
	lacks: AskedFact[];
}

const names: Record<AskedFact, string> = {
	sex: 'sex',
	birthYear: 'year of birth',
	heightCm: 'height',
	weightKg: 'weight',
	restBpm: 'resting rate',
	thresholdBpm: 'threshold'
};

/** Those that are typed in the units of the eye. */
const fieldOf: Partial<Record<AskedFact, typeof weightField>> = {
	weightKg: weightField,
	heightCm: heightField
};

/** The label of a fact's field. */
export function fieldName(fact: AskedFact, units: Units): string {
	if (fact === 'sex') return 'Sex used by the formulas';
	if (fact === 'birthYear') return 'Year of birth';
	if (fact === 'heightCm') return `Height, ${units === 'metric' ? 'cm' : 'inches'}`;
	if (fact === 'weightKg') return `Weight, ${units === 'metric' ? 'kg' : 'pounds'}`;
	return `${fact === 'restBpm' ? 'Resting rate' : 'Threshold'}, beats a minute`;
}

/** What a field shows of a number that is known. */
export function shownFact(fact: AskedFact, told: Answers, units: Units): string {
	const value = told[fact];
	if (value === undefined) return '';
	if (typeof value === 'string') return value;
	const shown = fieldOf[fact]?.shown(value, units) ?? value;
	return String(Math.round(shown * 10) / 10);
}

/**
 * Which numbers of a session are missing for want of a fact, each with just the facts that it lacks. Energy is
 * left out for whom it is hidden.
 */
export function gapsOf(athlete: AthleteSnapshot, hidesEnergy: boolean): Gap[] {
	const { sex, ageYears, weightKg, restBpm, measuredMaxBpm, thresholdBpm, slowingMedicine } = athlete;
	const noSex = sex === undefined ? (['sex'] as const) : [];
	const noYear = ageYears === undefined ? (['birthYear'] as const) : [];
	const noWeight = weightKg === undefined ? (['weightKg'] as const) : [];
	const energy: Gap[] = [
		// Under such medicine no energy is told from the heart, whatever else is known.
		...(slowingMedicine ? [] : [{ gives: 'the energy', lacks: [...noSex, ...noYear, ...noWeight] }]),
		...(slowingMedicine ? [{ gives: 'what is typical for this work', lacks: [...noWeight] }] : ([] as Gap[]))
	];
	const gaps: Gap[] = [
		...(hidesEnergy ? [] : energy),
		{
			gives: 'the load from the heart rate',
			lacks: [
				...noSex,
				...(restBpm === undefined ? (['restBpm'] as const) : []),
				...(measuredMaxBpm === undefined ? noYear : [])
			]
		},
		{ gives: 'the time over it and near it', lacks: thresholdBpm === undefined ? ['thresholdBpm'] : [] }
	];
	return gaps.filter(({ lacks }) => lacks.length > 0);
}

/** `gapWords({ gives: 'the energy', lacks: ['weightKg', 'birthYear'] })` is "Weight and year of birth give the energy". */
export function gapWords({ gives, lacks }: Gap): string {
	const words = lacks.map((fact) => names[fact]);
	const list = words.length > 1 ? `${words.slice(0, -1).join(', ')} and ${words.at(-1)}` : words[0]!;
	return `${list[0]!.toUpperCase()}${list.slice(1)} ${words.length > 1 ? 'give' : 'gives'} ${gives}`;
}

/**
 * Reads what was typed into the fields. A number out of its range is named, and then nothing is taken.
 *
 * @param typed the text of each field that was shown
 * @param year the present one
 */
export function readAnswers(
	typed: Partial<Record<AskedFact, string>>,
	units: Units,
	year: number
): { told: Answers } | { problem: string; field?: AskedFact } {
	const ranges = {
		birthYear: [year - 100, year - 8],
		heightCm: [100, 230],
		weightKg: [20, 250],
		restBpm: [30, 120],
		thresholdBpm: [90, 220]
	} as const;
	const told: Answers = {};
	if (typed.sex === 'female' || typed.sex === 'male') told.sex = typed.sex;
	for (const fact of ['birthYear', 'heightCm', 'weightKg', 'restBpm', 'thresholdBpm'] as const) {
		const text = typed[fact]?.trim().replace(',', '.') ?? '';
		if (text === '') continue;
		const number = fieldOf[fact]?.stored(Number(text), units) ?? Number(text);
		const [low, high] = ranges[fact];
		if (!(number >= low && number <= high)) {
			const words = (value: number) => {
				if (fact === 'weightKg') return weightWordsIn(units, value);
				return fact === 'heightCm' ? heightWords(value, units) : String(value);
			};
			return {
				field: fact,
				problem: `A ${names[fact]} lies between ${words(low)} and ${words(high)}. Nothing was kept.`
			};
		}
		told[fact] = fact === 'birthYear' ? Math.round(number) : number;
	}
	return Object.keys(told).length > 0 ? { told } : { problem: 'Nothing is filled in yet.' };
}

/**
 * The card with what was told for a day. What stands on the card already stays; a weight is kept by its day.
 *
 * @param day YYYY-MM-DD
 */
export function withAnswers(card: Athlete, told: Answers, day: string): Athlete {
	const { sex, birthYear, heightCm, weightKg, restBpm, thresholdBpm } = told;
	let changed: Athlete = {
		...card,
		...(sex && card.sex === undefined && { sex }),
		...(birthYear !== undefined && card.birthYear === undefined && { birthYear }),
		...(heightCm !== undefined && card.heightCm === undefined && { heightCm }),
		...(restBpm !== undefined && card.restBpm === undefined && { restBpm })
	};
	if (thresholdBpm !== undefined && card.thresholdBpm === undefined)
		changed = withThreshold(changed, thresholdBpm, day, 'typed');
	if (weightKg === undefined) return changed;
	const isWeighed = changed.weights?.some(({ date }) => date === day);
	if (isWeighed) return changed;
	const weighed = withWeight(changed, weightKg, day);
	// Entered without a day, it is what the athlete weighs now, whatever was on an earlier one.
	return card.weightKg !== undefined && !card.weights?.length
		? { ...weighed, weightKg: card.weightKg }
		: weighed;
}

/** The same as a later entry beside the record of a day in `year`. */
export function toldLater({ birthYear, ...told }: Answers, year: number): ToldLater {
	return { ...told, ...(birthYear !== undefined && { ageYears: year - birthYear }) };
}
