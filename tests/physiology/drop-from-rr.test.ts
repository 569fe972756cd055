import { mean } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { allMethods } from '$lib/physiology/all-methods';
import { dropFromRr60 } from '$lib/physiology/drop-from-rr';
import { secondsOf } from '$lib/physiology/grid';
import { measureRest } from '$lib/physiology/recovery';
import { cleanIntervals, intervalsOf, type RrGap, type RrReading } from '$lib/physiology/rr-intervals';
import { outside } from './outside';
import { packetsOf } from './simulated-strap';

/** A heart that climbs by so much a second up to the bell and falls by `fallBpm` until second 57.5 after it. */
const heart = (fallBpm: number, tauS: number, climbBpm = 0) => {
	const amplitude = fallBpm / (1 - Math.exp(-57.5 / tauS));
	return (s: number) => (s < 0 ? 180 + climbBpm * s : 180 - amplitude * (1 - Math.exp(-s / tauS)));
};
/** Mean of the rate itself over the pinned windows: b-5 to b, b+55 to b+60. */
function trueDrop(bpmAt: (s: number) => number, toS = 60): number {
	const meanFrom = (fromS: number) => mean(Array.from({ length: 500 }, (_, i) => bpmAt(fromS + i / 100)));
	return meanFrom(-5) - meanFrom(toS - 5);
}
const fromBeats = (packets: readonly RrReading[], gaps: RrGap[] = [], restS = 60) =>
	dropFromRr60(cleanIntervals(intervalsOf(packets, gaps)).corrected, 0, restS);
const strap = (bpmAt: (s: number) => number, smoothingS = 0, lateS = 0) =>
	packetsOf({ bpmAt, smoothingS, lateS, fromS: -60, toS: 60 });

describe('the drop from the beats', () => {
	const simulated = outside(
		'drop-from-rr',
		'Simulated hearts whose rate is known at every moment, 3 falls by 4 time constants: drop at 60',
		'beats'
	);
	it('is that of the heart itself, however late and smooth the rate of the strap', () => {
		for (const fall of [20, 40, 60]) {
			for (const tau of [25, 40, 60, 90]) {
				const bpmAt = heart(fall, tau, 0.1);
				const found = fromBeats(strap(bpmAt, 8, 2));
				expect(simulated.take(found!, trueDrop(bpmAt))).toBeLessThan(1);
			}
		}
	});
	it('comes to what Methods says', () => {
		simulated.settle();
	});

	it('stays within two beats where breathing swings the rate by a twentieth', () => {
		const bpmAt = (s: number) => heart(45, 50)(s) * (1 + 0.05 * Math.sin(2 * Math.PI * 0.3 * s));
		expect(Math.abs(fromBeats(strap(bpmAt))! - trueDrop(heart(45, 50)))).toBeLessThan(2);
	});

	it('is negative where the rate rises', () => {
		expect(fromBeats(strap((s) => 120 + Math.max(0, s) / 6))).toBeLessThan(-8);
	});

	it('bears a missed beat in a window, and refuses where more than one in five is bad', () => {
		const whole = strap(heart(45, 50));
		const missing = (...atS: number[]) =>
			whole.map((packet) => {
				const [first, second, ...others] = packet.rrMs;
				const isHere = atS.includes(Math.floor(packet.ms / 1000));
				return isHere && second !== undefined ? { ...packet, rrMs: [first! + second, ...others] } : packet;
			});
		expect(Math.abs(fromBeats(missing(-3))! - fromBeats(whole)!)).toBeLessThan(1);
		expect(fromBeats(missing(-4, -3, -2))).toBeUndefined();
	});

	it('is refused where the beats of a window fill under 3 of its 5 s', () => {
		const whole = strap(heart(45, 50));
		const lost = (toMs: number) => fromBeats(whole, [{ fromMs: 55_000, toMs }]);
		expect(lost(56_500)).toBeDefined();
		expect(lost(58_500)).toBeUndefined();
		expect(fromBeats(whole.map((packet) => ({ ...packet, rrMs: [] })))).toBeUndefined();
		expect(fromBeats([])).toBeUndefined();
	});

	it('is refused for a rest of under a minute', () => {
		expect(fromBeats(strap(heart(45, 50)), [], 59)).toBeUndefined();
	});
});

describe('what a strap takes off a drop, as Methods says', () => {
	const words = allMethods.find(({ id }) => id === 'drop-from-rr')!.error;
	const [, low60, high60, low30, high30] =
		/([\d.]+) to ([\d.]+) beats off a drop at 60 and ([\d.]+) to ([\d.]+) off one at 30/
			.exec(words)!
			.map(Number);

	it('is 2.5 to 4.9 beats at 60 and 5 to 10 at 30, smoothed over 5 to 8 s and 1 to 2 s late', () => {
		const bpmAt = heart(50, 40);
		const lost60: number[] = [];
		const lost30: number[] = [];
		for (const smoothingS of [5, 6.5, 8]) {
			for (const lateS of [1, 1.5, 2]) {
				// The bell falls anywhere between two packets, whose whole beats come out otherwise each time.
				const rests = [0, 0.25, 0.5, 0.75].map((phase) => {
					const packets = packetsOf({ bpmAt, smoothingS, lateS, fromS: -60 - phase, toS: 60 });
					return measureRest(secondsOf(packets, -20_000, 80), 20, 80);
				});
				lost60.push(trueDrop(bpmAt) - mean(rests.map(({ drop60 }) => drop60!)));
				lost30.push(trueDrop(bpmAt, 30) - mean(rests.map(({ drop30 }) => drop30!)));
			}
		}
		expect(Math.abs(Math.min(...lost60) - low60!)).toBeLessThan(0.3);
		expect(Math.abs(Math.max(...lost60) - high60!)).toBeLessThan(0.3);
		expect(Math.abs(Math.min(...lost30) - low30!)).toBeLessThan(0.5);
		expect(Math.abs(Math.max(...lost30) - high30!)).toBeLessThan(0.5);
	});
});
