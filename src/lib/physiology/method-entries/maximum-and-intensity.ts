import { AimCounter, rangeOfBand, rangeOfShare, sideOf } from '../aim';
import { bandOf } from '../intensity';
import { higherMaximum, maxHeartRateFromAge } from '../max-heart-rate';
import type { MethodEntry } from '../method-entry';
import { bandsByMaximum, bandsByReserve, shareOfReserve, targetFromReserve } from '../reserve';
import { known, steady } from './examples';
import { abstract } from './sources';

const exampleAge = 30;
const byAge = () => known(maxHeartRateFromAge(exampleAge, 'female'));

/** Maximum, reserve and how hard a rate is. */
export const intensityMethods: readonly MethodEntry[] = [
	{
		id: 'intensity',
		title: 'Share of the threshold',
		theme: 'intensity',
		measures: ['bandOf', 'timeInBands', 'BandCounter'],
		plain:
			'How hard the work was, as a share of the threshold heart rate: easy, working, near threshold, over threshold. The seconds of work in each are added up. The seconds over threshold are those of "Time over the threshold", with the closing burst counted apart.',
		formula:
			'share = rate / threshold\neasy under 80 %, working 80 to under 90 %, near threshold from 90 %\nover threshold: above it, in a spell that counts; the closing burst apart; seconds above it outside such spells are near threshold',
		example: () => ({
			given: 'An athlete with a threshold of 170 bpm.',
			result: [135, 136, 153, 171].map((bpm) => `${bpm} bpm ${known(bandOf(bpm, 170))}`).join(', ')
		}),
		validRange: 'A known threshold. Seconds without a reading are counted apart, as unknown.',
		error: 'That of the threshold: if it is 8 bpm off, the edges of the groups are 6 to 8 bpm off.',
		sources: ['Own rule'],
		limits: 'The groups are for looking back on a session. They do not say how to train.'
	},
	{
		id: 'time-in-aim',
		title: 'Time in aim',
		theme: 'intensity',
		measures: ['rangeOfBand', 'rangeOfShare', 'sideOf', 'AimCounter'],
		plain:
			'A block of a plan may have an aim: easy, working, near the threshold, fight pace (over it), or a share of a measured maximum. The seconds in it are counted, beside those below and above. To be below an aim is shown and never sounded. At fight pace, and wherever an aim reaches the threshold of the athlete, the pulse for being over the threshold is silent.',
		formula:
			'easy under 80 % of the threshold, working 80 to under 90 %, near the threshold 90 to 100 %, fight pace above it\na share of the maximum: from the lower to the higher end, both in it\nsecond by second, without the first 30 s of work of each round; pauses are no work',
		example: () => {
			const counter = new AimCounter(rangeOfBand('near threshold', 170));
			steady(90, 160).forEach((bpm, s) => counter.take(bpm, s, {}));
			return {
				given: 'Near the threshold at a threshold of 170 bpm; a round of 90 s at 160 bpm.',
				result: `${counter.time.inS} s in it, of the 60 s that are judged; 80 to 90 % of a maximum of 190 are ${rangeOfShare(80, 90, 190).lowBpm} to ${rangeOfShare(80, 90, 190).highBpm} bpm, and 151 bpm is ${sideOf(151, rangeOfShare(80, 90, 190))}`
			};
		},
		validRange: 'A known threshold, or a measured maximum. Seconds without a reading are counted apart.',
		error:
			'That of the threshold or the maximum. The heart lags 10 to 20 s behind the work and climbs first, so the first 30 s of a round are not judged.',
		sources: ['Own rule'],
		limits:
			'At fight pace it counts every second above the threshold, also in the closing burst and in spells under 3 s: so it may be more than the time over the threshold. Where neither threshold nor maximum is known, only an effort from 0 to 10 can be aimed at.'
	},
	{
		id: 'maximum',
		title: 'Maximum heart rate from age',
		theme: 'intensity',
		measures: ['maxHeartRateFromAge'],
		plain:
			'What age alone says about the highest heart rate: a wide range and never a fact. A measured maximum always comes first.',
		formula: byAge()
			.formulas.map(({ formula, errorBpm, population }) => `${formula} ± ${errorBpm} bpm (${population})`)
			.join('\n'),
		example: () => {
			const { bpm, errorBpm, lowBpm, highBpm, formulas } = byAge();
			return {
				given: `A woman of ${exampleAge} years.`,
				steps: formulas.map((each) => `${each.formula}: ${each.bpm.toFixed(1)}`).join('; '),
				result: `${bpm.toFixed(0)} ± ${errorBpm} bpm by the first; ${lowBpm.toFixed(0)} to ${highBpm.toFixed(0)} bpm by all together`
			};
		},
		validRange: '8 to 100 years; under 18 and over 81 the first formula is extrapolated.',
		error:
			'Standard deviations of single people, 10 to 12 bpm (that of the formula for women from memory). Where a source prints none, the 11 bpm of a review are used. About one person in three lies further off than that.',
		sources: [
			...[...new Set(byAge().formulas.map(({ source }) => source))].map(abstract),
			abstract('Robergs & Landwehr, JEPonline 2002;5(2):1-10')
		],
		limits:
			'The first is the default because it rests on by far the most people. Medicine that slows the heart makes all of them wrong. Do not try out a maximum alone or when ill.'
	},
	{
		id: 'higher-maximum',
		title: 'A higher maximum, offered',
		theme: 'intensity',
		measures: ['higherMaximum'],
		plain:
			'Where a clean trace shows a rate above the maximum on file, it is offered as a new one. It is never taken without asking, because a dry strap can make such rates.',
		formula:
			'highest mean of 5 s, rounded, where these 5 s and the 5 s on either side have no gap and no step of more than 8 bpm from one second to the next',
		example: () => ({
			given: 'Twenty clean seconds at 196 bpm; the maximum on file is 190.',
			result: `${known(higherMaximum(steady(20, 196), 190))} bpm is offered`
		}),
		validRange: 'At least one whole beat above the maximum on file.',
		error:
			'None published. In one study runners exceeded their own laboratory maximum, 207 against 194 bpm; faults of the strap are likely among these rates.',
		sources: ['Own rule', abstract('Semin et al., J Sports Sci Med 2008;7:455-460')],
		limits: 'A strap that is steadily wrong, for instance one that counts steps or blows, looks clean too.'
	},
	{
		id: 'reserve',
		title: 'Heart-rate reserve',
		theme: 'intensity',
		measures: ['shareOfReserve', 'targetFromReserve'],
		plain:
			'The room between the resting rate and the maximum. As a share of that room, the rates of two people compare better than as they stand.',
		formula:
			'share = (rate - resting rate) / (maximum - resting rate)\ntarget (bpm) = resting rate + share × (maximum - resting rate)',
		example: () => ({
			given: 'Resting rate 70, maximum 190 bpm.',
			result: `130 bpm is ${(100 * known(shareOfReserve(130, 70, 190))).toFixed(0)} % of the reserve; 40 and 59 % of it are ${known(targetFromReserve(0.4, 70, 190)).toFixed(0)} and ${known(targetFromReserve(0.59, 70, 190)).toFixed(0)} bpm`
		}),
		validRange: 'Rates of 30 to 240 bpm, the resting rate under the maximum.',
		error:
			'Mostly that of the maximum: with one from age (SD about 10 bpm), 150 bpm is 0.69 of a reserve from 60 to 190 but may be 0.64 to 0.75.',
		sources: [abstract('Karvonen, Kentala, Mustala, Ann Med Exp Biol Fenn 1957;35:307-315')],
		limits: 'Medicine that slows the heart changes both ends.'
	},
	{
		id: 'reference-bands',
		title: 'Published bands of intensity',
		theme: 'intensity',
		measures: ['bandsByReserve', 'bandsByMaximum'],
		plain:
			'The bands in which sports medicine sorts effort. They stand here for reference; our own groups go by the threshold.',
		formula:
			'of the reserve: moderate 40 to 59 %, vigorous 60 to 89 %, near maximal from 90 %\nof the maximum: moderate 64 to 76 %, vigorous 77 to 95 %, near maximal from 96 %',
		example: () => {
			const moderate = (bands: ReturnType<typeof bandsByMaximum>) => {
				const { lowBpm, highBpm } = known(known(bands)[0]);
				return `${lowBpm.toFixed(0)} to ${highBpm.toFixed(0)} bpm`;
			};
			return {
				given: 'Resting rate 70, maximum 190 bpm: the moderate band.',
				result: `${moderate(bandsByReserve(70, 190))} by the reserve, ${moderate(bandsByMaximum(190))} by the maximum`
			};
		},
		validRange: 'Rates of 30 to 240 bpm, the resting rate under the maximum.',
		error: 'None published; it inherits that of the maximum.',
		sources: [abstract('Garber et al., Med Sci Sports Exerc 2011;43:1334-59')],
		limits: 'Made for the health of adults in general, not for training boxers.'
	}
];
