import fc from '../by-chance';
import { expect, it } from 'vitest';
import { firstIndex } from '$lib/physiology/first-index';

it('finds by halves what the language finds one by one, or the end of the list', () => {
	fc.assert(
		fc.property(
			fc.array(fc.integer({ min: 0, max: 20 })),
			fc.integer({ min: -1, max: 21 }),
			(items, from) => {
				const sorted = items.toSorted((a, b) => a - b);
				const found = sorted.findIndex((item) => item >= from);
				expect(firstIndex(sorted, (item) => item >= from)).toBe(found === -1 ? sorted.length : found);
			}
		)
	);
});

it('looks at a few of many', () => {
	let looks = 0;
	const items = Array.from({ length: 100_000 }, (_, i) => i);
	firstIndex(items, (item) => ++looks > 0 && item >= 70_000);
	// 2 to the 17th is 131,072.
	expect(looks).toBeLessThanOrEqual(17);
});
