import { energyOf } from '../energy';
import {
	regressionKJPerMin,
	regressionLine,
	regressionRange,
	regressionShares,
	type EnergyActivity
} from '../energy-regression';
import { metEnergyKJ, metOf, runningMet } from '../met';
import type { MethodEntry } from '../method-entry';
import {
	kJPerKcal,
	mifflinKcalPerDay,
	restingExpenditureOf,
	tenHaafKcalPerDay
} from '../resting-expenditure';
import { answered, known, steady } from './examples';
import { abstract } from './sources';

const man = { sex: 'male', weightKg: 75, heightCm: 180, ageYears: 30 } as const;
const woman = { sex: 'female', weightKg: 60, heightCm: 165, ageYears: 30 } as const;
const { ageYears, weightKg, vo2Max, shareOfMax } = regressionRange;
const sharesOf = (activity: EnergyActivity) => {
	const { low, high } = regressionShares[activity];
	return `${low} to ${high}`;
};
const percent = (share: number) => Math.round(100 * share);
const slowingMedicine = 'Medicine that slows the heart makes it meaningless: then no figure is given.';

/** What the work cost. */
export const energyMethods: readonly MethodEntry[] = [
	{
		id: 'energy',
		title: 'Energy of a session',
		theme: 'energy',
		measures: ['energyOf', 'energyOfParts', 'energyCautions'],
		plain:
			'How much energy the session took, estimated from the heart rate, second by second. It is a range: the regression behind it was made on steady running and cycling. It reads high for the bag, and we take the same for shadow boxing. Against pads or a partner part of the work needs no oxygen and does not show in the heart rate. Where food is planned by it, the high end counts.',
		formula: `gross (kJ) = sum over the seconds of share × regression / 60, never under resting expenditure\nshare: bag and shadow boxing ${sharesOf('bag')}, pads, sparring and bouts ${sharesOf('pads')}, running ${sharesOf('running')}, anything else ${sharesOf('other')}; the figure is the middle\nnet (kJ) = gross - resting expenditure over the same seconds`,
		example: () => {
			const energy = answered(energyOf(steady(3600, 150), man, { activity: 'bag' }));
			return {
				given: 'A man of 30 years, 75 kg and 180 cm, an hour at the bag at 150 bpm.',
				steps: `Range ${energy.lowKJ.toFixed(0)} to ${energy.highKJ.toFixed(0)} kJ; resting over the same hour ${energy.restingKJ.toFixed(0)} kJ.`,
				result: `${energy.grossKJ.toFixed(0)} kJ (${(energy.grossKJ / kJPerKcal).toFixed(0)} kcal) gross, ${energy.netKJ.toFixed(0)} kJ net`
			};
		},
		validRange: `That of the regression: ${ageYears.low} to ${ageYears.high} years, ${weightKg.low} to ${weightKg.high} kg, ${percent(shareOfMax.low)} to ${percent(shareOfMax.high)} % of the maximum. Outside it a figure is given with a caution. Seconds without a reading are not counted.`,
		error:
			'No error is published for boxing. The ranges hold what was measured: 9.8 to 11.2 kcal/min in 2-minute punching trials, where the regression gives 15 to 17; 2821 ± 190 kJ for an hour of non-contact training; about 680 kJ net for 3 × 2 minutes against pads; oxygen at the bag, pads and in sparring of 24.7 to 43.4 ml/kg/min. Where we saw no heart rate or body mass of a study, we filled it in. For a single person the error is hardly smaller than the range.',
		sources: [
			'Own rule',
			abstract('Keytel et al., J Sports Sci 2005;23:289-297'),
			abstract(
				'Kravitz, Greene, Burkett, Wongsathikun, J Strength Cond Res 2003;17:104-8 (authors from memory)'
			),
			abstract('Bellinger et al., Med Sci Sports Exerc 1997;29:1653-6'),
			abstract('Davis, Leithauser, Beneke, Int J Sports Physiol Perform 2014;9:233-239'),
			abstract('Arseneau, Mekary, Leger, J Strength Cond Res 2011;25:348-359')
		],
		limits: `The ranges are our own rule. They are of one activity: a session that mixes the bag with sparring is counted as what its plan says. A light boxer's work against pads can lie under the range. Heat, fear and coffee raise the rate but not the work. ${slowingMedicine} Under ${ageYears.low} years it was never tested: do not plan a young athlete's food by it.`
	},
	{
		id: 'energy-regression',
		title: 'Energy at one heart rate',
		theme: 'energy',
		measures: ['regressionLine', 'regressionKJPerMin'],
		plain:
			'The published straight line that turns a heart rate into energy a minute, for women and for men. Where VO2max was measured, a closer form is used.',
		formula:
			'kJ/min, with the rate in bpm, mass in kg, age in years, VO2max in ml/kg/min\nmen: -55.0969 + 0.6309 rate + 0.1988 mass + 0.2017 age\nwomen: -20.4022 + 0.4472 rate - 0.1263 mass + 0.074 age\nmen: -95.7735 + 0.634 rate + 0.404 VO2max + 0.394 mass + 0.271 age\nwomen: -59.3954 + 0.450 rate + 0.380 VO2max + 0.103 mass + 0.274 age',
		example: () => {
			const { interceptKJPerMin, slopeKJPerBeat } = regressionLine(man);
			return {
				given: 'A man of 30 years and 75 kg, and a woman of 30 years and 60 kg, at 150 bpm.',
				steps: `Man: ${interceptKJPerMin.toFixed(4)} + ${slopeKJPerBeat} × 150.`,
				result: `${regressionKJPerMin(150, man).toFixed(4)} kJ/min for the man, ${regressionKJPerMin(150, woman).toFixed(4)} kJ/min for the woman`
			};
		},
		validRange: `${ageYears.low} to ${ageYears.high} years, ${weightKg.low} to ${weightKg.high} kg, VO2max ${vo2Max.low} to ${vo2Max.high} ml/kg/min, steady running and cycling at ${percent(shareOfMax.low)} to ${percent(shareOfMax.high)} % of the maximum.`,
		error:
			'Correlation with measured energy 0.857 (73 % of the variance), with VO2max 0.913 (83 %), in the 115 people it was made on.',
		sources: [abstract('Keytel et al., J Sports Sci 2005;23:289-297')],
		limits: `At low rates the line falls under resting expenditure; the session's energy never does. In women without VO2max the energy falls with mass: so it is printed. ${slowingMedicine}`
	},
	{
		id: 'met',
		title: 'Energy typical for this work',
		theme: 'energy',
		measures: ['metOf', 'metEnergyKJ', 'runningMet'],
		plain:
			'What the activity costs people on average, from a published table. It knows nothing of the heart, and so it checks the figure that comes from it.',
		formula: `energy (kJ) = MET × ${kJPerKcal} × mass (kg) × hours, gross\n1 MET = 1 kcal a kilogram an hour\nrunning: the MET of its pace, straight lines between the paces of the table`,
		example: () => {
			const { met, code } = answered(metOf('simulated round'));
			const sparring = answered(metOf('sparring'));
			const kmPerHour = 12;
			return {
				given: `A simulated bout of 3 × 3 minutes (code ${known(code)}), 75 kg.`,
				steps: `${met} MET × ${kJPerKcal} × 75 kg × 9 / 60 h. For sparring a study of boxers found ${sparring.met} MET and the table ${known(sparring.compendium).met}; running at ${kmPerHour} km an hour is ${known(runningMet(kmPerHour)).toFixed(1)} MET.`,
				result: `${known(metEnergyKJ(met, 9, 75)).toFixed(0)} kJ`
			};
		},
		validRange:
			'Adults of 19 to 59 years. There is no value for shadow boxing, and none is made up. Running counts only where its pace is known, from 6.4 to 17.7 km an hour; a run of unknown distance is not checked.',
		error:
			'None printed. How far it can be off shows in sparring, where the two published values are 7.8 and 12.4 MET. The one measured in boxers is used, with that of the table beside it. The value for pads is measured in boxers too: the table lists none.',
		sources: [
			abstract('Herrmann et al., J Sport Health Sci 2024;13:6-12'),
			abstract(
				'Ainsworth et al., Med Sci Sports Exerc 2011;43:1575-81 (running; values seen in copies of the table)'
			),
			abstract('Arseneau, Mekary, Leger, J Strength Cond Res 2011;25:348-359')
		],
		limits: 'Means of groups, at a pace that may not be yours. Rests are left out.'
	},
	{
		id: 'resting-expenditure',
		title: 'Resting expenditure',
		theme: 'energy',
		measures: ['restingExpenditureOf', 'tenHaafKcalPerDay', 'mifflinKcalPerDay', 'schofieldKcalPerDay'],
		plain:
			"What the body uses in a day of lying still. It is taken off a session's energy to show what the training itself cost.",
		formula:
			'kcal/day, from 19 years, with a measured body fat: 22.771 fat-free mass (kg) + 484.264\nwithout: 10 mass (kg) + 6.25 height (cm) - 5 age + 5 (men) or - 161 (women)\nwithout height or sex either: 24 mass\n10 to 18 years: boys 17.686 mass + 658.2, girls 13.384 mass + 692.6',
		example: () => {
			const { kcalPerDay, kJPerDay } = answered(restingExpenditureOf(man));
			const { weightKg: kg, heightCm, ageYears: years } = woman;
			return {
				given:
					'A man of 30 years, 75 kg and 180 cm; a woman of 30 years, 60 kg and 165 cm; an athlete of 75 kg with a measured body fat of 20 %, which leaves 60 kg.',
				result: `${kcalPerDay.toFixed(0)} kcal (${kJPerDay.toFixed(0)} kJ) a day for the man, ${known(mifflinKcalPerDay('female', kg, heightCm, years)).toFixed(2)} kcal for the woman, ${known(tenHaafKcalPerDay(60)).toFixed(0)} kcal for the athlete`
			};
		},
		validRange: '10 to 100 years, 20 to 250 kg, 100 to 230 cm, each equation at the ages it was made on.',
		error:
			'The error of the equation for athletes: not seen. The second explained 71 % of the variance in 498 adults; in athletes no equation was exact enough for a single person, and in 3001 adults at nutrition clinics all five equations that were tried read low. In the young, a standard error of 105 (boys) and 111 (girls) kcal a day.',
		sources: [
			abstract('ten Haaf & Weijs, PLoS ONE 2014;9:e108460 (coefficients seen in an open program)'),
			abstract('Cunningham, Am J Clin Nutr 1980;33:2372-4'),
			abstract('Mifflin et al., Am J Clin Nutr 1990;51:241-7'),
			abstract('Schofield, Hum Nutr Clin Nutr 1985;39 Suppl 1:5-41'),
			abstract('Frankenfield, Roth-Yousey, Compher, J Am Diet Assoc 2005;105:775-789'),
			abstract('Balci et al., Front Physiol 2021;12:625370'),
			abstract('Lahav, Yavetz, Gepner (authors from memory), Nutrients 2023;15:805')
		],
		limits:
			'The equation of athletes needs a measured body fat; an estimate from height and weight will not do. Beside it, 500 + 22 fat-free mass (Cunningham 1980), which left trained athletes out, gives nearly the same. Without a measurement Mifflin is taken, which did best in a review of adults in general and reads low for athletes. A kilocalorie a kilogram an hour is only a convention and reads high for heavy people. It is no food plan, least of all for those under 18: ask a dietitian or a doctor.'
	}
];
