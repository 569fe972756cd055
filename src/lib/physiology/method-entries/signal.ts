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
			'Settling',
			'meanOf',
			'coverageOf',
			'countOf'
		],
		plain:
			'A strap sends its rate about once a second, but not exactly. Each second gets the last rate that came, if that is at most two seconds old; otherwise it is a gap, and gaps are never filled.',
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
			'A rate may be up to 2 s old here, and straps are late themselves: the rates of four chest straps were 1.0 to 3.3 s late, read peaks too low and valleys too high.',
		sources: ['Own rule', abstract('Sabioni et al., Physiol Meas 2025;46:085001')],
		limits:
			'A strap may always report that it has no skin contact although it reads well. Where its first 60 readings all lack contact and at least 54 of them have a plausible rate, contact is taken as not supported, and the page says so. Each strap is judged anew. Of a strap that was put on in mid-session nothing counts before ten steady seconds have come (own rule): plausible rates with contact, at most two seconds and 12 bpm apart.'
	}
];
