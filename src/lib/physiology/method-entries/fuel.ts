import { availabilityBand, availabilityFloor, availabilityOf, daysUnderFloor } from '../availability';
import { activityFactors, budgetOf, netSessionKcal } from '../energy-budget';
import { deurenbergFatPercent, fatFreeMassOf } from '../fat-free-mass';
import type { MethodEntry } from '../method-entry';
import { planPathOf } from '../plan-path';
import { atHighEnd, type Range } from '../range';
import { deepestDeficit, judgeGoal, kcalPerKg, medianWeight, type WeightFacts } from '../weight';
import { youthExpenditureKcal, youthNeedOf } from '../youth-energy';
import { answered, known } from './examples';
import { abstract, fromMemory } from './sources';

const man = { sex: 'male', weightKg: 75, heightCm: 180, ageYears: 30 } as const;
const noTraining: Range = { low: 0, value: 0, high: 0 };
const ends = ({ low, high }: Range, digits = 0) => `${low.toFixed(digits)} to ${high.toFixed(digits)}`;
const factorLines = Object.entries(activityFactors)
	.map(([day, { low, value, high }]) => `${day} ${value} (${low} to ${high})`)
	.join(', ');
const askSomebody =
	'Under 18, in pregnancy, while breast-feeding or with a history of eating disorder do not eat by it: ask a doctor or dietitian.';

