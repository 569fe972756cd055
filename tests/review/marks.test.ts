import { describe, expect, it } from 'vitest';
import { marksOf } from '$lib/review/marks';
import { makeHead } from '../store/builders';

describe('marked moments', () => {
	it('are named by where they lay, in order of time', () => {
		// Ten seconds of get ready, rounds of 180 s with rests of 60 s: round 1 from 0:10, its rest from 3:10.
		const head = makeHead({
			amendments: [],
			events: [
				{ kind: 'marker', ms: 195_900 },
				{ kind: 'signal lost', ms: 20_000 },
				{ kind: 'marker', ms: 84_000 }
			]
		});
		expect(marksOf(head)).toEqual([
			{ atS: 84, words: 'Round 1 of 6, 1:14 in' },
			{ atS: 195.9, words: 'Rest after round 1, 0:05 in' }
		]);
		expect(marksOf(makeHead())).toEqual([]);
	});
});
