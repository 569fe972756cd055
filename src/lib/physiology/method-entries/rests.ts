import type { MethodEntry } from '../method-entry';
import { meanErrorOf } from '../change';
import { doDropsDiffer, typicalErrorOf } from '../drop-error';
import { measureRest, peakOf } from '../recovery';
import { yardsticks } from '../yardstick';
import { bellS, cornerMinute, known, listed } from './examples';
import { abstract } from './sources';

const given = 'A corner minute in which the heart climbs on for some seconds after the bell.';
const rest = () => measureRest(cornerMinute, bellS, bellS + 60);
const differ = (one: number, other: number) =>
	`${one} and ${other} ${doDropsDiffer(one, other) ? 'differ' : 'do not differ clearly'}`;

/** One rest, as it is measured. */
export const restMethods: readonly MethodEntry[] = [
	{
		id: 'bell-rate',
		title: 'Bell rate',
		theme: 'rest',
		measures: ['measureRest'],
		plain:
			'How fast the heart beats when the round ends. It is the mean of the last five seconds before the bell, so that one odd second does not decide.',
		formula: 'bell rate (bpm) = mean of the 5 seconds before the bell',
		example: () => ({
			given,
			steps: `Last five seconds: ${listed(cornerMinute, bellS - 5, bellS)}.`,
			result: `${known(rest().bellBpm).toFixed(1)} bpm`
		}),
		validRange: 'At least 3 of the 5 seconds have a reading; otherwise it is left out.',
		error:
			'None published for this window. Four chest straps were late by 1.0 to 3.3 s in their rate and read peaks too low, so a fast change shows late.',
		sources: ['Own rule', abstract('Sabioni et al., Physiol Meas 2025;46:085001')]
	},
	{
		id: 'peak',
		title: 'Peak',
		theme: 'rest',
		measures: ['peakOf', 'measureRest', 'restMeasureOf', 'RestTaken'],
		plain:
			'The highest rate around the bell, and how long after the bell it came. The heart often climbs for some seconds after the work has ended.',
		formula:
			'peak (bpm) = highest second from 10 s before the bell to 20 s after it; of equal ones the first',
		example: () => {
			const peak = known(peakOf(cornerMinute, bellS, bellS + 60));
			return { given, result: `${peak.bpm} bpm, ${peak.atS - bellS} s after the bell` };
		},
		validRange: 'Any reading in that half minute. The lag may be negative.',
		error:
			'None published. One bad reading can be the highest second: look at the trace before you believe a peak that stands alone.',
		sources: ['Own rule'],
		limits: 'A burst just before the bell shows mostly after it, because the heart lags behind the work.'
	},
	{
		id: 'drop-60',
		title: '1-minute drop',
		theme: 'rest',
		measures: ['measureRest'],
		plain:
			'How many beats the heart has come down one minute after the bell. A heart that recovers well mostly comes down faster, but a tired one can too. The drop at 30 seconds and the drop over the whole rest are made in the same way.',
		formula:
			'drop at 60 (beats) = bell rate - rate at 60\nrate at 60 (bpm) = mean of seconds 55 to 59 after the bell\ndrop at 30: less the mean of seconds 25 to 29\nrest drop: less the mean of the last 5 s of the rest',
		example: () => {
			const { bellBpm, rate60, drop60, drop30 } = rest();
			return {
				given,
				steps: `Seconds 55 to 59: ${listed(cornerMinute, bellS + 55, bellS + 60)}. ${known(bellBpm).toFixed(1)} - ${known(rate60).toFixed(1)} bpm.`,
				result: `${known(drop60).toFixed(1)} beats at 60 s, ${known(drop30).toFixed(1)} at 30 s`
			};
		},
		validRange:
			'Rests of 60 s or more (30 s for the drop at 30), with at least 3 readings in each window of 5 s. A window that would reach into the next round is never read.',
		error:
			'One drop at 60 is off by about 20 % (standard error, between days). The rate at 60 s is off by about 8 %. In beats that is not less: 8 % of 135 is 11, and 20 % of a drop of 45 is 9. But that rate ranks people more reliably than the drop, so it is shown too.',
		sources: [
			'Own rule',
			abstract('Bosquet, Gamelin, Berthoin, Int J Sports Med 2008;29:238-43'),
			abstract('Sabioni et al., Physiol Meas 2025;46:085001')
		],
		limits:
			'The windows of 5 s are our own rule. A strap is late and smooths: four chest straps were late by 1.0 to 3.3 s, and simulated ones take 2.5 to 4.9 beats off a drop at 60 and 5 to 10 off one at 30 (computed), so drops from different straps are not quite comparable. Posture, talking, a drink and heat can all change the drop: compare rests taken in the same way. Medicine that slows the heart makes it meaningless. It is no diagnosis, and this is not a medical device.'
	},
	{
		id: 'typical-error',
		title: 'Typical error of a drop',
		theme: 'rest',
		measures: ['typicalErrorOf', 'restErrorOf', 'meanErrorOf', 'doDropsDiffer', 'areSmall'],
		plain:
			'How much a drop varies from day to day although nothing has changed in the athlete. Two single drops have to lie far apart before they mean a difference. Many rests on one day do not make the error small: the day itself differs.',
		formula:
			"typical error (beats) = 0.2 × drop at 60, at least 2\nhalf of its variance lies between days, half between the rests of a day: one rest's own share is 14 % of the drop\nerror of a session's mean = typical error × root of (0.5 + 0.5 / rests), at least 2\ntwo drops differ where they lie more than 2.8 typical errors of their mean apart (2.8 = 1.96 × root of 2), and never where both are 10 beats or less, up or down",
		example: () => ({
			given: 'A drop of 50 beats; the mean of 12 such rests; then drops of 40 and 55, and of 30 and 55.',
			result: `50 ± ${typicalErrorOf(50).toFixed(0)} beats; mean of 12: ± ${meanErrorOf({ value: 50, count: 12 }, yardsticks.drop).toFixed(1)}; ${differ(40, 55)}, ${differ(30, 55)}`
		}),
		validRange: 'Drops over 60 s of rest without activity.',
		error:
			'The 20 % is itself a mean: the coefficient of variation was 15 to 32 % in another study, and the agreement between repeats (ICC) 0.43 to 0.71.',
		sources: [
			'Own rule',
			abstract('Bosquet, Gamelin, Berthoin, Int J Sports Med 2008;29:238-43'),
			abstract('Al Haddad et al., Int J Sports Med 2011;32:598-605')
		],
		limits:
			'Neither study was of boxers in a corner minute. That half of the variance lies between days, and the floor of 2 beats, are our own rules.'
	}
];
