import type { Answer } from '$lib/physiology/answer';
import { atHighEnd, type Range } from '$lib/physiology/range';
import { isAdultHere } from '$lib/physiology/weight';
import type { SessionRecord } from '$lib/record/body';
import type { Athlete } from '$lib/record/athlete';
import { ageIn } from './age';
import { sessionNetKcal } from './session-energy';

/** Net kcal to eat on top of the day, the high end as the figure; or why no figure is given. */
export type EatBack = Answer<Range>;

/**
 * Why food is not counted for this athlete, in a sentence for the page; undefined where it may be. A figure of
 * energy can feed an eating disorder, training is in the needs of the young already, and no equation here was
 * made on pregnant women.
 */
export function notCounted(athlete: Athlete, year: number): string | undefined {
	if (athlete.eatingDisorderHistory)
		return 'Food is not counted here with a history of eating disorder. Eat regular meals, more on the days you train; how much is a question for a doctor or dietitian, who can help.';
	const ageYears = ageIn(year, athlete);
	if (!isAdultHere({ ...athlete, ageYears }))
		return 'Nothing is counted back for anybody under 18, or whose age is not known: growing needs energy as well. Eat well after training, and never less because of it.';
	if (athlete.pregnant)
		return 'Food is not counted here in pregnancy: no equation here was made for it. Ask the midwife or doctor.';
	return undefined;
}

/**
 * What a kept session may be eaten back with. Undefined where there is nothing to eat back or nobody who wants to
 * know: weight and food are switched off, the strap was a simulated one, or the heart was measured at rest.
 *
 * @param year of today; the athlete's own numbers serve where the record has none
 */
export function eatBackOf(record: SessionRecord, athlete: Athlete, year: number): EatBack | undefined {
	const { practice, plan } = record.head;
	if (athlete.hidesFuel || practice || plan.activity === 'rest') return undefined;
	const uncounted = notCounted(athlete, year);
	if (uncounted !== undefined) return { reason: uncounted };
	const ageYears = ageIn(year, athlete);
	const { value, reason } = sessionNetKcal(record, athlete.dailyActivity ?? 'sitting', {
		...athlete,
		ageYears
	});
	return value ? { value: atHighEnd(value) } : { reason };
}

// US Department of Agriculture, FoodData Central, SR Legacy: bananas, raw, 89 kcal in 100 g; rice, white,
// long-grain, regular, cooked, 130 kcal in 100 g. Both as quoted from there in print; the weights are its
// household measures.
const foods = [
	{ one: 'medium banana', more: 'medium bananas', kcal: 105 },
	{ one: 'cup of cooked rice', more: 'cups of cooked rice', kcal: 205 }
] as const;

/** For the foot of a figure that `foodWords` stands beside. */
export const foodSource =
	'A medium banana (118 g) has 105 kcal, a cup of cooked white rice (158 g) 205 kcal: US Department of Agriculture, FoodData Central, SR Legacy.';

/**
 * An amount of energy as food of every day, to the half: `foodWords(315)` is "3 medium bananas, or 1½ cups of
 * cooked rice". Undefined under a quarter of the smallest, where it says nothing.
 */
export function foodWords(kcal: number): string | undefined {
	const words = foods.flatMap(({ one, more, kcal: each }) => {
		const halves = Math.round((2 * kcal) / each);
		if (halves === 0) return [];
		const whole = Math.floor(halves / 2);
		const count = `${whole || ''}${halves % 2 ? '½' : ''}`;
		return [`${count} ${halves > 2 ? more : one}`];
	});
	return words.length > 0 ? words.join(', or ') : undefined;
}
