import { describe, expect, it } from 'vitest';
import type { Reading } from '$lib/record/columns';
import type { CornerEvent } from '$lib/record/head';
import { dropFromBeats } from '$lib/review/drop-from-beats';
import { timelineOf, type Phase } from '$lib/rounds/timeline';
import { makeHead, padsPlan } from '../store/builders';

const phases = timelineOf({ ...padsPlan, roundCount: 2 });
const rest = phases.find(({ kind }) => kind === 'rest')!;
const bellMs = rest.startMs;

/** An invented heart: 400 ms from beat to beat up to the bell, and 500 ms from 40 s after it on, evenly between. */
const rrAt = (s: number) => 400 + 100 * Math.min(1, Math.max(0, s / 40));
/** A packet a beat, from a minute before the bell. */
function beatsUntil(endMs: number): Reading[] {
	const readings: Reading[] = [];
	for (let ms = bellMs - 60_000; ms < endMs;) {
		const rrMs = rrAt((ms - bellMs) / 1000);
		ms += rrMs;
		readings.push({ ms, bpm: Math.round(60_000 / rrMs), contact: 'contact', rrMs: [rrMs] });
	}
	return readings;
}
const dropOf = (
	readings: readonly Reading[],
	{ events = [] as CornerEvent[], all = phases, restS = 60 } = {}
) => dropFromBeats(makeHead({ events }), readings, all, rest, restS);
const beats = beatsUntil(bellMs + 60_000);

describe('the drop of a rest by its beats', () => {
	it('is the rate before the bell less that of the last seconds of its minute', () => {
		// 60,000 / 400 is 150 and 60,000 / 500 is 120.
		expect(dropOf(beats)).toBeCloseTo(30, 6);
	});

	it('is none of a rest under a minute, or without beats', () => {
		expect(dropOf(beats, { restS: 59 })).toBeUndefined();
		expect(dropOf([])).toBeUndefined();
		expect(dropOf(beats.map((reading) => ({ ...reading, rrMs: [] })))).toBeUndefined();
	});

	it('is the same whatever comes hours after its minute', () => {
		const wild = Array.from({ length: 400 }, (_, i) => ({
			...beats[0]!,
			ms: bellMs + 63_000 + i * 1000,
			rrMs: [i % 2 === 0 ? 300 : 1900]
		}));
		expect(dropOf([...beats, ...wild])).toBe(dropOf(beats));
	});

	it('is none where the signal was lost, or a pause lay, in the seconds that it stands on', () => {
		const lost = (fromMs: number, toMs: number): CornerEvent[] => [
			{ kind: 'signal lost', ms: bellMs + fromMs },
			{ kind: 'signal back', ms: bellMs + toMs }
		];
		expect(dropOf(beats, { events: lost(-4000, 500) })).toBeUndefined();
		expect(dropOf(beats, { events: lost(56_000, 59_500) })).toBeUndefined();
		expect(dropOf(beats, { events: lost(20_000, 30_000) })).toBeCloseTo(30, 6);
		const pausedIn = (kind: Phase['kind'], fromMs: number, toMs: number) =>
			phases.map((phase) =>
				phase.kind === kind ? { ...phase, pauses: [{ fromMs: bellMs + fromMs, toMs: bellMs + toMs }] } : phase
			);
		expect(dropOf(beats, { all: pausedIn('work', -4000, 0) })).toBeUndefined();
		expect(dropOf(beats, { all: pausedIn('rest', 56_000, 59_500) })).toBeUndefined();
		expect(dropOf(beats, { all: pausedIn('rest', 20_000, 30_000) })).toBeCloseTo(30, 6);
	});
});
