import { copyName } from '$lib/rounds/copy-name';
import { expect, it } from 'vitest';

it('names a copy as nothing else here is named, and the copy of a copy after the first', () => {
	expect(copyName('Bag, 6 x 3', [])).toBe('Bag, 6 x 3, copy');
	expect(copyName('Bag, 6 x 3', ['Bag, 6 x 3, copy'])).toBe('Bag, 6 x 3, copy 2');
	expect(copyName('Bag, copy 2', ['Bag, copy', 'Bag, copy 2'])).toBe('Bag, copy 3');
	expect(copyName('Bag, copy', ['Bag, copy'])).toBe('Bag, copy 2');
	expect(copyName('Bag, copy 12', [])).toBe('Bag, copy');
	expect(copyName('Bag, copy of Monday', [])).toBe('Bag, copy of Monday, copy');
});
