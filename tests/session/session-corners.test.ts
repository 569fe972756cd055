import { describe, expect, it } from 'vitest';
import type { BeforeByActivity } from '$lib/review/known-before';
import { Recorder } from '$lib/session/recorder';
import { Roster } from '$lib/session/roster.svelte';
import { SessionCorners, type ReadBefore } from '$lib/session/session-corners.svelte';
import { manualClock } from '$lib/time/manual-clock';
import { athlete, makeSink, makeStart, makeStrap, recoveryBpm, shortPlan } from './builders';

const usual = { middle: 42, low: 38.1, high: 46.2, sessionCount: 6, restCount: 18 };
const rests = Array.from({ length: 18 }, () => ({ bellBpm: 180, drop60: 38 }));

const nextTurn = () => new Promise((resolve) => setImmediate(resolve));

/** One athlete at the bell, on a strap or on the practice strap. */
function setUp(readBefore: ReadBefore, practice = false) {
	const clock = manualClock();
	const sink = makeSink();
	const corners = [{ recordId: 'record-1', athlete, strapName: 'Red strap', practice }];
	const recorder = new Recorder({
		start: makeStart({ corners }),
		clock,
		originMs: 0,
		writeClock: clock,
		sink: sink.sink
	});
	const red = makeStrap();
	recorder.straps.attach(0, { ...red.strap, practice });
	const running = { recorder: () => recorder, onChange: () => {} };
	new SessionCorners(new Roster(() => 0), () => 'id', readBefore, running).begin(recorder);
	/** Work at 180 to 70 s, then the recovery of the builders, until 42 s after the bell. */
	const box = () => {
		for (let s = 0; s <= 112; s++) {
			clock.advanceTo(s * 1000);
			red.send(clock.nowMs(), s < 70 ? 180 : Math.round(recoveryBpm(s - 70)));
		}
		recorder.advance();
		return recorder.corners[0]!.restView!;
	};
	return { box, recorder, sink };
}

describe('what an athlete’s sessions before tell', () => {
	it('is asked for at Start, and told beside the forecast from second 40 on', async () => {
		const asked: unknown[] = [];
		const { box } = setUp(async (...of) => {
			asked.push(of);
			return { [shortPlan.activity]: { usual, rests } };
		});
		await nextTurn();
		expect(asked).toEqual([[athlete.athleteId, shortPlan]]);
		expect(box().advice).toMatch(/^Heading for \d+ to \d+; your usual is 38 to 46\. /);
	});

	it('keeps nothing waiting, and is left out where it cannot be read in time or at all', async () => {
		const alone = setUp(() => Promise.reject(new Error('no storage'))).box();
		const slow = setUp(() => new Promise<BeforeByActivity>(() => {})).box();
		await nextTurn();
		expect(alone.advice).toMatch(/^Heading for \d+ to \d+: /);
		expect(slow.advice).toBe(alone.advice);
		expect(slow.forecast).toEqual(alone.forecast);
	});

	it('is none of a simulated heart', async () => {
		let count = 0;
		const { box } = setUp(async () => {
			count++;
			return { [shortPlan.activity]: { usual, rests } };
		}, true);
		await nextTurn();
		expect(box().advice).not.toContain('usual');
		expect(count).toBe(0);
	});

	it('changes neither what is measured nor what is kept', async () => {
		const told = setUp(async () => ({ [shortPlan.activity]: { usual, rests } }));
		const untold = setUp(() => new Promise<BeforeByActivity>(() => {}));
		await nextTurn();
		const [one, other] = [told.box(), untold.box()];
		expect(one.measure).toEqual(other.measure);
		expect(one.forecast).not.toEqual(other.forecast);
		expect(told.recorder.recordsSoFar()).toEqual(untold.recorder.recordsSoFar());
		expect(told.sink.entries).toEqual(untold.sink.entries);
	});
});
