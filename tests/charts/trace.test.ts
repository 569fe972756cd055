import { describe, expect, it } from 'vitest';
import { clockText, peakOf, signalGaps, wholeOf, type TracePhase, type TracePoint } from '$lib/charts/trace';

const traceOf = (rates: readonly (number | null)[]): TracePoint[] => rates.map((bpm, tS) => ({ tS, bpm }));
const round = (startS: number, endS: number): TracePhase => ({ kind: 'work', round: 1, startS, endS });

describe('signalGaps', () => {
	it('marks three seconds without a reading and leaves two unmarked', () => {
		const trace = traceOf([150, null, null, 150, null, null, null, 150]);
		expect(signalGaps(trace)).toEqual([{ fromS: 4, toS: 7 }]);
	});

	it('marks a signal that never came back', () => {
		expect(signalGaps(traceOf([150, null, null, null]))).toEqual([{ fromS: 1, toS: 4 }]);
	});
});

describe('peakOf', () => {
	it('is the first of equal highest readings', () => {
		expect(peakOf(traceOf([150, 181, null, 181, 170]))).toEqual({ tS: 1, bpm: 181 });
	});

	it('is absent where nothing was read', () => {
		expect(peakOf(traceOf([null, null]))).toBeUndefined();
	});
});

describe('clockText', () => {
	it('writes minutes and two digits of seconds', () => {
		expect([0, 9, 60, 754.9, 3600].map(clockText)).toEqual(['0:00', '0:09', '1:00', '12:34', '60:00']);
	});
});

describe('wholeOf', () => {
	it('reaches from what comes first to what comes last, readings before the start included', () => {
		const points = [
			{ tS: -4, bpm: 90 },
			{ tS: 60, bpm: 150 }
		];
		expect(wholeOf(points, [round(0, 50)])).toEqual({ fromS: -4, toS: 61 });
		expect(wholeOf(points, [round(0, 180)])).toEqual({ fromS: -4, toS: 180 });
	});

	it('ends with the readings where a pause that never ended leaves the phase open', () => {
		expect(wholeOf([{ tS: 40, bpm: 150 }], [round(0, Infinity)])).toEqual({ fromS: 0, toS: 41 });
	});

	it('is never empty', () => {
		expect(wholeOf([], [])).toEqual({ fromS: 0, toS: 1 });
	});
});
