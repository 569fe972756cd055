import type { StrapReading } from '$lib/gatt/strap';
import type { SessionStart, Sink } from '$lib/record/journal';
import { takingTurns } from '$lib/rounds/turns';
import { viewOf } from '$lib/session/live-view';
import { Recorder } from '$lib/session/recorder';
import { manualClock, type ManualClock } from '$lib/time/manual-clock';
import { makeStart, makeStrap, shortPlan } from '../session/builders';
import { boxerOf } from '../session/shared-strap';

export interface CornersCost {
	corners: number;
	/** Packets of all corners together, each with RR intervals. */
	packets: number;
	/** Work of one packet, from the strap's event to the view that the screen paints, microseconds. */
	meanUs: number;
	p99Us: number;
	/** The mean of the first and of the last tenth: what grows with the session shows here. */
	firstTenthUs: number;
	lastTenthUs: number;
}

const workS = 180;
const restS = 60;

/**
 * Boxes `seconds` of a session of so many corners, one packet a second and corner, `rrPerPacket` RR intervals in
 * each, and measures what each packet costs: decoding left out, recorder, live measures, journal entry and view of
 * all corners included. On a clock moved by hand, so an hour takes as long as its work.
 *
 * @example await Promise.all([1, 4, 8].map((corners) => measureCorners(corners)))
 */
export function measureCorners(
	corners: number,
	{ seconds = 3600, rrPerPacket = 3 }: { seconds?: number; rrPerPacket?: number } = {}
): CornersCost {
	const clock = manualClock();
	const roundCount = Math.ceil(seconds / (workS + restS));
	const start = makeStart({
		plan: { ...shortPlan, roundCount, roundS: workS, restS, getReadyS: 0 },
		corners: Array.from({ length: corners }, (_, i) => ({
			recordId: `record-${i}`,
			athlete: { athleteId: `athlete-${i}`, name: `Corner ${i}`, thresholdBpm: 165 },
			strapName: `Strap ${i}`,
			practice: false
		}))
	});
	const recorder = recorderOf(start, clock);
	const straps = start.corners.map(({ strapName }) => makeStrap(strapName));
	straps.forEach(({ strap }, corner) => recorder.straps.attach(corner, strap));
	const costsUs = costsOf(clock, straps, seconds, rrPerPacket);
	return { corners, ...summed(costsUs) };
}

/** The same for thirty who take turns on eight straps: each strap is handed on after every round, as soon as it is due. */
export function measureTurns({ seconds = 3600, rrPerPacket = 3 } = {}): CornersCost & { handedOver: number } {
	const [boxers, shared] = [30, 8];
	const clock = manualClock();
	const roundCount = Math.ceil(seconds / (workS + restS));
	const turns = Array.from({ length: shared }, (_, strap) => {
		const wearers = Array.from({ length: boxers }, (_, who) => who).filter((who) => who % shared === strap);
		return takingTurns(wearers.length, roundCount, 1).map((rounds, i) => ({ who: wearers[i]!, rounds }));
	});
	const recorder = recorderOf(
		makeStart({
			plan: { ...shortPlan, roundCount, roundS: workS, restS, getReadyS: 0 },
			corners: Array.from({ length: boxers }, (_, i) =>
				boxerOf(`Boxer-${i}`, i < shared ? `Strap ${i}` : undefined)
			),
			turns
		}),
		clock
	);
	const straps = Array.from({ length: shared }, (_, i) => makeStrap(`Strap ${i}`));
	straps.forEach(({ strap }, i) => recorder.straps.attach(i, strap));
	let handedOver = 0;
	const costsUs = costsOf(clock, straps, seconds, rrPerPacket, () => {
		recorder.advance();
		for (const { from, to, waitMs } of recorder.due)
			if (waitMs === 0 && recorder.straps.handOver(from, to)) handedOver++;
	});
	return { corners: boxers, handedOver, ...summed(costsUs) };
}

/** As on the screen: every change derives a view of everybody. */
function recorderOf(start: SessionStart, clock: ManualClock): Recorder {
	const recorder = new Recorder({ start, clock, originMs: 0, writeClock: clock, sink: nowhere });
	recorder.onChange(() => viewOf(recorder, recorder.nowMs));
	return recorder;
}

/** What each packet took, when all straps send one a second. */
function costsOf(
	clock: ManualClock,
	straps: readonly ReturnType<typeof makeStrap>[],
	seconds: number,
	rrPerPacket: number,
	eachSecond = () => {}
): number[] {
	const costsUs: number[] = [];
	for (let s = 0; s < seconds; s++) {
		straps.forEach(({ send }, i) => {
			clock.advanceTo(s * 1000 + 500 + i * 10);
			const { bpm, rest } = packetOf(s, i, rrPerPacket);
			const fromMs = performance.now();
			send(clock.nowMs(), bpm, rest);
			costsUs.push((performance.now() - fromMs) * 1000);
		});
		eachSecond();
	}
	return costsUs;
}

function summed(costsUs: readonly number[]): Omit<CornersCost, 'corners'> {
	const tenth = Math.max(1, Math.floor(costsUs.length / 10));
	return {
		packets: costsUs.length,
		meanUs: mean(costsUs),
		p99Us: costsUs.toSorted((a, b) => a - b)[Math.floor(costsUs.length * 0.99)] ?? NaN,
		firstTenthUs: mean(costsUs.slice(0, tenth)),
		lastTenthUs: mean(costsUs.slice(-tenth))
	};
}

function packetOf(s: number, corner: number, rrPerPacket: number) {
	const bpm = Math.round(150 + 25 * Math.sin((s + corner * 7) / 19));
	const rrMs = Array.from({ length: rrPerPacket }, () => 60_000 / bpm);
	const rest: Partial<StrapReading['measurement']> = { contact: 'contact', rrMs };
	return { bpm, rest };
}

const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length;

const nowhere: Sink = {
	append: () => Promise.resolve(),
	finish: () => Promise.resolve(),
	discard: () => Promise.resolve()
};