/** What a day needs, and the guard over making weight. */
export const fuelMethods: readonly MethodEntry[] = [
	{
		id: 'energy-budget',
		title: 'Energy of a day',
		theme: 'fuel and weight',
		measures: ['budgetOf', 'netSessionKcal', 'atHighEnd'],
		plain:
			'About what an adult uses in a day: lying still, ordinary life on top, and what training adds. A session counts without what the same time would have cost anyway, so nothing is counted twice.',
		formula: `kcal/day = resting expenditure × factor + net cost of the sessions\nfactor: ${factorLines}\nnet = gross - resting expenditure over the same time × factor, at least 0\nlow and high: resting expenditure ± 10 %, each with the unfavourable factor and session\nfor planning food: the sessions at their high end`,
		example: () => {
			const restingKcal = answered(budgetOf(man, 'sitting', [])).resting.value / 24;
			const session = netSessionKcal({ low: 400, value: 500, high: 600 }, restingKcal, 'sitting');
			const { resting, ordinary, total } = answered(budgetOf(man, 'sitting', [session]));
			return {
				given:
					'A man of 30 years, 75 kg and 180 cm, who sits most of the day and trains an hour for 400 to 600 kcal gross.',
				steps: `Resting ${resting.value.toFixed(0)} kcal, ordinary life ${ordinary.value.toFixed(0)} kcal, the session ${session.value.toFixed(0)} kcal net (${ends(session)}).`,
				result: `${total.value.toFixed(0)} kcal (${ends(total)})`
			};
		},
		validRange:
			'Adults of 18 to 100 years and 20 to 250 kg, with sex and height; at 18 reckoned as 19. Under 18 see the needs of the young.',
		error:
			"None published for the whole. Without a measured body fat the resting equation is Mifflin's, which came within 10 % of the measured value in more people than the others in a review. For one athlete it can be further off; the factor and the session add their own ranges.",
		sources: [
			'Own rule',
			abstract(
				'FAO/WHO/UNU, Human energy requirements, 2004, Food and Nutrition Technical Report 1 (number from memory)'
			),
			abstract('Frankenfield, Roth-Yousey, Compher, J Am Diet Assoc 2005;105:775-789')
		],
		limits: `The factors are our own rule, set in the lower half of the published levels, because those include training. It is an estimate and no food plan. ${askSomebody}`
	},
	{
		id: 'energy-availability',
		title: 'Energy availability',
		theme: 'fuel and weight',
		measures: ['availabilityOf', 'availabilityBand', 'daysUnderFloor'],
		plain:
			'What food leaves for the body once training is paid: for the heart, bones, hormones and healing. It is told for each kilogram that is not fat. A day without a food entry is unknown, not zero. What training cost is taken at its high end.',
		formula: `availability (kcal/kg/day) = (eaten - net cost of training) / fat-free mass (kg)\nunder 30 low, under ${availabilityFloor} under the floor, under 45 reduced, from 45 in balance\nworth a word: 3 or more known days in a row under ${availabilityFloor}, up to the newest`,
		example: () => {
			const training = atHighEnd({ low: 600, value: 700, high: 800 });
			const available = known(availabilityOf(2400, training, { low: 48, value: 50, high: 52 }));
			return {
				given:
					'2400 kcal eaten, 600 to 800 kcal of training, 48 to 52 kg of fat-free mass. In another week the days read 44, 33, unknown, 31.',
				steps: `(2400 - 800) / 50; the ends are ${ends(available, 1)}.`,
				result: `${available.value.toFixed(1)} kcal/kg/day: ${availabilityBand(available.value)}. In the other week ${daysUnderFloor([44, 33, undefined, 31])} days in a row under the floor`
			};
		},
		validRange: 'Adults, whole days with all food entered. The bands were found in young women.',
		error:
			'None published for a single day. Food logs leave things out, and each of the three parts has its range; the ends take them all the unfavourable way.',
		sources: [
			'Own rule',
			abstract('Loucks, Thuma, J Clin Endocrinol Metab 2003;88:297-311'),
			abstract('Areta, Taylor, Koehler, Eur J Appl Physiol 2021;121:1-21'),
			abstract('Mountjoy et al., Br J Sports Med 2018;52:687-697'),
			abstract('Mountjoy et al., Br J Sports Med 2023;57:1073-1097')
		],
		limits: `The bands are debated and unknown in men. The floor of ${availabilityFloor} and the three days are our own rule. A good figure does not prove that all is well: missed periods, injuries that come back, low mood or feeling faint are a matter for a doctor. ${askSomebody}`
	},
	{
		id: 'fat-free-mass',
		title: 'Fat-free mass',
		theme: 'fuel and weight',
		measures: ['fatFreeMassOf', 'deurenbergFatPercent'],
		plain:
			'Body weight without its fat: muscle, bone, organs and water. From a measured body fat where there is one, else a rough estimate from height and weight.',
		formula:
			'fat-free mass (kg) = mass × (1 - fat / 100), fat in % of body mass, taken as 2 to 70\nestimated fat = 1.20 BMI + 0.23 age - 5.4, for men 10.8 less\nBMI = mass (kg) / height (m) squared\nlow and high: measured fat ± 2 points, estimated fat ± 4.1 points',
		example: () => {
			const measured = answered(fatFreeMassOf({ weightKg: 80, ageYears: 30, bodyFatPercent: 15 }));
			const estimated = answered(fatFreeMassOf({ ...man, weightKg: 81 }));
			return {
				given:
					'An athlete of 80 kg with a measured body fat of 15 %; a man of 30 years, 81 kg and 180 cm (BMI 25) without one.',
				steps: `Estimated fat ${known(deurenbergFatPercent('male', 25, 30)).toFixed(1)} %.`,
				result: `Measured ${measured.value.toFixed(1)} kg (${ends(measured, 1)}), estimated ${estimated.value.toFixed(1)} kg (${ends(estimated, 1)})`
			};
		},
		validRange:
			'The estimate: 16 to 83 years and a body mass index of 13.9 to 40.9, with sex and height. Outside, fat-free mass is unknown unless body fat was measured.',
		error:
			'The estimate: a standard error of 4.1 points of fat in 1229 people. For a measured figure 2 points are our own rule; it depends on how it was measured.',
		sources: ['Own rule', abstract('Deurenberg, Weststrate, Seidell, Br J Nutr 1991;65:105-114')],
		limits:
			'The estimate knows nothing of muscle: it reads the fat of a muscular boxer too high. It does not hold in pregnancy. It is no goal, least of all under 18 or with a history of eating disorder: then leave body fat alone, and talk to a doctor or dietitian.'
	},
	{
		id: 'youth-needs',
		title: 'Needs of the young',
		theme: 'fuel and weight',
		measures: ['youthExpenditureKcal', 'youthNeedOf'],
		plain:
			'About what somebody of 9 to 18 years needs in a day, training and growth included. It shows whether there is enough to eat; it is never a limit, and no weight loss is planned from it.',
		formula:
			'kcal/day, age in years, height in cm, mass in kg\nboys, low active: 19.12 + 3.68 age + 8.62 height + 20.28 mass\nboys, active: -388.19 + 3.68 age + 12.66 height + 20.46 mass\nboys, very active: -671.75 + 3.68 age + 15.38 height + 23.25 mass\ngirls, low active: -297.54 - 22.25 age + 12.77 height + 14.73 mass\ngirls, active: -189.55 - 22.25 age + 11.74 height + 18.34 mass\ngirls, very active: -709.59 - 22.25 age + 18.22 height + 14.25 mass\nfor growth: 25 (boys) or 30 (girls) up to 13 years, 20 from 14\nneed = active; low = the least of the three less the error, high = the most of the three plus the error',
		example: () => {
			const mean = youthExpenditureKcal('male', 8.7, 134, 37.1, 'active');
			const need = known(youthNeedOf('male', 14, 164, 51));
			return {
				given: 'A boy of 14 years, 164 cm and 51 kg.',
				steps: `Check: for the mean active boy of the report (8.7 years, 134 cm, 37.1 kg) the equation gives ${mean.toFixed(0)} kcal without growth, as printed there.`,
				result: `${need.value.toFixed(0)} kcal a day (${ends(need)})`
			};
		},
		validRange:
			'9 to 18 years, with sex, height and mass. The equations were made on 3 to 18 years; below 9 none is shown.',
		error: 'Root mean square error of 259 kcal a day in boys, 237 in girls.',
		sources: [
			'Own rule',
			abstract('National Academies, Dietary Reference Intakes for Energy, 2023, tables 5-5, 5-6 and 5-8')
		],
		limits:
			'The range from low active to very active is our own rule. The young grow in spurts and differ widely: hunger comes before any figure. Nobody under 18 should make weight, by eating less or by drinking less. In pregnancy, or with an eating disorder now or before, it does not apply: ask a doctor or dietitian.'
	},
	{
		id: 'weight-goal',
		title: 'Weight goal',
		theme: 'fuel and weight',
		measures: [
			'judgeGoal',
			'deepestDeficit',
			'safeKgPerWeek',
			'planPathOf',
			'noLossReason',
			'noFatReason',
			'isAdultHere',
			'limitAnswer',
			'classOf'
		],
		plain:
			'Whether a goal weight by a date can be reached by eating a little less, with enough left to train and stay well. If not, it is refused, and where only the date is too early the first day that would do is named.',
		formula: `refused: a minor or an unknown age, pregnancy, a history of eating disorder, no weight plan wished\nnone without body fat measured in the last eight weeks (own rule)\nrefused: a goal under BMI 18.5, or one that may leave under 5 % fat (men) or 12 % (women), fat-free mass kept\nrefused: more than 1 % of the goal weight a week, or a deficit over the room; the most a week under 0.05 kg\nleast intake (kcal/day) = the larger of ${availabilityFloor} × fat-free mass (kg) and resting expenditure, upper ends, + training, upper end\nroom (kcal/day) = energy of a day - least intake, now or at the goal weight, whichever is less\ndeficit (kcal/day) = kg a week × ${kcalPerKg} / 7\neach week: intake = energy of a day at the weight of then, without training, - deficit; its lower end never under the least intake; sessions are eaten on top, upper end\nwhere the weight may lie: the line ± what the ends of the energy of a day come to, all one way, with nothing corrected\nadult: this year less the birth year is 19 or more, or 18 or unknown with "18 or over" confirmed; a plan needs the year of birth`,
		example: () => {
			const facts: WeightFacts = {
				sex: 'male',
				heightCm: 180,
				ageYears: 30,
				bodyFatPercent: 20,
				bodyFatAgeDays: 0
			};
			const judged = (days: number) => judgeGoal(facts, 84, 81, days, 'on your feet', noTraining);
			const inTime = judged(56);
			const tooSoon = judged(14);
			const { intakeKcal, deficitKcal } = known(deepestDeficit(facts, 84, 'on your feet', noTraining));
			const plan = known(inTime.kind === 'reasonable' ? inTime : undefined);
			const refusal = known(tooSoon.kind === 'refused' ? tooSoon : undefined);
			const lastWeek = known(planPathOf(facts, 84, 81, 56, 'on your feet', noTraining)?.at(-1));
			return {
				given:
					'A man of 30 years, 180 cm, 84 kg and 20 % body fat as measured today, on his feet by day, training left out, wants to weigh 81 kg in 56 days, or in 14.',
				steps: `Least intake ${intakeKcal.toFixed(1)} kcal, room at 84 kg ${deficitKcal.toFixed(1)} kcal a day. In the last week ${lastWeek.intakeKcal.value.toFixed(0)} kcal (${ends(lastWeek.intakeKcal)}), and the weight may end between ${ends(lastWeek.kg, 1)} kg if nothing is corrected.`,
				result: `56 days: ${plan.neededKgPerWeek.toFixed(3)} kg a week, ${plan.deficitKcal.toFixed(1)} kcal a day less, which leaves ${plan.intakeKcal.toFixed(1)} kcal. 14 days: refused, at the earliest ${known(refusal.earliestDays)} days`
			};
		},
		validRange:
			'Adults with sex, height and year of birth, 20 to 250 kg. The present weight is the median of seven days.',
		error:
			'None published for a plan. 7700 kcal a kilogram is a planning number that overstates the deficit lean people need. In one study of athletes lean mass rose by 2.1 % in the slow group, which aimed at 0.7 % a week, and not in the fast one, which reached 1.0.',
		sources: [
			'Own rule',
			abstract('Garthe et al., Int J Sport Nutr Exerc Metab 2011;21:97-104'),
			abstract('Loucks, Thuma, J Clin Endocrinol Metab 2003;88:297-311'),
			abstract('Wishnofsky, Am J Clin Nutr 1958;6:542-6'),
			abstract('Hall, Int J Obes 2008;32:573-6'),
			fromMemory('Centers for Disease Control, MMWR 1998;47:105-108, deaths of wrestlers who made weight')
		],
		limits:
			'It knows nothing of illness or medicine. It plans no loss of water: no sauna, sweat suits, spitting, going without drink, water tablets or laxatives. Drying out has killed athletes. Nobody under 18, pregnant or with a history of eating disorder gets a plan. See a doctor or dietitian before you make weight, and stop when you feel faint, cold or low; the rules of your federation come first. Boxing a heavier class is always an answer.'
	},
	{
		id: 'weight-median',
		title: 'Median weight',
		theme: 'fuel and weight',
		measures: ['medianWeight'],
		plain:
			'The middle one of the weights of the last seven days. Water, food and salt move the scale by a kilogram from day to day; the middle hardly moves with one odd morning.',
		formula:
			'median (kg) of all weights of the day and the six days before it; of an even number, the mean of the middle two',
		example: () => {
			const kgs = [80, 81, 90, 79];
			const entries = kgs.map((kg, day) => ({ day, kg }));
			return {
				given: `Weights on four days in a row: ${kgs.join(', ')} kg; the 90 is a slip.`,
				result: `${known(medianWeight(entries, 3)).toFixed(1)} kg`
			};
		},
		validRange: 'One weight or more in the seven days; without any it is unknown.',
		error: 'None published. With one or two weights it is no steadier than the scale.',
		sources: ['Own rule'],
		limits:
			'It does not tell fat from water: a drop in a day or two is water, and being short of it is dangerous in training. If weighing weighs on you, or with a history of eating disorder, leave it and talk to a doctor or dietitian. Under 18 and in pregnancy it is normal to gain.'
	}
];
