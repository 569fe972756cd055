import { describe, expect, it } from 'vitest';
import { judge, missedAlone, worst } from './strokes';
import type { Track } from './tap';

/** An output of 1000 samples a second, whose zero is at 500 ms of the page; the session began at 2000 ms. */
const track = (onsets: number[]): Track => ({
	sampleRate: 1000,
	onsets,
	starts: onsets.map((sample) => ({ atS: sample / 1000, contextTimeS: 1, performanceTimeMs: 1500 })),
	pairs: [
		{ contextTimeS: 1, performanceTimeMs: 1500 },
		// The output has lost 40 ms since.
		{ contextTimeS: 9, performanceTimeMs: 9540 }
	]
});
const due = [1000, 2000, 8000].map((atMs) => ({ name: 'count', atMs }));
const heardAt = (...elapsedMs: number[]) => judge(due, [track(elapsedMs.map((ms) => ms + 1500))], 2000);

describe('strokes beside what is due', () => {
	it('lie off by the clocks of their planning and by those of their sounding', () => {
		const judged = heardAt(1000, 2005, 8000);
		expect(judged.errors.map(({ onsetMs }) => onsetMs)).toEqual([0, 5, 0]);
		expect(judged.errors.map(({ clockMs }) => clockMs)).toEqual([0, 5, 40]);
		expect(worst(judged, 'clockMs')).toBe(40);
		expect(worst(judged, 'clockMs', { toMs: 2000 })).toBe(5);
	});

	it('are missed where none is near, and doubled where one is too many', () => {
		const judged = heardAt(1000, 1200, 8000);
		expect(judged.missed).toEqual([{ name: 'count', atMs: 2000, nearestMs: 800 }]);
		expect(judged.doubled).toBe(1);
	});

	it('are missed, not exact, where the output stood still and one is heard at the moment of the next', () => {
		const late = {
			...track([2500]),
			pairs: [{ contextTimeS: 2.5, performanceTimeMs: 4000 }]
		};
		expect(judge(due, [late], 2000).missed.map(({ atMs }) => atMs)).toEqual([1000, 2000, 8000]);
	});
});

it('a stroke is ours to answer for unless the control misses one of the same second', () => {
	const ours = heardAt(1000);
	expect(missedAlone(ours, heardAt(1000, 2000)).map(({ atMs }) => atMs)).toEqual([2000]);
});
