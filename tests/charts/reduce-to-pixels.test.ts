import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { reduceToPixels } from '$lib/charts/reduce-to-pixels';
import type { TracePoint } from '$lib/charts/trace';

const traceOf = (rates: readonly (number | null)[]): TracePoint[] => rates.map((bpm, tS) => ({ tS, bpm }));

const readingsIn = (points: readonly TracePoint[]) => points.filter((point) => point.bpm !== null);

const anyTrace = fc
	.array(fc.option(fc.integer({ min: 30, max: 240 }), { nil: null, freq: 6 }), {
		minLength: 2,
		maxLength: 400
	})
	.map(traceOf);
const anyWidth = fc.integer({ min: 1, max: 500 });

describe('reduceToPixels', () => {
	it('leaves a trace alone that has no more than one reading a pixel', () => {
		const trace = traceOf([120, 121, null, 125, 124]);
		expect(reduceToPixels(trace, 0, 4, 300)).toEqual(trace);
	});

	it('keeps the lowest and the highest reading of a pixel column, in order of time', () => {
		const trace = traceOf([150, 171, 152, 130, 149, 160, 160, 160, 160, 160]);
		expect(reduceToPixels(trace, 0, 10, 2)).toEqual([
			{ tS: 1, bpm: 171 },
			{ tS: 3, bpm: 130 },
			{ tS: 5, bpm: 160 }
		]);
	});

	it('puts a gap between two readings of the same column when one lay between them', () => {
		const trace = traceOf([170, 168, null, null, 120]);
		expect(reduceToPixels(trace, 0, 5, 1)).toEqual([
			{ tS: 0, bpm: 170 },
			{ tS: 2, bpm: null },
			{ tS: 4, bpm: 120 }
		]);
	});

	it('keeps one point beyond either edge, so that the line runs to the edges', () => {
		const reduced = reduceToPixels(traceOf([100, 101, 102, 103, 104, 105]), 2, 3, 100);
		expect(reduced.map((point) => point.tS)).toEqual([1, 2, 3, 4]);
	});

	it('has nothing to show of an empty trace', () => {
		expect(reduceToPixels([], 0, 60, 300)).toEqual([]);
	});

	it('never draws more than two points a pixel', () => {
		fc.assert(
			fc.property(anyTrace, anyWidth, (trace, width) => {
				const endS = trace.length;
				const perColumn = new Map<number, number>();
				for (const { tS } of readingsIn(reduceToPixels(trace, 0, endS, width))) {
					const column = Math.floor((tS / endS) * width);
					perColumn.set(column, (perColumn.get(column) ?? 0) + 1);
				}
				expect(Math.max(0, ...perColumn.values())).toBeLessThanOrEqual(2);
			})
		);
	});

	it('keeps the extremes of every pixel column', () => {
		fc.assert(
			fc.property(anyTrace, anyWidth, (trace, width) => {
				const endS = trace.length;
				const extremes = (points: readonly TracePoint[]) => {
					const columns = new Map<number, { low: number; high: number }>();
					for (const { tS, bpm } of readingsIn(points)) {
						const column = Math.floor((tS / endS) * width);
						const seen = columns.get(column) ?? { low: Infinity, high: -Infinity };
						columns.set(column, { low: Math.min(seen.low, bpm!), high: Math.max(seen.high, bpm!) });
					}
					return columns;
				};
				expect(extremes(reduceToPixels(trace, 0, endS, width))).toEqual(extremes(trace));
			})
		);
	});

	it('never joins two readings across a gap, and opens no gap of its own', () => {
		fc.assert(
			fc.property(anyTrace, anyWidth, (trace, width) => {
				const reduced = reduceToPixels(trace, 0, trace.length, width);
				const kept = readingsIn(reduced);
				for (const [i, point] of kept.slice(1).entries()) {
					const before = kept[i]!;
					const gapInSource = trace.slice(before.tS, point.tS).some(({ bpm }) => bpm === null);
					const gapKept = reduced.some(({ tS, bpm }) => bpm === null && tS > before.tS && tS < point.tS);
					expect(gapKept).toBe(gapInSource);
				}
				expect(reduced.map(({ tS }) => tS)).toEqual(reduced.map(({ tS }) => tS).toSorted((a, b) => a - b));
			})
		);
	});
});
