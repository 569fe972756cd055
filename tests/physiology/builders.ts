import fc from '../by-chance';
import type { Reading, Seconds } from '$lib/physiology/grid';
import type { WorkRound } from '$lib/physiology/over-threshold';

/** One good reading; the parts that matter to a test are named there. */
export const makeReading = (overrides: Partial<Reading> = {}): Reading => ({
	ms: 0,
	bpm: 150,
	contact: 'contact',
	...overrides
});

/** A grid whose entry i is `bpmAt(i - bellS)`, so that the bell lies at 0. */
export const gridAround = (bellS: number, restS: number, bpmAt: (sinceBellS: number) => number): Seconds =>
	Float64Array.from({ length: bellS + restS }, (_, i) => bpmAt(i - bellS));

/** A copy with gaps at these entries. */
export function withGaps(seconds: Seconds, gaps: Iterable<number>): Seconds {
	const copy = seconds.slice();
	for (const i of gaps) if (i >= 0 && i < copy.length) copy[i] = NaN;
	return copy;
}

/** The same grid with its origin `byS` seconds earlier. */
export function delayed(seconds: Seconds, byS: number): Seconds {
	const copy = new Float64Array(seconds.length + byS).fill(NaN);
	copy.set(seconds, byS);
	return copy;
}

/** Grids as a strap may leave them: whole beats, gaps, and stretches that hang together. */
export const anyGrid = (minLength: number, maxLength: number): fc.Arbitrary<Seconds> =>
	fc
		.array(
			fc.oneof(
				{ weight: 8, arbitrary: fc.integer({ min: 30, max: 240 }) },
				{ weight: 2, arbitrary: fc.integer({ min: 168, max: 172 }) },
				{ weight: 1, arbitrary: fc.constant(NaN) }
			),
			{ minLength, maxLength }
		)
		.map((entries) => Float64Array.from(entries));

/** Rounds of work on such a grid, with pauses anywhere and a planned end that may lie beyond the real one. */
export const anyRound: fc.Arbitrary<WorkRound> = fc
	.record({
		startS: fc.integer({ min: 0, max: 30 }),
		lengthS: fc.integer({ min: 0, max: 120 }),
		missingS: fc.integer({ min: 0, max: 20 }),
		pauses: fc.array(
			fc.record({ atS: fc.integer({ min: 0, max: 120 }), forS: fc.integer({ min: 1, max: 15 }) }),
			{ maxLength: 3 }
		)
	})
	.map(({ startS, lengthS, missingS, pauses }) => ({
		startS,
		endS: startS + lengthS,
		plannedEndS: startS + lengthS + missingS,
		pauses: pauses.map(({ atS, forS }) => ({ startS: startS + atS, endS: startS + atS + forS }))
	}));

/** Every number in an answer, however deep. */
export function numbersIn(answer: unknown): number[] {
	if (typeof answer === 'number') return [answer];
	if (answer === null || typeof answer !== 'object') return [];
	return Object.values(answer).flatMap(numbersIn);
}

/** A repeatable source of chance (mulberry32), so that a simulation prints the same shares every time. */
export function chanceFrom(seed: number) {
	let state = seed >>> 0;
	const next = () => {
		state = (state + 0x6d2b79f5) >>> 0;
		let t = Math.imul(state ^ (state >>> 15), state | 1);
		t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
		return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
	};
	return {
		between: (low: number, high: number) => low + (high - low) * next(),
		normal: () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next())
	};
}
