import { describe, expect, it } from 'vitest';
import { isPausedAt } from '$lib/rounds/timeline';
import { unpackReadings } from '$lib/record/columns';
import { Recorder } from '$lib/session/recorder';
import { summaryOf } from '$lib/review/summary';
import { viewOf } from '$lib/session/live-view';
import { manualClock } from '$lib/time/manual-clock';
import { makeSink, makeStart, makeStrap, recoveryBpm, shortPlan } from './builders';

const tenMinutes = 600_000;
const originMs = 5000;

/** A session whose wall clock can leap ahead of its monotonic one. */
function setUp() {
	const clock = manualClock(originMs);
	const wall = { aheadMs: 0 };
	const sink = makeSink();
	const red = makeStrap();
	const recorder = new Recorder({
		start: makeStart(),
		clock,
		originMs,
		writeClock: clock,
		sink: sink.sink,
		wallNowMs: () => 1_772_474_400_000 + clock.nowMs() + wall.aheadMs
	});
	recorder.straps.attach(0, red.strap);
	/** Seconds of the clock, with a wake at each and a packet half a second into each where there is a rate. */
	const run = (fromS: number, toS: number, bpmAt?: (s: number) => number) => {
		for (let s = fromS; s < toS; s++) {
			clock.advanceTo(originMs + s * 1000 + 500);
			if (bpmAt) red.send(clock.nowMs(), Math.round(bpmAt(s)));
			clock.advanceTo(originMs + (s + 1) * 1000);
			recorder.advance();
		}
	};
	return { clock, wall, sink, red, recorder, run };
}

describe('a session that is slept through', () => {
	it('stands paused since the moment before, with the time that the clock did not count', async () => {
		const { wall, recorder, run } = setUp();
		run(0, 40, () => 150);
		wall.aheadMs = tenMinutes;
		run(40, 44);

		expect(recorder.session.amendments).toEqual([{ kind: 'pause', atMs: 40_000 }]);
		expect(recorder.session.elapsedMs()).toBe(44_000 + tenMinutes);
		const view = viewOf(recorder, recorder.advance());
		// Ten seconds to get ready and thirty of the round were over.
		expect(view).toMatchObject({ isPaused: true, remainingMs: 30_000, sleptMs: tenMinutes });

		expect(recorder.amend('resume')).toBe(true);
		expect(recorder.sleptMs).toBeUndefined();
		expect(recorder.session.phaseAt(recorder.advance())).toMatchObject({ kind: 'work', round: 1 });
		run(44, 46, () => 140);
		const { records } = await recorder.end(recorder.session.elapsedMs());
		expect(records[0]!.head.events).toEqual([{ kind: 'slept', ms: 40_000 }]);
		const readings = unpackReadings(records[0]!.body);
		expect(readings.slice(-3).map(({ ms }) => ms)).toEqual([
			39_500,
			44_500 + tenMinutes,
			45_500 + tenMinutes
		]);
	});

	it('stands paused where the clock went on in the sleep: the time is there already', () => {
		const { clock, recorder, run } = setUp();
		run(0, 40, () => 150);
		clock.advanceTo(originMs + 40_000 + tenMinutes);
		recorder.advance();
		expect(recorder.session.amendments).toEqual([{ kind: 'pause', atMs: 40_000 }]);
		expect(recorder.session.elapsedMs()).toBe(40_000 + tenMinutes);
		expect(recorder.corners[0]!.rounds).toHaveLength(1);
	});

	it('learns of it by the first packet too, before that packet is counted', () => {
		const { clock, red, recorder, run } = setUp();
		run(0, 40, () => 150);
		clock.advanceTo(originMs + 40_000 + tenMinutes);
		red.send(clock.nowMs(), 90);
		expect(isPausedAt(recorder.session.timeline, recorder.session.elapsedMs())).toBe(true);
		expect(recorder.corners[0]!.rounds).toHaveLength(1);
	});

	it('is not paused, and counts on, where the clock was set while packets came', () => {
		const { wall, recorder, run } = setUp();
		run(0, 40, () => 150);
		wall.aheadMs = 3_600_000;
		run(40, 60, () => 150);
		wall.aheadMs = 0;
		run(60, 70, () => 150);
		expect(recorder.session.amendments).toEqual([]);
		expect(recorder.session.elapsedMs()).toBe(70_000);
		expect(recorder.sleptMs).toBeUndefined();
	});

	it('counts nothing of the moments in which it is not yet known for a sleep', async () => {
		const { wall, recorder, run } = setUp();
		// The round's bell, at 70 s, falls into them.
		run(0, 69, () => 170);
		wall.aheadMs = tenMinutes;
		run(69, 73);
		expect(recorder.session.amendments).toEqual([{ kind: 'pause', atMs: 69_000 }]);
		recorder.amend('resume');
		const resumedMs = recorder.session.elapsedMs();
		run(73, 76, () => 140);
		expect(recorder.session.timeline.find(({ kind }) => kind === 'rest')?.startMs).toBe(resumedMs + 1000);
		expect(recorder.corners[0]!.rounds).toMatchObject([{ round: 1, rest: { atS: 2 } }]);
		const { over } = recorder.corners[0]!.rounds[0]!;
		const { records } = await recorder.end(recorder.session.elapsedMs());
		expect(over).toEqual(summaryOf(records[0]!).rounds[0]!.over);
	});

	it('keeps a pause that was set by hand, and asks all the same', () => {
		const { wall, recorder, run } = setUp();
		run(0, 40, () => 150);
		recorder.amend('pause');
		wall.aheadMs = tenMinutes;
		run(40, 44);
		expect(recorder.session.amendments).toEqual([{ kind: 'pause', atMs: 40_000 }]);
		expect(recorder.sleptMs).toBe(tenMinutes);
	});

	it('does not judge the rest it lies in, live or in the record', async () => {
		const { wall, recorder, run } = setUp();
		run(0, 70, () => 180);
		run(70, 95, (s) => recoveryBpm(s - 69.5));
		// Short enough that all windows of the rest have their readings.
		wall.aheadMs = 10_000;
		run(95, 99);
		recorder.amend('resume');
		run(99, 140, () => 110);
		expect(recorder.corners[0]!.rounds[0]!.rest!.measure.verdict).toBe('not judged');
		expect(recorder.corners[0]!.rounds[0]!.rest!.measure.drop60).toBeGreaterThan(0);
		const { records } = await recorder.end(recorder.session.elapsedMs());
		const { rest } = summaryOf(records[0]!).rounds[0]!;
		expect(rest).toMatchObject({
			verdict: 'not judged',
			reason: expect.stringMatching(/the computer slept/)
		});
		// The rest is as long as planned, and the sleep besides: from the last sign to "go on", 10 s and 4 s.
		expect(rest!.endMs - rest!.startMs).toBe((shortPlan.restS + 14) * 1000);
	});
});
