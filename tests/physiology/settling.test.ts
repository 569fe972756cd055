import { Settling } from '$lib/physiology/settling';
import type { Reading } from '$lib/physiology/grid';
import { describe, expect, it } from 'vitest';
import { makeReading } from './builders';

/** The seconds of the readings that count; each is [second, bpm] or more of a reading. */
function countedS(readings: readonly (Partial<Reading> & { s: number })[]): number[] {
	const settling = new Settling();
	return readings.flatMap(({ s, ...reading }) =>
		settling.push(makeReading({ ms: s * 1000, bpm: 100, ...reading })) ? [s] : []
	);
}
/** One reading a second, both ends included. */
const each = (fromS: number, toS: number, reading: Partial<Reading> = {}) =>
	Array.from({ length: toS - fromS + 1 }, (_, i) => ({ s: fromS + i, ...reading }));

// Ten seconds, two seconds between packets and 12 bpm are own rules, no source.
describe('a strap that has just been put on', () => {
	it('counts from ten steady seconds on, and not a tenth of a second before', () => {
		expect(countedS([...each(0, 9), { s: 9.9 }, { s: 10 }, { s: 10.5 }])).toEqual([10, 10.5]);
		expect(countedS(each(500, 511))).toEqual([510, 511]);
	});

	it('may leave two seconds between its packets, and begins anew after more', () => {
		const even = [0, 2, 4, 6, 8].map((s) => ({ s }));
		expect(countedS([...even, { s: 10 }])).toEqual([10]);
		expect(countedS([...even, { s: 10.001 }, ...each(11, 21)])).toEqual([21]);
		expect(countedS([{ s: 0 }, { s: 12 }])).toEqual([]);
	});

	it('may step by 12 bpm either way, and begins anew after a larger step', () => {
		const steps = (up: number) => [...each(0, 4), ...each(5, 9, { bpm: 100 + up }), ...each(10, 15)];
		expect(countedS(steps(12))).toEqual([10, 11, 12, 13, 14, 15]);
		expect(countedS(steps(13))).toEqual([]);
		expect(countedS([...each(0, 4), ...each(5, 16, { bpm: 113 })])).toEqual([15, 16]);
		expect(countedS([...each(0, 4), ...each(5, 16, { bpm: 87 })])).toEqual([15, 16]);
	});

	it('may climb as it likes by small steps', () => {
		const climbing = each(0, 10).map(({ s }) => ({ s, bpm: 70 + 12 * s }));
		expect(countedS(climbing)).toEqual([10]);
	});

	it('begins anew where it says that it has no contact; one that does not say has it', () => {
		const off = { s: 8, contact: 'no contact' as const };
		expect(countedS([...each(0, 7), off, ...each(9, 20)])).toEqual([19, 20]);
		expect(countedS(each(0, 11, { contact: 'not supported' }))).toEqual([10, 11]);
		expect(countedS(each(0, 30, { contact: 'no contact' }))).toEqual([]);
	});

	it('begins anew after a rate that no heart has', () => {
		for (const bpm of [0, 24, 255])
			expect(countedS([...each(0, 7), { s: 8, bpm }, ...each(9, 25)])[0], `${bpm}`).toBeGreaterThanOrEqual(
				19
			);
		expect(countedS(each(0, 30, { bpm: 0 }))).toEqual([]);
	});

	it('counts for good once it has settled: what comes later is judged as any reading', () => {
		const later = [
			{ s: 11, bpm: 180 },
			{ s: 12, contact: 'no contact' as const },
			{ s: 40, bpm: 60 }
		];
		expect(countedS([...each(0, 10), ...later])).toEqual([10, 11, 12, 40]);
	});

	it('goes on from a copy without the one that was copied', () => {
		const first = new Settling();
		for (const { s } of each(0, 9)) first.push(makeReading({ ms: s * 1000, bpm: 100 }));
		const copy = first.copy();
		expect(copy.push(makeReading({ ms: 10_000, bpm: 100 }))).toBe(true);
		expect(copy.copy().push(makeReading({ ms: 11_000, bpm: 200 })), 'a settled one is settled').toBe(true);
		expect(first.push(makeReading({ ms: 10_000, bpm: 150 }))).toBe(false);
		expect(first.push(makeReading({ ms: 11_000, bpm: 150 }))).toBe(false);
	});
});
