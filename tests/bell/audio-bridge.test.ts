import { audioTimeAt } from '$lib/bell/audio-bridge';
import { describe, expect, it } from 'vitest';

const context = (overrides: object = {}) => ({
	currentTime: 20,
	baseLatency: 0.01,
	outputLatency: 0.2,
	getOutputTimestamp: () => ({ contextTime: 19.7, performanceTime: 99_900 }),
	...overrides
});

describe('the audio time at which to start what is to be heard at a moment of the page', () => {
	it('follows from the sample that leaves the loudspeaker now', () => {
		// 19.7 s was heard at 99.9 s on the page, so at 100 s 19.8 s is heard and at 103 s 22.8 s.
		expect(audioTimeAt(context(), 100_000, 100_000)).toBeCloseTo(19.8, 9);
		expect(audioTimeAt(context(), 103_000, 100_000)).toBeCloseTo(22.8, 9);
	});

	it.each([
		['before anything was heard', { contextTime: 0, performanceTime: 0 }],
		['where the browser answers half', { contextTime: 19.7 }],
		['where the pair is older than any latency', { contextTime: 1, performanceTime: 99_900 }],
		['where the pair is from the future', { contextTime: 21, performanceTime: 99_900 }]
	])('falls back on the reported latency %s', (_, pair) => {
		const strange = context({ getOutputTimestamp: () => pair });
		expect(audioTimeAt(strange, 103_000, 100_000)).toBeCloseTo(22.8, 9);
	});

	it('and on less where less is known', () => {
		const old = context({ getOutputTimestamp: undefined, outputLatency: undefined });
		expect(audioTimeAt(old, 103_000, 100_000)).toBeCloseTo(22.99, 9);
		expect(audioTimeAt({ ...old, baseLatency: 0 }, 103_000, 100_000)).toBeCloseTo(23, 9);
	});
});
