import { describe, expect, it } from 'vitest';
import { RestTaken } from '$lib/physiology/rest-taken';

/** Entries 101, 102, 103 ... so that each says which one it is. */
function taken(count: number, gaps: number[] = []): RestTaken {
	const rest = new RestTaken();
	for (let i = 1; i <= count; i++) rest.push(gaps.includes(i) ? NaN : 100 + i);
	return rest;
}

describe('a rest taken second by second', () => {
	it('begins ten seconds before its bell, whose seconds count in none of its own', () => {
		expect(new RestTaken().restS).toBe(-10);
		expect(taken(10)).toMatchObject({ restS: 0, withReadingS: 0 });
		expect(taken(11)).toMatchObject({ restS: 1, withReadingS: 1 });
		expect(taken(70, [1, 10, 11, 70])).toMatchObject({ restS: 60, withReadingS: 58 });
	});

	it('keeps its first hundred entries and goes on counting', () => {
		expect([...taken(3, [2]).seconds]).toEqual([101, NaN, 103]);
		expect(taken(100).seconds).toHaveLength(100);
		const long = taken(250);
		expect(long.seconds).toHaveLength(100);
		expect(long.seconds.at(-1)).toBe(200);
		expect(long).toMatchObject({ restS: 240, withReadingS: 240 });
	});

	it('has the mean of its last five seconds, however long it lasts, where three have a reading', () => {
		expect(taken(4).lastBpm).toBeUndefined();
		expect(taken(5).lastBpm).toBe(103);
		expect(taken(250).lastBpm).toBe(348);
		// 246, 248 and 250 are left of the five, then two of them.
		expect(taken(250, [247, 249]).lastBpm).toBe(348);
		expect(taken(250, [246, 247, 249]).lastBpm).toBeUndefined();
	});

	it('forgets another heart, and not how long it has lasted', () => {
		const rest = taken(14);
		rest.forget();
		expect([...rest.seconds]).toEqual(Array(14).fill(NaN));
		expect(rest).toMatchObject({ restS: 4, withReadingS: 0, lastBpm: undefined });
		for (const bpm of [151, 152]) rest.push(bpm);
		expect(rest.lastBpm).toBeUndefined();
		rest.push(153);
		expect(rest).toMatchObject({ restS: 7, withReadingS: 3, lastBpm: 152 });
	});

	it('goes on apart in a copy', () => {
		const rest = taken(14);
		const copy = rest.copy();
		expect(copy).toMatchObject({ restS: 4, withReadingS: 4, lastBpm: 112 });
		expect(copy.seconds).toEqual(rest.seconds);
		copy.push(200);
		expect(rest).toMatchObject({ restS: 4, withReadingS: 4, lastBpm: 112 });
		expect(rest.seconds).toHaveLength(14);
		rest.push(NaN);
		expect(copy).toMatchObject({ restS: 5, withReadingS: 5 });
		expect(copy.seconds.at(-1)).toBe(200);
	});
});
