import type { MethodEntry } from '../method-entry';
import { type ThresholdBasis } from '../threshold-basis';
import { overThreshold, readsLowBpm, thresholdFromRun, thresholdRunS } from '../threshold';
import { known } from './examples';
import { abstract } from './sources';

const lowWords = (basis: ThresholdBasis) => `${readsLowBpm[basis].low} to ${readsLowBpm[basis].high}`;

/** A threshold, and the work over it. */
export const thresholdMethods: readonly MethodEntry[] = [
	{
		id: 'threshold-run',
		title: 'Threshold from the run',
		theme: 'threshold',
		measures: ['thresholdFromRun'],
		plain:
			'The heart rate that can just about be held for a long time. A guided 20-minute run with rising pace gives two readings of it: the mean of the 20 minutes, and that mean less 5 %, as gyms do it. Either may be kept; which one it was stays noted on the card and with every session.',
		formula: `20-minute mean (bpm) = mean of the ${thresholdRunS / 60} minutes\nmean less 5 % (bpm) = 0.95 × that mean\nkept in whole beats`,
		example: () => {
			const paces = [160, 168, 174, 178];
			const run = Float64Array.from({ length: thresholdRunS }, (_, i) =>
				known(paces[Math.floor((4 * i) / thresholdRunS)])
			);
			const { bpm, meanBpm, riseBpm, confidence } = thresholdFromRun(run, 0);
			return {
				given: `Four times five minutes at ${paces.join(', ')} bpm.`,
				steps: `The last five minutes lie ${known(riseBpm).toFixed(0)} beats above the first five.`,
				result: `Mean ${known(meanBpm).toFixed(0)} bpm, less 5 % ${known(bpm).toFixed(1)} bpm, confidence ${confidence}`
			};
		},
		validRange:
			'Readings for at least half of the run. The confidence is low, with the reason, under 95 % readings, after a pause, where the last five minutes are no higher than the first, outside 75 to 95 % of the maximum, and where the athlete finished emptied or found it far too easy.',
		error: `None published for a run with rising pace. Such a run reads low, because its easy early minutes count: in simulated runs the mean came out ${lowWords('20-minute mean')} beats under the true threshold, the mean less 5 % ${lowWords('mean less 5 %')}. Another test, 30 minutes evenly paced with nothing taken off, agreed with blood lactate to a standard error of 8.0 bpm in 27 runners. That says how true that test is, not how well it repeats. How well others repeat: a deflection point of rowers to 1.3 bpm, thresholds from lactate generally poorly.`,
		sources: [
			'Common practice, no source',
			'Own rule',
			abstract('McGehee, Tanner, Houmard, J Strength Cond Res 2005;19:553-558'),
			abstract('Villamil Cabo et al., J Sports Sci Med 2011;10:616-623'),
			abstract('Grant et al., Eur J Appl Physiol 2002;87:159-166'),
			abstract('Faude, Kindermann, Meyer, Sports Med 2009;39:469-490')
		],
		limits:
			'The 5 % comes from cycling, where the mean power of twenty minutes is higher than that of an hour. The lower threshold marks more work as over it than the plain mean would. "Anaerobic" is an old name: nothing switches at the threshold. A threshold from running fits work with the arms only roughly. The limits for the confidence are our own rule. The run is hard: not when ill, and not against a doctor\'s advice.'
	},
	{
		id: 'over-threshold',
		title: 'Time over the threshold',
		theme: 'threshold',
		measures: ['overThreshold', 'OverThresholdCounter', 'countRound', 'overSpells', 'plannedWorkOf'],
		plain:
			'How long a round was worked above the threshold, in spells of three seconds or more. The last ten seconds of the planned round, where a burst is allowed, are counted apart.',
		formula:
			'seconds of work strictly above the unrounded threshold, in unbroken spells of at least 3 s; a gap or a pause ends a spell\nclosing burst: the part of the spells in the last 10 s of the planned round',
		example: () => {
			const round = Float64Array.from({ length: 180 }, (_, i) =>
				(i >= 100 && i < 120) || i === 140 || i === 141 || i >= 165 ? 170 : 160
			);
			const { overS, burstOverS, longestS, spells } = known(
				overThreshold(round, [{ startS: 0, endS: 180, plannedEndS: 180 }], 165)[0]
			);
			return {
				given:
					'A round of three minutes with a threshold of 165 bpm: over it for 20 s, later for 2 s, and for the last 15 s.',
				steps: 'The 2 s are too short to count; of the last 15 s, 10 lie in the burst.',
				result: `${overS} s over in ${spells} spells, the longest ${longestS} s; ${burstOverS} s more in the burst`
			};
		},
		validRange: 'Work only, where there are readings; the share of seconds with a reading is kept with it.',
		error:
			'None published. It takes over the error of the threshold: a few beats can change the time by a lot.',
		sources: ['Own rule', abstract('de Lira et al., Open Access J Sports Med 2013;4:175-182')],
		limits:
			"The heart lags behind the work by 10 to 20 s, so a closing burst mostly shows after the bell. With the gym's own bell nobody knows beforehand when a round ends, so no burst is counted apart. For scale: in a simulated bout of 3 × 2 minutes ten boxers spent 219.8 ± 67.4 s above their second ventilatory threshold."
	}
];
