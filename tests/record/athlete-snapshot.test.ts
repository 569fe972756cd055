import { measuredOf, snapshotOf, youngestYearsOf } from '$lib/record/athlete-snapshot';
import { sessionStartSchema } from '$lib/record/journal';
import * as v from 'valibot';
import { expect, it } from 'vitest';
import { makeStart } from '../session/builders';

const red = { id: 'athlete-1', name: 'Red corner', birthYear: 1996 };

it('a record notes the age of the year in which it is made', () => {
	expect(snapshotOf(red, 2026).ageYears).toBe(30);
});

it.each([1970, 2200])('an age by a clock that says %i is unknown, and the session can be kept', (year) => {
	const athlete = snapshotOf(red, year);
	expect(athlete).not.toHaveProperty('ageYears');
	const start = makeStart({
		corners: [{ recordId: 'record-1', athlete, strapName: 'Red', practice: false }]
	});
	expect(v.safeParse(sessionStartSchema, start).issues).toBeUndefined();
});

it('the youngest of a squad is told by the ages that are known', () => {
	const cards = [red, { ...red, birthYear: 2012 }, { id: 'athlete-3', name: 'Blue corner' }];
	expect(youngestYearsOf(cards, 2026)).toBe(14);
	expect(youngestYearsOf(cards.slice(2), 2026)).toBeUndefined();
});

it('an age is told from the year of birth on, up to the oldest that the page takes', () => {
	expect(snapshotOf({ ...red, birthYear: 2026 }, 2026).ageYears).toBe(0);
	expect(snapshotOf({ ...red, birthYear: 2027 }, 2026)).not.toHaveProperty('ageYears');
	expect(snapshotOf({ ...red, birthYear: 1800 }, 2026)).not.toHaveProperty('ageYears');
});

it('the aims of a squad can be measured by what one of them has', () => {
	const [bare, tested, maximal] = [{}, { thresholdBpm: 170 }, { measuredMaxBpm: 195 }];
	expect(measuredOf([])).toEqual({ threshold: false, maximum: false });
	expect(measuredOf([bare, tested])).toEqual({ threshold: true, maximum: false });
	expect(measuredOf([maximal, bare])).toEqual({ threshold: false, maximum: true });
});
