import { describe, expect, it } from 'vitest';
import { practiceStrap } from '$lib/gatt/practice-strap';
import { unpackReadings } from '$lib/record/columns';
import { viewOf } from '$lib/session/live-view';
import { Recorder } from '$lib/session/recorder';
import { manualClock } from '$lib/time/manual-clock';
import { lateClock } from '../gatt/strap-bench';
import { makeSink, makeStart, makeStrap } from './builders';

const originMs = 5000;

/** A session on a practice strap whose own wakes come once a minute, as in a hidden tab. */
async function setUp() {
	const clock = manualClock(originMs - 500);
	const strap = practiceStrap({ clock: lateClock(clock, () => 59_000), seed: 3, effortAt: () => 0.5 });
	const recorder = new Recorder({
		start: makeStart(),
		clock,
		originMs,
		writeClock: clock,
		sink: makeSink().sink
	});
	let meanwhile = () => {};
	const caughtUp = strap.catchUp.bind(strap);
	strap.catchUp = () => {
		caughtUp();
		meanwhile();
		meanwhile = () => {};
	};
	recorder.straps.attach(0, strap);
	await strap.connect();
	const stamps = () => unpackReadings(recorder.recordsSoFar()[0]!.body).map(({ ms }) => ms);
	return { clock, recorder, stamps, strap, whileCatchingUp: (act: () => void) => (meanwhile = act) };
}

/** The practice strap connects half a second before Start. */
const halfSeconds = (count: number) => Array.from({ length: count }, (_, i) => 500 + i * 1000);

describe('a session that is woken before its practice strap', () => {
	it('has every packet that was due by then before it judges the present', async () => {
		const { clock, recorder, stamps } = await setUp();
		clock.advanceTo(originMs + 40_000);
		expect(stamps()).toEqual([]);
		const view = viewOf(recorder, recorder.advance());
		expect(stamps()).toEqual(halfSeconds(40));
		expect(view.corners[0]!.signal.bpm).toBeGreaterThan(30);
	});

	it('takes in all of its last minute when it is woken after the last bell, and nothing from beyond', async () => {
		const { clock, recorder, stamps } = await setUp();
		const { endMs } = recorder.session;
		clock.advanceTo(originMs + endMs + 20_000);
		recorder.advance();
		expect(stamps()).toEqual(halfSeconds(endMs / 1000));
	});
});

describe('a session on a machine that is slow to take in what is due', () => {
	it('still has all of its last minute, where the last bell rings meanwhile', async () => {
		const { clock, recorder, stamps, whileCatchingUp } = await setUp();
		const { endMs } = recorder.session;
		clock.advanceTo(originMs + endMs - 3000);
		whileCatchingUp(() => clock.advanceTo(originMs + endMs + 500));
		expect(recorder.advance()).toBeGreaterThanOrEqual(endMs);
		expect(stamps()).toEqual(halfSeconds(endMs / 1000));
	});

	it('ends all the same where each packet takes longer than the time that it stands for', async () => {
		const { clock, recorder, stamps, strap } = await setUp();
		const { endMs } = recorder.session;
		clock.advanceTo(originMs + endMs - 3000);
		strap.onReading(() => clock.advanceTo(clock.nowMs() + 1500));
		expect(recorder.advance()).toBeGreaterThanOrEqual(endMs);
		expect(strap.nextDueMs).toBeLessThan(clock.nowMs());
		expect(stamps()).toEqual(halfSeconds(endMs / 1000));
	});
});

describe('a session that is told of a packet while another strap is slow', () => {
	it('does not end before those have come that became due meanwhile', async () => {
		const { clock, recorder, stamps, strap } = await setUp();
		const { endMs } = recorder.session;
		// Bringing the other strap up to the present takes longer than the session still lasts.
		const other = makeStrap('Blue strap').strap;
		let isSlow = false;
		other.catchUp = () => {
			if (isSlow) clock.advanceTo(originMs + endMs + 200);
			isSlow = false;
		};
		recorder.join({ ...makeStart().corners[0]!, recordId: 'record-2', strapName: other.name });
		recorder.straps.attach(1, other);
		const ends: number[] = [];
		recorder.onChange(() => recorder.nowMs >= endMs && ends.push(stamps().length));
		clock.advanceTo(originMs + endMs - 3000);
		isSlow = true;
		strap.catchUp();
		expect(isSlow).toBe(false);
		expect(ends).toEqual([]);
		strap.catchUp();
		expect(ends).toEqual([halfSeconds(endMs / 1000).length]);
	});
});

describe('a session whose practice strap is woken before it', () => {
	it('is told when all that was due has come, so that an end heard of then loses nothing', async () => {
		const { clock, recorder, stamps } = await setUp();
		const seen: number[] = [];
		recorder.onChange(() => seen.push(stamps().length));
		clock.advanceTo(originMs - 500 + 61_000);
		expect(seen).toEqual([60]);
	});
});
