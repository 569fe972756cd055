import { describe, expect, it } from 'vitest';
import { otherPartsWords } from '$lib/components/files/other-parts-words';

const parts = (...numbers: number[]) => numbers.map((number) => ({ number, isLast: false }));
const last = (number: number) => ({ number, isLast: true });

describe('which parts of a backup are still to be chosen', () => {
	it.each([
		['the next', parts(1), 'Choose part 2, too.'],
		['the next after some', parts(2, 1), 'Choose part 3, too.'],
		['those before and after', parts(4), 'Choose parts 1 to 3 and those after part 4, too,'],
		['those before the last', [last(2)], 'Choose part 1, too,'],
		['those between', [...parts(1, 4), last(7)], 'Choose parts 2 and 3 and parts 5 and 6, too,']
	])('are %s', (_, here, words) => {
		expect(otherPartsWords(here)).toContain(words);
	});

	it('are none once all are here, in whatever order they came, one of them twice', () => {
		expect(otherPartsWords([last(3), ...parts(1, 2, 1)])).toBe('All 3 parts of this backup are here now.');
	});
});
