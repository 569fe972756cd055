import {
	changePlaces,
	isWearing,
	wasStrapped,
	wornBy,
	wornSoFar,
	type CornerSoFar
} from '$lib/record/corner-so-far';
import type { StrapChange } from '$lib/record/head';
import { describe, expect, it } from 'vitest';

function corner(strapName: string | undefined, ...strapChanges: StrapChange[]): CornerSoFar {
	const entrant = { ...(strapName !== undefined && { strapName }) } as CornerSoFar['entrant'];
	const worn = wornSoFar({ entrant, strapChanges });
	return { entrant, number: 1, strapChanges, worn };
}
const change = (ms: number, strapName: string, handOver?: StrapChange['handOver']): StrapChange => ({
	ms,
	strapName,
	practice: false,
	...(handOver && { handOver })
});

describe('the strap of a corner', () => {
	it('is that of the start until another one answers', () => {
		expect(wornBy(corner('Red')).strapName).toBe('Red');
		expect(wornBy(corner('Red', change(5000, 'Blue'), change(9000, 'Green'))).strapName).toBe('Green');
	});

	it('is on from the start, or from when it is put on, until it is given away', () => {
		expect(isWearing(corner('Red'))).toBe(true);
		expect(isWearing(corner(undefined))).toBe(false);
		expect(isWearing(corner(undefined, change(5000, 'Red', 'put on')))).toBe(true);
		expect(isWearing(corner('Red', change(5000, 'Red', 'given away')))).toBe(false);
	});

	it('was worn where there was one at any time', () => {
		expect(wasStrapped(corner(undefined))).toBe(false);
		expect(wasStrapped(corner('Red'))).toBe(true);
		expect(wasStrapped(corner(undefined, change(5000, 'Red', 'put on')))).toBe(true);
	});

	it('takes the place on the screen and the turns with it', () => {
		const [one, other] = [corner('Red'), { ...corner(undefined), number: 2, turns: 1 }];
		changePlaces(one, other);
		expect([one.number, one.turns, other.number, other.turns]).toEqual([2, 1, 1, undefined]);
	});
});
