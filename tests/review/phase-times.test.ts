import {
	goneS,
	isPausedMiddle,
	isRest,
	lengthS,
	livedIn,
	pausedNearBell,
	workedS
} from '$lib/review/phase-times';
import type { Phase } from '$lib/rounds/timeline';
import { describe, expect, it } from 'vitest';

const round = (overrides: Partial<Phase> = {}): Phase => ({
	kind: 'work',
	startMs: 60_000,
	endMs: 240_000,
	plannedEndMs: 240_000,
	pauses: [],
	...overrides
});
const pause = (fromMs: number, toMs: number) => ({ fromMs, toMs });

describe('a pause near a bell', () => {
	const near = (fromMs: number, toMs: number, nowMs = Infinity) =>
		pausedNearBell([round({ pauses: [pause(fromMs, toMs)] })], 240_000, nowMs);

	it('spoils the rest from ten seconds before the bell to sixty after it', () => {
		expect(near(200_000, 230_000)).toBe(false);
		expect(near(200_000, 230_001)).toBe(true);
		expect(near(299_999, 310_000)).toBe(true);
		expect(near(300_000, 310_000)).toBe(false);
	});

	it('spoils nothing before it has begun', () => {
		expect(near(280_000, Infinity, 280_000)).toBe(false);
		expect(near(280_000, Infinity, 280_001)).toBe(true);
	});
});

it('the closing minute is a rest, and nothing else but rests is', () => {
	const kinds = ['warm-up', 'get ready', 'work', 'rest', 'closing', 'cool-down'] as const;
	expect(kinds.filter((kind) => isRest({ kind }))).toEqual(['rest', 'closing']);
});

describe('a phase as it was lived with a strap on', () => {
	it('is the whole of it where the strap was there before and after', () => {
		const phase = round();
		expect(livedIn(phase, [pause(-Infinity, Infinity)])).toBe(phase);
	});

	it('is none where the strap came with its end or left with its beginning', () => {
		expect(livedIn(round(), [])).toBeUndefined();
		expect(livedIn(round(), [pause(240_000, Infinity)])).toBeUndefined();
		expect(livedIn(round(), [pause(-Infinity, 60_000)])).toBeUndefined();
	});

	it('begins with the strap where it is work, and keeps its bell where it is a rest', () => {
		expect(livedIn(round(), [pause(100_000, Infinity)])).toMatchObject({ startMs: 100_000, endMs: 240_000 });
		expect(livedIn(round({ kind: 'rest' }), [pause(100_000, Infinity)])).toMatchObject({ startMs: 60_000 });
	});

	it('ends where the strap is given away, the last time of several', () => {
		const spans = [pause(-Infinity, 90_000), pause(120_000, 200_000)];
		expect(livedIn(round(), spans)).toMatchObject({ startMs: 60_000, endMs: 200_000 });
	});

	it('has of its pauses what lies within', () => {
		const pauses = [
			pause(70_000, 80_000),
			pause(90_000, 110_000),
			pause(190_000, 210_000),
			pause(220_000, 230_000)
		];
		expect(livedIn(round({ pauses }), [pause(100_000, 200_000)])!.pauses).toEqual([
			pause(100_000, 110_000),
			pause(190_000, 200_000)
		]);
	});

	it('is planned to end as much later as the strap came within a pause that is still open', () => {
		const open = round({ endMs: Infinity, pauses: [pause(90_000, Infinity)] });
		expect(livedIn(open, [pause(100_000, Infinity)])).toMatchObject({
			startMs: 100_000,
			plannedEndMs: 250_000,
			pauses: [pause(100_000, Infinity)]
		});
		expect(livedIn(open, [pause(80_000, Infinity)])).toMatchObject({ plannedEndMs: 240_000 });
	});
});

describe('the seconds of a phase', () => {
	it('are whole, with a twentieth of a second of grace once it is over', () => {
		expect(lengthS({ startMs: 0, endMs: 59_950 })).toBe(60);
		expect(lengthS({ startMs: 0, endMs: 59_949 })).toBe(59);
		expect(goneS(round({ startMs: 0, endMs: 59_950 }), 59_949)).toBe(59);
		expect(goneS(round({ startMs: 0, endMs: 59_950 }), 59_950)).toBe(60);
		expect(goneS(round(), 0)).toBe(0);
	});

	it('are paused where their middle is', () => {
		const phase = round({ startMs: 0, endMs: 10_000, pauses: [pause(2500, 4500), pause(7000, 7000)] });
		const paused = Array.from({ length: 10 }, (_, s) => s).filter((s) => isPausedMiddle(phase, s));
		expect(paused).toEqual([2, 3]);
		expect(workedS(phase)).toBe(8);
	});
});

describe('work that begins with a strap', () => {
	const worn = [{ fromMs: 100_000, toMs: Infinity }];

	it('loses the pauses before it, and its planned end stands', () => {
		expect(livedIn(round({ pauses: [pause(70_000, 80_000)] }), worn)).toEqual(round({ startMs: 100_000 }));
		expect(livedIn(round({ pauses: [pause(90_000, 110_000)] }), worn)).toEqual(
			round({ startMs: 100_000, pauses: [pause(100_000, 110_000)] })
		);
	});

	it('is planned to end later by what was waited in a pause that is still open', () => {
		const open = round({ endMs: Infinity, pauses: [pause(70_000, 75_000), pause(90_000, Infinity)] });
		expect(livedIn(open, worn)).toMatchObject({
			startMs: 100_000,
			plannedEndMs: 250_000,
			pauses: [pause(100_000, Infinity)]
		});
	});
});
