import type { MethodEntry } from '../method-entry';
import { artefactShareOf, cleanIntervals, intervalsOf } from '../rr-intervals';
import { meanRate, nn50, rmssd, sdnn } from '../variability';
import { known } from './examples';

const taskForce = 'Task Force, Circulation 1996;93:1043-65';
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
			'How much the time from one beat to the next changes, in milliseconds. It comes mostly from breathing and calm: after hard days it is often lower than your own usual.',
		formula: 'RMSSD (ms) = root of the mean of the squared differences between neighbouring RR intervals',
		example: () => ({
			given,
			steps: `Differences: ${fourBeats
				.slice(1)
				.map((rrMs, i) => rrMs - known(fourBeats[i]))
				.join(', ')} ms.`,
			result: `${known(rmssd([fourBeats])).toFixed(2)} ms`
		}),
		validRange: `31 accepted RR intervals or more, 30 pairs of them neighbours (own rule). Over 5 % artefacts it is shown with a caution. ${comparable}`,
		error:
			'The sum is exact; the heart is not. It scatters widely from one minute and one day to the next: go by the mean of seven days.',
		sources: [taskForce, 'Own rule'],
		limits:
			'It differs from person to person several times over, so a number of somebody else says nothing. It is no diagnosis and no order to train or to rest.'
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
		validRange: `31 accepted RR intervals or more; NN50 also 30 pairs of neighbours. ${comparable}`,
		error: 'The sums are exact. Both grow with the length of a recording: compare equal lengths only.',
		sources: [taskForce]
	},
	{
		id: 'mean-rate',
		title: 'Mean rate from RR intervals',
		theme: 'heart at rest',
		measures: ['meanRate'],
		plain:
			'Beats by time, from the intervals themselves. The mean of the single rates is another, higher number.',
		formula: 'mean rate (bpm) = 60000 / mean RR interval (ms)',
		example: () => ({
			given: 'Two RR intervals of 500 and 1000 ms.',
			steps: 'Single rates of 120 and 60 bpm have a mean of 90, but two beats in 1.5 s are fewer.',
			result: `${known(meanRate([[500, 1000]])).toFixed(0)} bpm`
		}),
		validRange: 'One accepted interval or more.',
		error: 'None of its own: the definition is exact.',
		sources: [taskForce],
		limits:
			'A strap smooths the rate it sends, so this rate and that one are never subtracted from each other.'
	}
];

/** What is kept of the intervals a strap sends. */
export const intervalMethods: readonly MethodEntry[] = [
	{
		id: 'artefacts',
		title: 'RR intervals and their artefacts',
		theme: 'signal',
		measures: ['intervalsOf', 'cleanIntervals', 'artefactShareOf'],
		plain:
			'An interval that no heart would make, because the strap missed a beat or counted one twice, is marked and left out. Intervals are never joined across a gap, a pause or a lost connection.',
		formula:
			'artefact: outside 240 to 2000 ms, or more than 20 % away from the last accepted interval\nthe rule starts anew after a gap, and where three rejected intervals in a row agree within 20 %',
		example: () => {
			const rrMs = [500, 600, 721, 610];
			const { intervals } = cleanIntervals(intervalsOf([{ ms: 0, rrMs }]));
			const of = (isArtefact: boolean) =>
				intervals.filter((each) => each.isArtefact === isArtefact).map((each) => each.rrMs);
			return {
				given: `RR intervals of ${rrMs.join(', ')} ms.`,
				steps: '600 is exactly 20 % above 500 and stays; 721 is a little more than 20 % above 600.',
				result: `kept ${of(false).join(', ')}; left out ${of(true).join(', ')}; ${(100 * known(artefactShareOf(intervals))).toFixed(0)} % artefacts`
			};
		},
		validRange: 'Rates of 30 to 250 bpm.',
		error:
			'None published for a strap in boxing. An artefact within 20 % passes; a true change of more than 20 %, as in extra beats or deep breathing, is left out.',
		sources: [
			'Own rule',
			'Malik et al., Eur Heart J 1989;10:1060-1074 (from memory)',
			'Lipponen & Tarvainen, J Med Eng Technol 2019;43:173-181'
		],
		limits:
			'The lower limit of 240 ms is our own: the usual 300 would refuse the 205 bpm of a youth. The last source has a finer rule. Many artefacts in a clean, wet strap can be extra beats: ask a doctor if they come again.'
	}
];
