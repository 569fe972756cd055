import type { Answer } from './answer';

/** What is known of a person as far as it says how much energy the body uses at rest. */
export interface RestingFacts {
	sex?: 'female' | 'male';
	/** Body mass, kg, 20 to 250. */
	weightKg?: number;
	/** 100 to 230. */
	heightCm?: number;
	/** 10 to 100. */
	ageYears?: number;
	/** Measured body fat, % of body mass, 2 to 70; never an estimate. */
	bodyFatPercent?: number;
}

/** Energy used in a day of lying still. */
export interface RestingExpenditure {
	kcalPerDay: number;
	kJPerDay: number;
	method: 'ten Haaf' | 'Mifflin-St Jeor' | 'Schofield' | 'one MET';
}

/** Kilojoules in a kilocalorie: the thermochemical calorie, which is exact. */
export const kJPerKcal = 4.184;

const youngestYears = 10;
const oldestYears = 100;
// The equations for adults were made on people of 19 and over, the one for the young on those of 10 to 18.
const adultFromYears = 19;

const isWithin = (value: number | undefined, low: number, high: number): value is number =>
	value !== undefined && value >= low && value <= high;

/**
 * Resting expenditure of an adult from body mass, height and age, kcal a day: 10 kg + 6.25 cm - 5 age, + 5 for
 * men and - 161 for women.
 *
 * Error: it explained 71 % of the variance in 498 people of 19 to 78 years; it is extrapolated above. In a
 * review of four common equations it was within 10 % of the measured value in more people than any other
 * (Frankenfield, Roth-Yousey, Compher, J Am Diet Assoc 2005;105:775-789), yet no equation was good enough for
 * single athletes (Balci et al., Front Physiol 2021;12:625370).
 *
 * Source: Mifflin et al., Am J Clin Nutr 1990;51:241-7.
 *
 * @param weightKg 20 to 250
 * @param heightCm 100 to 230
 * @param ageYears 19 to 100
 * @returns undefined outside these ranges
 * @example mifflinKcalPerDay('male', 75, 180, 30) // 1730
 */
export function mifflinKcalPerDay(
	sex: 'female' | 'male',
	weightKg: number,
	heightCm: number,
	ageYears: number
): number | undefined {
	if (!isWithin(weightKg, 20, 250) || !isWithin(heightCm, 100, 230)) return undefined;
	if (!isWithin(ageYears, adultFromYears, oldestYears)) return undefined;
	return 10 * weightKg + 6.25 * heightCm - 5 * ageYears + (sex === 'male' ? 5 : -161);
}

/**
 * Resting expenditure of an athlete from measured fat-free mass, kcal a day: 22.771 kg + 484.264. Made on athletes,
 * who rest higher than the equations for adults in general say; an older one, 500 + 22 kg (Cunningham, Am J Clin Nutr
 * 1980;33:2372-4: 223 adults, trained athletes left out), lies within 50 kcal of it from 45 to 80 kg.
 *
 * Error: not seen in print. The error of the fat-free mass comes on top: 5 kg are 114 kcal.
 *
 * Source: ten Haaf & Weijs, PLoS ONE 2014;9:e108460 (coefficients seen in an open program, not in print).
 *
 * @param fatFreeMassKg 15 to 150
 * @returns undefined outside this range
 * @example tenHaafKcalPerDay(60) // 1850.524
 */
export function tenHaafKcalPerDay(fatFreeMassKg: number): number | undefined {
	return isWithin(fatFreeMassKg, 15, 150) ? 22.771 * fatFreeMassKg + 484.264 : undefined;
}

/**
 * Resting expenditure of those from 10 to 18 years from body mass, kcal a day: boys 17.686 kg + 658.2, girls
 * 13.384 kg + 692.6.
 *
 * Error: standard error of the estimate 105 kcal a day in boys, 111 in girls.
 *
 * Source: Schofield, Hum Nutr Clin Nutr 1985;39 Suppl 1:5-41, as taken up by FAO, WHO and UNU.
 *
 * @param weightKg 20 to 250
 * @returns undefined outside this range
 * @example schofieldKcalPerDay('male', 50) // 1542.5
 */
export function schofieldKcalPerDay(sex: 'female' | 'male', weightKg: number): number | undefined {
	if (!isWithin(weightKg, 20, 250)) return undefined;
	return sex === 'male' ? 17.686 * weightKg + 658.2 : 13.384 * weightKg + 692.6;
}

/**
 * Resting expenditure by the best equation the facts allow.
 *
 * From 19 years on, where body fat was measured, it is ten Haaf & Weijs, made on athletes. Else Mifflin-St Jeor, which
 * needs no body composition and did best in a review of adults in general (`mifflinKcalPerDay`); a study of athletes
 * found every equation that it tried low, not only one (Nutrients 2023;15:805). Without height or sex comes one
 * MET, 1 kcal a kilogram an hour, which is a convention and reads high for heavy people. From 10 to 18 years it is
 * Schofield, made on that age.
 *
 * @returns the reason where body mass or age is missing or out of range, or, under 19 years, the sex
 * @example restingExpenditureOf({ sex: 'male', weightKg: 75, heightCm: 180, ageYears: 30 }).value // 1730 kcal
 */
export function restingExpenditureOf(facts: RestingFacts): Answer<RestingExpenditure> {
	const body = bodyOf(facts);
	if (!body.value) return body;
	const { sex, heightCm, bodyFatPercent } = facts;
	const { weightKg, ageYears } = body.value;
	if (ageYears < adultFromYears) {
		const young = sex && schofieldKcalPerDay(sex, weightKg);
		return young === undefined
			? { reason: 'The sex is not given, and the equation for those under 19 needs it: enter it.' }
			: expenditureOf(young, 'Schofield');
	}
	const athlete = isWithin(bodyFatPercent, 2, 70)
		? tenHaafKcalPerDay(weightKg * (1 - bodyFatPercent / 100))
		: undefined;
	if (athlete !== undefined) return expenditureOf(athlete, 'ten Haaf');
	const mifflin = sex && mifflinKcalPerDay(sex, weightKg, heightCm ?? NaN, ageYears);
	if (mifflin !== undefined) return expenditureOf(mifflin, 'Mifflin-St Jeor');
	return expenditureOf(24 * weightKg, 'one MET');
}

/**
 * Body mass and age, where both are given and can be true: 20 to 250 kg and 10 to 100 years (own rule; there is
 * no equation here for children under 10).
 *
 * @returns otherwise what is missing or out of range, and what to do
 * @example bodyOf({ weightKg: 750, ageYears: 30 }).reason // 'A body mass of 750 kg is outside ...'
 */
export function bodyOf(facts: RestingFacts): Answer<{ weightKg: number; ageYears: number }> {
	const { weightKg, ageYears } = facts;
	if (weightKg === undefined) return { reason: 'The body mass is not given: enter it.' };
	if (!isWithin(weightKg, 20, 250)) {
		return { reason: `A body mass of ${weightKg} kg is outside 20 to 250 kg: correct it.` };
	}
	if (ageYears === undefined) return { reason: 'The age is not given: enter the year of birth.' };
	if (!isWithin(ageYears, youngestYears, oldestYears)) {
		return { reason: `No equation here holds for ${ageYears} years, only for 10 to 100.` };
	}
	return { value: { weightKg, ageYears } };
}

function expenditureOf(kcalPerDay: number, method: RestingExpenditure['method']): Answer<RestingExpenditure> {
	return { value: { kcalPerDay, kJPerDay: kcalPerDay * kJPerKcal, method } };
}
