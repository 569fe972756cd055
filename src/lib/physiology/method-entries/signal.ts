import { coverageOf, meanOf, secondsOf, type Reading } from '../grid';
import type { MethodEntry } from '../method-entry';
import { known, listed } from './examples';
import { abstract } from './sources';

/** What a strap's packets become before anything is measured. */
export const signalMethods: readonly MethodEntry[] = [
	{
		id: 'grid',
		title: 'From packets to seconds',
		theme: 'signal',
		measures: [
			'secondsOf',
			'entryOf',
			'isUsable',
			'isPlausibleBpm',
			'isContactSupported',
			'ContactTrial',
			'meanOf',
			'coverageOf',
			'countOf'
		],
		plain:
			'A strap sends its rate about once a second, but not exactly. Each second gets the last rate that came, if it is at most two seconds old; otherwise it is a gap, and gaps are never filled.',
		formula:
			'second i = last reading before its end, at most 2 s old then; no contact, under 30 or over 240 bpm: gap\nmean = over the seconds that have a reading; coverage = their share',
		example: () => {
			const reading = (ms: number, bpm: number): Reading => ({ ms, bpm, contact: 'contact' });
			const seconds = secondsOf([reading(400, 150), reading(1400, 152), reading(5200, 149)], 0, 6);
			return {
				given: 'Readings of 150 at 0.4 s, 152 at 1.4 s and 149 at 5.2 s.',
				steps: `Seconds 0 to 5: ${listed(seconds)}.`,
				result: `mean ${known(meanOf(seconds, 0, 6)).toFixed(1)} bpm, coverage ${(100 * known(coverageOf(seconds, 0, 6))).toFixed(0)} %`
			};
		},
		validRange: '30 to 240 bpm.',
		error:
			'A rate may stand up to 2 s late here, and straps are late themselves: four chest straps by 1.0 to 3.3 s in their rate, which also read peaks low and valleys high.',
		sources: ['Own rule', abstract('Sabioni et al., Physiol Meas 2025;46:085001')],
		limits:
			'A strap may report no skin contact for good although it reads well: where none of its first 60 readings has contact and at least 54 have a plausible rate, contact is taken as not supported, and the page says so. Another strap is judged afresh.'
	}
];
