import { describe, expect, it } from 'vitest';
import { walkMsOf, warmUpAt } from '$lib/review/warm-up';

const walk = new Date('2026-05-05T19:40').getTime();
const before = (minutes: number, seconds = 0) => walk - minutes * 60_000 - seconds * 1000;

describe('the warm-up before a bout', () => {
	it('ends at the walk: 25 minutes before it the first block begins', () => {
		expect(warmUpAt(walk, before(25, 1))).toEqual({ kind: 'before', beginsMs: before(25) });
		expect(warmUpAt(walk, before(25))).toEqual({
			...{ kind: 'block', index: 0 },
			...{ toWalkMs: 25 * 60_000, blockLeftMs: 10 * 60_000 }
		});
		expect(warmUpAt(walk, walk)).toEqual({ kind: 'walk' });
	});

	// Counted by hand: 10, 8, 4 and 3 minutes.
	it.each([
		[15, 1, 0, 1],
		[15, 0, 1, 8 * 60],
		[7, 0, 2, 4 * 60],
		[3, 0, 3, 3 * 60],
		[0, 1, 3, 1]
	])('%d min %d s before the walk is in block %d with %d s of it left', (minutes, seconds, index, leftS) => {
		expect(warmUpAt(walk, before(minutes, seconds))).toMatchObject({ index, blockLeftMs: leftS * 1000 });
	});

	it('has no walk where no time was typed', () => {
		expect(walkMsOf({ day: '2026-05-05' })).toBeUndefined();
		expect(walkMsOf({ day: '2026-05-05', walkTime: '19:40' })).toBe(walk);
	});
});
