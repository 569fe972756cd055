import { expect, it } from 'vitest';
import checkedAgainst from '$lib/physiology/checked-against.json';
import { checksOf, checkWords } from '$lib/review/outside-checks';

it('an entry has the checks that were made of it, and no others', () => {
	const { entryId } = checkedAgainst[0]!;
	expect(checksOf(entryId)).toContain(checkedAgainst[0]);
	expect(checksOf(entryId).every((check) => check.entryId === entryId)).toBe(true);
	expect(checksOf('no such entry')).toEqual([]);
});

it('a check says how many cases it had, and what lay apart', () => {
	const check = { entryId: 'x', against: 'A table on paper', cases: 1, largestDifference: 0, unit: 'beats' };
	expect(checkWords(check)).toBe('A table on paper. 1 case, largest difference: none but rounding.');
	expect(checkWords({ ...check, cases: 2, largestDifference: 0.5 })).toBe(
		'A table on paper. 2 cases, largest difference: 0.5 beats.'
	);
});
