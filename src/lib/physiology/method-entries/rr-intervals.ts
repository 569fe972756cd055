import type { MethodEntry } from '../method-entry';
import { artefactShareOf, cleanIntervals, intervalsOf } from '../rr-intervals';
import { meanRate, nn50, rmssd, sdnn } from '../variability';
import { known } from './examples';
import { abstract } from './sources';

const taskForce = abstract('Task Force, Circulation 1996;93:1043-65');
const fourBeats = [800, 810, 815, 750];
const given = `Four RR intervals of ${fourBeats.join(', ')} ms.`;
const comparable = 'Comparable figures need five minutes lying or sitting still, always in the same posture.';

/** What the time from beat to beat tells at rest. */
export const variabilityMethods: readonly MethodEntry[] = [
	{
		id: 'rmssd',
		title: 'RMSSD',
		theme: 'heart at rest',
		measures: ['rmssd', 'variabilityOf'],
		plain:
			'How much the time from one beat to the next changes, in milliseconds. It comes mostly from breathing and is larger when the body is calm. After hard days it is often lower than your own usual.',
		formula: 'RMSSD (ms) = root of the mean of the squared differences between neighbouring RR intervals',
		example: () => ({
			given,
			steps: `Differences: ${fourBeats
				.slice(1)
				.map((rrMs, i) => rrMs - known(fourBeats[i]))
				.join(', ')} ms.`,
			result: `${known(rmssd([fourBeats])).toFixed(2)} ms`
		}),
		validRange: `31 RR intervals or more, 30 pairs of them neighbours (own rule). Bad beats are put right first; over 5 % of them it is shown with a caution. ${comparable}`,
		error:
			'The arithmetic is exact, but the heart differs widely from one minute and one day to the next: go by the mean of seven days.',
		sources: [taskForce, 'Own rule'],
		limits:
			'The figure of one person may be several times that of another, so compare it only with your own. It is no diagnosis, and it does not tell you to train or to rest.'
	},
	{
		id: 'sdnn',
		title: 'SDNN and NN50',
		theme: 'heart at rest',
		measures: ['sdnn', 'nn50'],
		plain:
			'Two more views of the same beats: how widely the intervals spread about their mean, and how many neighbours differ by more than 50 ms.',
		formula:
			'SDNN (ms) = standard deviation of the RR intervals (n - 1)\nNN50 = pairs of neighbours that differ by strictly more than 50 ms',
		example: () => ({
			given,
			result: `SDNN ${known(sdnn([fourBeats])).toFixed(2)} ms, NN50 ${known(nn50([fourBeats]))}`
		}),
		validRange: `31 RR intervals or more; NN50 also 30 pairs of neighbours. ${comparable}`,
		error: 'The sums are exact. Both grow with the length of a recording: compare equal lengths only.',
		sources: [taskForce]
	},
	{
		id: 'mean-rate',
		title: 'Mean rate from RR intervals',
		theme: 'heart at rest',
		measures: ['meanRate'],
		plain:
			'Beats by time, from the intervals themselves. The mean of the single rates is a different, higher number.',
		formula: 'mean rate (bpm) = 60000 / mean RR interval (ms)',
		example: () => ({
			given: 'Two RR intervals of 500 and 1000 ms.',
			steps: 'Single rates of 120 and 60 bpm have a mean of 90, but two beats in 1.5 s are fewer.',
			result: `${known(meanRate([[500, 1000]])).toFixed(0)} bpm`
		}),
		validRange: 'One interval or more.',
		error: 'None of its own: the definition is exact.',
		sources: [taskForce],
		limits: 'A strap smooths the rate it sends, so the two rates are never subtracted from each other.'
	}
];

/** What is kept of the intervals a strap sends. */
export const intervalMethods: readonly MethodEntry[] = [
	{
		id: 'artefacts',
		title: 'RR intervals and bad beats',
		theme: 'signal',
		measures: ['intervalsOf', 'cleanIntervals', 'artefactShareOf', 'beatFaultsOf'],
		plain:
			'A strap misses a beat now and then or counts one twice, and a heart may beat early. Such bad beats are found by the pattern that they make among their neighbours, and put right. Their share is shown. Strong breathing makes no such pattern and stays. Intervals are never joined across a gap, a pause or a lost connection.',
		formula:
			'limit = 5.2 quartile deviations (half the way from the lower to the upper quartile) of 91 beats\nbad beat: differs from the one before by more than the limit of such differences (at least 3 %, at most 50 % of the median of 11 beats), and a neighbour swings back (by 0.13 of that difference and 0.17 limits), or one of the next two by more than the limit, or it lies more than 3 limits off the median (distances below it count double; limit 3 to 30 % of the median)\nmissed beat: put in half-way; extra beat: joined with the next interval\nothers, and what is outside 240 to 2000 ms: filled in on a straight line, at most three at once, otherwise left out',
		example: () => {
			const rrMs = [800, 810, 1610, 805, 798, 790, 802, 808, 795, 200, 602, 806, 799];
			const { intervals, runs } = cleanIntervals(intervalsOf([{ ms: 0, rrMs }]));
			const bad = intervals.flatMap(({ fault, rrMs }) => (fault ? `${rrMs} (${fault})` : []));
			return {
				given: `RR intervals of ${rrMs.join(', ')} ms.`,
				steps: `Bad beats: ${bad.join(', ')}; ${(100 * known(artefactShareOf(intervals))).toFixed(0)} % of the intervals.`,
				result: `read as ${runs.map((run) => run.join(', ')).join(' | ')} ms`
			};
		},
		validRange: 'Rates of 30 to 250 bpm. In a series of a few beats only gross faults are found.',
		error:
			'None published for a strap in boxing. We put faults into 2 to 5 % of the beats of recordings at rest. That more than doubled RMSSD in most of them. Put right, it was mostly less than 5 % off, and at worst less than 20 %. Where more than a quarter of the beats are bad, the lesser faults hide.',
		sources: [
			'Own rule',
			abstract('Lipponen & Tarvainen, J Med Eng Technol 2019;43:173-181 (parameters seen in an open program)')
		],
		limits:
			'The lower limit of 240 ms is our own: the usual 300 would refuse the 205 bpm of a youth. The least and greatest limits, and what is left out, are our own rules too. Many bad beats with a clean, wet strap can be extra beats of the heart: ask a doctor if they come again.'
	}
];
