import { mostAmendmentsLive } from '$lib/rounds/amendment';
import { blocksOf } from '$lib/rounds/blocks';
import {
	accepts,
	blocksAfter,
	courseAfter,
	courseOf,
	isPausedAt,
	phaseAfter,
	phaseAt,
	plannedRunMs,
	remainingMs,
	timelineOf,
	whenRemaining,
	type Phase
} from '$lib/rounds/timeline';
import { describe, expect, it } from 'vitest';
import { amendmentsOf, makePlan, told } from './plans';

const told3 = (...entries: string[]) => told(timelineOf(makePlan(), amendmentsOf(...entries)));

describe('a plan that nobody changes', () => {
	it('runs from warm-up to cool-down, with a minute measured after the last bell', () => {
		const plan = makePlan({ roundCount: 2, warmUpS: 300, getReadyS: 15, coolDownS: 120 });
		expect(told(timelineOf(plan))).toEqual([
			'warm-up 0-300',
			'get ready 1 300-315',
			'work 1 315-495',
			'rest 1 495-555',
			'work 2 555-735',
			'closing 2 735-795',
			'cool-down 795-915'
		]);
	});

	it('leaves out parts of no length and starts at zero all the same', () => {
		expect(told3()).toEqual([
			'work 1 0-180',
			'rest 1 180-240',
			'work 2 240-420',
			'rest 2 420-480',
			'work 3 480-660',
			'closing 3 660-720'
		]);
	});

	it('plans each phase to end where it ends', () => {
		const timeline = timelineOf(makePlan());
		expect(timeline.map((phase) => phase.plannedEndMs)).toEqual(timeline.map((phase) => phase.endMs));
	});
});

describe('a pause', () => {
	const paused = timelineOf(makePlan(), amendmentsOf('pause@100'));
	const resumed = timelineOf(makePlan(), amendmentsOf('pause@100', 'resume@145'));

	it('while open leaves unknown what comes after, and the clock stands', () => {
		expect(told(paused)).toEqual(['work 1 0-Infinity']);
		const phase = phaseAt(paused, 9_000_000);
		expect(phase?.kind).toBe('work');
		expect([99_000, 100_000, 9_000_000].map((ms) => remainingMs(phase as Phase, ms))).toEqual([
			81_000, 80_000, 80_000
		]);
	});

	it('pushes the end of its phase and everything later', () => {
		expect(told(resumed).slice(0, 3)).toEqual(['work 1 0-225', 'rest 1 225-285', 'work 2 285-465']);
	});

	it('stands still between its ends and nowhere else', () => {
		const work = resumed[0] as Phase;
		expect([0, 90, 100, 120, 145, 150, 225, 300].map((s) => remainingMs(work, s * 1000) / 1000)).toEqual([
			180, 90, 80, 80, 80, 75, 0, 0
		]);
		expect([99.999, 100, 144.999, 145].map((s) => isPausedAt(resumed, s * 1000))).toEqual([
			false,
			true,
			true,
			false
		]);
		expect(isPausedAt(paused, 9_000_000)).toBe(true);
	});

	it('lets nothing but resume and finish through', () => {
		const kinds = ['pause', 'next', 'stop round', 'repeat round', 'add round', 'extend rest'] as const;
		const before = amendmentsOf('pause@100');
		expect(kinds.filter((kind) => accepts(makePlan(), before, kind, 110_000))).toEqual([]);
		expect(accepts(makePlan(), before, 'resume', 110_000)).toBe(true);
		expect(accepts(makePlan(), before, 'finish', 110_000)).toBe(true);
	});

	it('of no length leaves no trace', () => {
		expect(timelineOf(makePlan(), amendmentsOf('pause@100', 'resume@100'))).toEqual(timelineOf(makePlan()));
	});
});

describe('phaseAt', () => {
	it('gives the bell to the phase that begins with it', () => {
		const timeline = timelineOf(makePlan());
		const kinds = [-1, 0, 179_999, 180_000, 659_999, 660_000, 719_999, 720_000].map(
			(ms) => phaseAt(timeline, ms)?.kind
		);
		expect(kinds).toEqual([undefined, 'work', 'work', 'rest', 'work', 'closing', 'closing', undefined]);
	});

	it('finds nothing in an empty session', () => {
		expect(phaseAt([], 0)).toBeUndefined();
	});
});

describe('whenRemaining', () => {
	const first = (...entries: string[]) => timelineOf(makePlan(), amendmentsOf(...entries))[0] as Phase;

	it('counts in time that runs: a pause after that moment does not move it, one before does', () => {
		expect(whenRemaining(first(), 10_000)).toBe(170_000);
		expect(whenRemaining(first('pause@175', 'resume@200'), 10_000)).toBe(170_000);
		expect(whenRemaining(first('pause@100', 'resume@125'), 10_000)).toBe(195_000);
		expect(whenRemaining(first('pause@100', 'resume@125', 'pause@200', 'resume@300'), 10_000)).toBe(195_000);
	});

	it('has no answer for a moment that never comes', () => {
		expect(whenRemaining(first(), 180_000)).toBeUndefined();
		expect(whenRemaining(first('next@160'), 10_000)).toBeUndefined();
		expect(whenRemaining(first('next@175'), 10_000)).toBe(170_000);
		expect(whenRemaining(first('pause@160'), 10_000)).toBeUndefined();
		expect(whenRemaining(first('pause@175'), 10_000)).toBe(170_000);
		expect(whenRemaining(first('next@170'), 10_000)).toBeUndefined();
		// A pause makes the round end later, and no longer.
		expect(whenRemaining(first('pause@100', 'resume@125'), 190_000)).toBeUndefined();
	});

	it('is the beginning of a pause that stands on that very moment', () => {
		expect(whenRemaining(first('pause@170'), 10_000)).toBe(170_000);
		expect(whenRemaining(first('pause@100', 'resume@125'), 80_000)).toBe(100_000);
	});
});

describe('a timeline that is asked', () => {
	const timeline = timelineOf(makePlan(), amendmentsOf('pause@100', 'resume@125'));

	it('names the phase after one, and none after the last or after nothing', () => {
		expect(phaseAfter(timeline, timeline[0])).toBe(timeline[1]);
		expect(phaseAfter(timeline, timeline.at(-1))).toBeUndefined();
		expect(phaseAfter(timeline, undefined)).toBeUndefined();
	});

	it('stands still nowhere outside itself', () => {
		expect([-1, timeline.at(-1)!.endMs].map((ms) => isPausedAt(timeline, ms))).toEqual([false, false]);
	});

	it('has planned a round as long as the plan says, whatever pauses are in it', () => {
		expect(timeline.slice(0, 3).map(plannedRunMs)).toEqual([180_000, 60_000, 180_000]);
		expect(timelineOf(makePlan(), amendmentsOf('pause@100')).map(plannedRunMs)).toEqual([180_000]);
	});
});

it('of a session with too many presses only a finish is heeded', () => {
	const plan = makePlan();
	const heeded = (count: number, kind: 'finish' | 'pause') =>
		courseAfter(plan, courseOf(plan), count, { kind, atMs: 1000 }) !== undefined;
	expect(heeded(mostAmendmentsLive - 1, 'pause')).toBe(true);
	expect(heeded(mostAmendmentsLive, 'pause')).toBe(false);
	expect(heeded(mostAmendmentsLive, 'finish')).toBe(true);
	expect(blocksAfter(plan)).toEqual(blocksOf(plan));
});
