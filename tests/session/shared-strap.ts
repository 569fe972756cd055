import { unpackReadings } from '$lib/record/columns';
import type { SessionRecord } from '$lib/record/body';
import type { Entrant, JournalEntry, SessionStart } from '$lib/record/journal';
import type { Plan } from '$lib/rounds/plan';
import { viewOf } from '$lib/session/live-view';
import { Recorder } from '$lib/session/recorder';
import { manualClock } from '$lib/time/manual-clock';
import { makeBlock } from '../rounds/plans';
import { makeSink, makeStart, makeStrap, shortPlan } from './builders';

export const [odalys, tomas, adem] = [0, 1, 2];
export const nameOf = ['Odalys', 'Tomas', 'Adem'];

export const boxerOf = (name: string, strapName?: string): Entrant => ({
	recordId: `record-${name}`,
	athlete: { athleteId: `athlete-${name}`, name, thresholdBpm: 165 },
	...(strapName !== undefined && { strapName }),
	practice: false
});

/**
 * Two rounds of a minute on the pads and two on the bag, after which the strap goes on from round 2 and 3 on: work 10-70,
 * 130-190, 370-430 and 610-670 s, the rests between, and the closing minute until 730 s.
 */
export const sharedPlan: Plan = {
	...shortPlan,
	blocks: [makeBlock({ roundCount: 2, roundS: 60, restS: 60, pauseS: 60 })],
	handOvers: { afterRounds: [2, 3], lengthS: 120 }
};

/** Rounds 1 and 2 are Odalys's, 3 is Tomas's, 4 is Adem's. */
export const sharedTurns: SessionStart['turns'] = [
	[
		{ who: odalys, rounds: [{ from: 1, to: 2 }] },
		{ who: tomas, rounds: [{ from: 3, to: 3 }] },
		{ who: adem, rounds: [{ from: 4, to: 4 }] }
	]
];

/** One strap, which Odalys wears at Start; Tomas and Adem have none. */
export function shareStrap(history: readonly JournalEntry[] = [], plan: Plan = sharedPlan, fromS = 0) {
	const clock = manualClock(fromS * 1000);
	const sink = makeSink();
	const corners = nameOf.map((name, i) => boxerOf(name, i === 0 ? 'Red strap' : undefined));
	const start = makeStart({ plan, corners, turns: sharedTurns });
	const recorder = new Recorder({ start, clock, originMs: 0, writeClock: clock, sink: sink.sink }, history);
	const red = makeStrap();
	if (history.length === 0) recorder.straps.attach(odalys, red.strap);
	let s = fromS;
	return {
		clock,
		sink,
		recorder,
		red,
		/** Goes on to this second; the strap sends three tenths after each. */
		boxUntil(untilS: number, bpmAt: (s: number) => number = () => 150) {
			for (; s < untilS; s++) {
				clock.advanceTo(s * 1000 + 300);
				red.send(clock.nowMs(), bpmAt(s));
			}
			clock.advanceTo(untilS * 1000);
			recorder.advance();
		},
		view: () => viewOf(recorder, recorder.advance()),
		due: () => recorder.due.map(({ fromName, toName, waitMs }) => [fromName, toName, waitMs])
	};
}

/** What was sent is [ms, bpm], record by record. */
export const readByName = (records: readonly SessionRecord[]) =>
	Object.fromEntries(
		records.map(({ head, body }) => [head.athlete.name, unpackReadings(body).map(({ ms, bpm }) => [ms, bpm])])
	);
