import { dropFromRr60 } from '../drop-from-rr';
import type { MethodEntry } from '../method-entry';
import { cleanIntervals, intervalsOf, type RrReading } from '../rr-intervals';
import { known } from './examples';
import { abstract } from './sources';

/** A minute of work at 180 bpm and a rest in which the rate falls towards 120, bell at 0 ms. */
function beatsOfRest(): RrReading[] {
	const packets: RrReading[] = [];
	let ms = -60_000;
	while (ms < 60_000) {
		const bpm = ms < 0 ? 180 : 120 + 60 * Math.exp(-ms / 60_000);
		const rrMs = 60_000 / bpm;
		ms += rrMs;
		packets.push({ ms, rrMs: [rrMs] });
	}
	return packets;
}

/** A second reading of the drop. */
export const dropFromRrMethods: readonly MethodEntry[] = [
	{
		id: 'drop-from-rr',
		title: 'Drop at 60 from the beats: a second reading',
		theme: 'rest',
		measures: ['dropFromRr60'],
		plain:
			'Where the strap sends the time between beats, the drop is read a second time from these. It stands beside the drop of the strap and is never mixed with it. The band is judged on the strap, because that is what gyms read.',
		formula:
			'rate (bpm) = 60000 / mean RR interval (ms), in the last 5 s before the bell and in seconds 55 to 59 after it\ndrop from the beats = the first less the second\nthe beats of a window fill at least 3 of its 5 s, and at most one in five of them was put right',
		example: () => ({
			given: 'A heart at 180 bpm until the bell, then 120 + 60 exp(-t / 60 s).',
			steps:
				'By the curve itself 180 - 143.0 = 37.0, the mean of seconds 55 to 59; a beat tells of the time before it.',
			result: `${known(dropFromRr60(cleanIntervals(intervalsOf(beatsOfRest())).corrected, 0, 60)).toFixed(1)} beats`
		}),
		validRange: 'Rests of 60 s or more, with a strap that sends RR intervals in both windows.',
		error:
			"A strap's rate is late and smoothed, so its drop reads low. On a simulated heart that falls by 50 beats with a time constant of 40 s, straps that smooth over 5 to 8 s and are 1 to 2 s late take 2.5 to 4.9 beats off a drop at 60 and 5 to 10 off one at 30. Of slower falls they take a little more at 60. The drop from the beats was off by less than one beat in simulations. Four chest straps, measured, were 1.0 to 3.3 s late in their rate and 0.4 to 2.6 s in their intervals; they read peaks too low and valleys too high.",
		sources: ['Own rule', abstract('Sabioni et al., Physiol Meas 2025;46:085001')],
		limits:
			"Do not compare it with the 40 to 60 band, nor one day's drop from the beats with another day's drop from the rate. This is not a medical device."
	}
];
