import { expect, it } from 'vitest';
import { packReadings } from '$lib/record/columns';
import { summaryOf } from '$lib/review/summary';
import { timelineOf } from '$lib/rounds/timeline';
import { makeHead, makeReading, padsPlan } from '../store/builders';

const plan = { ...padsPlan, roundCount: 2, roundS: 60, getReadyS: 0, coolDownS: 0 };
/** Two rounds of a minute at the given rates, each followed by a minute at 40 and at 20 beats less. */
function summaryFor(first: number, second: number) {
	const bpmAt = (s: number) => [first, first - 40, second, second - 20][Math.min(3, Math.floor(s / 60))]!;
	const readings = Array.from({ length: 240 }, (_, s) => makeReading({ ms: s * 1000 + 500, bpm: bpmAt(s) }));
	const endedMs = timelineOf(plan).at(-1)!.endMs;
	return summaryOf({
		head: makeHead({ plan, amendments: [], events: [], endedMs }),
		body: packReadings(readings)
	});
}

// The builders' athlete has a threshold of 171.5, so a round is hard from 154.35 (90 %, own rule).
it('is of the judged rests alone', () => {
	expect(summaryFor(180, 180)).toMatchObject({ meanDrop60: 30, drop60Count: 2 });
	expect(summaryFor(180, 140)).toMatchObject({ meanDrop60: 40, drop60Count: 1 });
});

it('is of the measured rests where none was judged', () => {
	expect(summaryFor(140, 140)).toMatchObject({ meanDrop60: 30, drop60Count: 2 });
});
