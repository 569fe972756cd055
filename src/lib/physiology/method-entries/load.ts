import { banisterLoad, sessionRatingLoad, weekOf } from '../load';
import type { MethodEntry } from '../method-entry';
import { shareOfReserve } from '../reserve';
import { answered, known, steady } from './examples';
import { abstract, fromMemory } from './sources';

/** How much training there was. */
export const loadMethods: readonly MethodEntry[] = [
	{
		id: 'load',
		title: 'Load from the heart rate',
		theme: 'load',
		measures: ['banisterLoad'],
		plain:
			'One number for how much a session asked of the heart: both length and effort count, and effort counts more. It is summed second by second, because a mean rate hides the rounds.',
		formula:
			"Banister's impulse: sum over the minutes of share × 0.64 × exp(1.92 × share) for men, share × 0.86 × exp(1.67 × share) for women\nshare = share of the heart-rate reserve, at least 0",
		example: () => {
			const { load } = answered(banisterLoad(steady(3600, 150), { sex: 'male', restBpm: 60, maxBpm: 190 }));
			return {
				given: 'A man with a resting rate of 60 and a maximum of 190 bpm, 60 minutes at 150.',
				steps: `Share of the reserve ${known(shareOfReserve(150, 60, 190)).toFixed(3)}.`,
				result: `${load.toFixed(2)} (no unit)`
			};
		},
		validRange:
			'Resting rate and maximum of 30 to 240 bpm, the sex given. Seconds without a reading are not counted.',
		error:
			'None published for a single load. The maximum matters: the 100 of the example would be 85 to 122 where it is off by 10 bpm, the error of an estimate from age.',
		sources: [
			abstract('Morton, Fitz-Clarke, Banister, J Appl Physiol 1990;69:1171-7'),
			fromMemory('Banister, in: Physiological Testing of the High-Performance Athlete, 1991, pages 403-424')
		],
		limits:
			'The first source prints the weights 0.64 and 0.86; the second is mostly credited with them. Compare only loads of one athlete made with the same maximum. Blows taken, weight training and skill work hardly show in it. Medicine that slows the heart makes it meaningless.'
	},
	{
		id: 'session-rating',
		title: 'Load from the rating',
		theme: 'load',
		measures: ['sessionRatingLoad'],
		plain:
			'The athlete says how hard the whole session was, 0 to 10. Times the minutes, it is a load that needs no strap. It was made for half an hour after the end; in eight boxers what they said after ten minutes equalled what they said after thirty.',
		formula: 'load = rating (0 to 10) × minutes of the whole session, rests included',
		example: () => ({
			given: 'An hour rated 7.',
			steps: '7 × 60 minutes',
			result: `${known(sessionRatingLoad(7, 60))} (no unit)`
		}),
		validRange: 'Ratings of 0 (rest) to 10 (maximal).',
		error:
			'None published for a single session. Over sessions it followed a heart-rate score closely, on a higher scale.',
		sources: [
			abstract('Foster et al., J Strength Cond Res 2001;15:109-115'),
			abstract('Uchida et al., J Sports Sci Med 2014;13:59-65')
		],
		limits: 'Never add it to the load from the heart rate, nor compare the two: the scales differ.'
	},
	{
		id: 'week',
		title: 'Weekly load, monotony, strain',
		theme: 'load',
		measures: ['weekOf'],
		plain:
			'How much a week held and how even its days were. Many equally hard days are thought to wear an athlete out more than the same load with easy days between.',
		formula:
			'weekly load = sum of the seven days, rest days 0\nmonotony = mean daily load / standard deviation (n - 1)\nstrain = weekly load × monotony',
		example: () => {
			const days = [300, 0, 400, 200, 0, 500, 0];
			const { weeklyLoad, monotony, strain } = weekOf(days);
			return {
				given: `Seven days with loads of ${days.join(', ')}.`,
				result: `weekly load ${known(weeklyLoad)}, monotony ${known(monotony).toFixed(2)}, strain ${known(strain).toFixed(0)}`
			};
		},
		validRange:
			'Seven days of one kind of load, Monday to Sunday. A day is known by a session, an entry or a tick for rest; one of which nobody said anything is unknown and never 0, and so is the week then: the page says of how many days the sum is. Of what may be one training told twice the larger load counts until somebody answers (own rule). Seven equal days have no monotony.',
		error: 'It takes over that of the loads.',
		sources: [abstract('Foster, Med Sci Sports Exerc 1998;30:1164-8')],
		limits:
			'The source does not say which standard deviation it means; with n - 1 monotony reads 7 % lower than with n. No limit is published that would hold for a single boxer, so none is drawn. The mean of the four weeks before stands beside a week for comparison alone: no ratio of loads is called a risk of injury here, since the evidence does not carry it, and days left out change such ratios badly (in another sport 97 % more of them over 2: Br J Sports Med 2021;55(Suppl 1):A35, abstract).'
	}
];
