import { Recorder } from '$lib/session/recorder';
import { manualClock } from '$lib/time/manual-clock';
import { makeSink, makeStart, makeStrap } from './builders';

/** A session of one boxer with 150 beats a minute, heard so far into each second, for so many seconds. */
export function recordedBeats(seconds: number, intoSecondMs: number) {
	const clock = manualClock();
	const strap = makeStrap();
	const recorder = new Recorder({
		start: makeStart(),
		clock,
		originMs: 0,
		writeClock: clock,
		sink: makeSink().sink
	});
	recorder.straps.attach(0, strap.strap);
	for (let s = 0; s < seconds; s++) {
		clock.advanceTo(s * 1000 + intoSecondMs);
		strap.send(clock.nowMs(), 150);
	}
	return { clock, recorder };
}
