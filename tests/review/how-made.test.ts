import { describe, expect, it } from 'vitest';
import { allMethods } from '$lib/physiology/all-methods';
import { howMade, sourceWords } from '$lib/review/how-made';
import { checkWords } from '$lib/review/outside-checks';

describe('a source and a check, for the eye', () => {
	it('say how far the source was read, and how far the check lay apart', () => {
		expect(sourceWords('Own rule')).toBe('Own rule');
		expect(sourceWords({ text: 'Foster, Med Sci Sports Exerc 1998;30:1164-8', seen: 'abstract' })).toBe(
			'Foster, Med Sci Sports Exerc 1998;30:1164-8 (abstract)'
		);
		const check = { entryId: 'rmssd', against: 'Printed results', cases: 4, unit: 'ms' };
		expect(checkWords({ ...check, largestDifference: 0.5 })).toBe(
			'Printed results. 4 cases, largest difference: 0.5 ms.'
		);
		expect(checkWords({ ...check, cases: 1, largestDifference: 0 })).toBe(
			'Printed results. 1 case, largest difference: none but rounding.'
		);
	});
});

describe('how a number was made', () => {
	it('is the very entry that the Methods screen shows', async () => {
		expect(await howMade('drop-60')).toBe(allMethods.find(({ id }) => id === 'drop-60'));
		expect((await howMade('peak'))?.title).toBe('Peak');
	});

	it('is not known for a measure that has no entry', async () => {
		expect(await howMade('no such measure')).toBeUndefined();
	});
});
