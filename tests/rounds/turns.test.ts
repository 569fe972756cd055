import { roundsFromText, roundsText, type RoundRange } from '$lib/rounds/round-ranges';
import {
	evenTurns,
	handedAfter,
	overlapIn,
	takingTurns,
	turnsByBlock,
	wearerIn,
	type Turn
} from '$lib/rounds/turns';
import fc from '../by-chance';
import { describe, expect, it } from 'vitest';

const one = (...rounds: [number, number][]): RoundRange[] => rounds.map(([from, to]) => ({ from, to }));
const anyRange = fc
	.tuple(fc.integer({ min: 1, max: 40 }), fc.nat(5))
	.map(([from, more]) => ({ from, to: from + more }));
const anyTurns = fc
	.array(fc.array(anyRange, { maxLength: 3 }), { maxLength: 4 })
	.map((lists) => lists.map((rounds, who): Turn<number> => ({ who, rounds })));
const roundsOf = (ranges: readonly RoundRange[]) =>
	ranges.flatMap(({ from, to }) => Array.from({ length: to - from + 1 }, (_, i) => from + i));
/** Who is named for each round, round 1 first; nobody for some. */
const anyNamed = fc.array(fc.option(fc.constantFrom('Yara', 'Milo', 'Sefa'), { nil: undefined }), {
	minLength: 1,
	maxLength: 20
});
const turnsOf = (named: readonly (string | undefined)[]): Turn<string>[] =>
	[...new Set(named.flatMap((who) => who ?? []))].map((who) => ({
		who,
		rounds: named.flatMap((other, i) => (other === who ? { from: i + 1, to: i + 1 } : []))
	}));

describe('rounds that are typed', () => {
	it('are one, several, or from one to another, in order', () => {
		expect(roundsFromText('1-3, 7', 8)).toEqual(one([1, 3], [7, 7]));
		expect(roundsFromText(' 7 ;1 to 3,', 8)).toEqual(one([1, 3], [7, 7]));
		expect(roundsFromText('2 – 2', 8)).toEqual(one([2, 2]));
	});

	it('are asked for where there are none', () => {
		for (const text of ['', '  ', ' , ;'])
			expect(roundsFromText(text, 8)).toBe('Say in which rounds, such as 1-3.');
	});

	it.each(['a', '3-1', '0', '0-2', '-1', '1.5', '1-2-3', '2 3', '1000', '1e2'])(
		'are refused with the part that is none: %s',
		(part) => {
			expect(roundsFromText(`1, ${part}`, 8)).toBe(`“${part}” is no round: type rounds such as 1-3, 7.`);
		}
	);

	it('are refused beyond the plan, with the round and how many it has', () => {
		expect(roundsFromText('8', 8)).toEqual(one([8, 8]));
		expect(roundsFromText('2, 7-9', 8)).toBe('The plan has 8 rounds: round 9 is none of them.');
		expect(roundsFromText('2', 1)).toBe('The plan has 1 round: round 2 is none of them.');
	});

	it("may be any of 999 where the gym's own bell rings, which has no count", () => {
		expect(roundsFromText('1-999', undefined)).toEqual(one([1, 999]));
	});

	it('are read as they were written', () => {
		expect(roundsText(one([1, 3], [7, 7]))).toBe('1-3, 7');
		fc.assert(
			fc.property(fc.array(anyRange, { minLength: 1, maxLength: 5 }), (ranges) => {
				const inOrder = ranges.toSorted((a, b) => a.from - b.from);
				expect(roundsFromText(roundsText(ranges), 45)).toEqual(inOrder);
			})
		);
	});
});

describe('who wears a strap', () => {
	it('is whoever is named for the round, else whoever had it last', () => {
		fc.assert(
			fc.property(anyNamed, fc.nat(5), (named, beyond) => {
				const turns = turnsOf(named);
				let last: string | undefined;
				for (let round = 1; round <= named.length + beyond; round++) {
					last = named[round - 1] ?? last;
					expect(wearerIn(turns, round)).toBe(last);
				}
			})
		);
	});

	it('is handed over after each round whose wearer is another than that of the next', () => {
		fc.assert(
			fc.property(anyNamed, (named) => {
				let last: string | undefined;
				const handed = named.flatMap((who, i) => {
					const before = last;
					last = who ?? last;
					return before !== undefined && before !== last ? [i] : [];
				});
				expect(handedAfter(turnsOf(named), named.length)).toEqual(handed);
			})
		);
	});

	it('is nobody where nobody is named, and nothing is handed over then', () => {
		expect(wearerIn([], 3)).toBeUndefined();
		expect(wearerIn([{ who: 'Yara', rounds: one([3, 4]) }], 2)).toBeUndefined();
		expect(handedAfter([{ who: 'Yara', rounds: one([3, 4]) }], 9)).toEqual([]);
	});
});

describe('a round that two claim', () => {
	it('is found exactly where there is one, with both who claim it', () => {
		fc.assert(
			fc.property(anyTurns, (turns) => {
				const claims = turns.map(({ rounds }) => new Set(roundsOf(rounds)));
				const all = claims.flatMap((rounds) => [...rounds]);
				const found = overlapIn(turns);
				expect(found !== undefined).toBe(new Set(all).size < all.length);
				if (!found) return;
				expect(found.one).toBeLessThan(found.other);
				expect(claims[found.one]!.has(found.round) && claims[found.other]!.has(found.round)).toBe(true);
			})
		);
	});

	it('is the first of those that the later one claims', () => {
		const turns = [one([1, 2]), one([4, 6]), one([5, 5], [2, 2])].map((rounds, who) => ({ who, rounds }));
		expect(overlapIn(turns)).toEqual({ round: 5, one: 1, other: 2 });
	});
});

describe('turns that are proposed', () => {
	const count = fc.integer({ min: 1, max: 8 });
	const everyRoundOnce = (turns: readonly RoundRange[][], roundCount: number) =>
		expect(turns.flatMap(roundsOf).toSorted((a, b) => a - b)).toEqual(
			Array.from({ length: roundCount }, (_, i) => i + 1)
		);

	it('one after another give each wearer as many rounds as the others or one more', () => {
		expect(evenTurns(3, 7)).toEqual([[{ from: 1, to: 3 }], [{ from: 4, to: 5 }], [{ from: 6, to: 7 }]]);
		expect(evenTurns(2, 1)).toEqual([[{ from: 1, to: 1 }], []]);
		fc.assert(
			fc.property(count, fc.integer({ min: 1, max: 60 }), (count, roundCount) => {
				const turns = evenTurns(count, roundCount);
				everyRoundOnce(turns, roundCount);
				const sizes = turns.map((rounds) => rounds.flatMap((range) => roundsOf([range])).length);
				expect(sizes).toHaveLength(count);
				expect(Math.max(...sizes) - Math.min(...sizes)).toBeLessThanOrEqual(1);
			})
		);
	});

	it('every so many rounds give each round exactly one wearer, in the order of the wearers', () => {
		fc.assert(
			fc.property(
				count,
				fc.integer({ min: 1, max: 60 }),
				fc.integer({ min: 1, max: 12 }),
				(count, roundCount, every) => {
					const turns = takingTurns(count, roundCount, every);
					expect(turns).toHaveLength(count);
					everyRoundOnce(turns, roundCount);
					const named = turns.map((rounds, who) => ({ who, rounds }));
					for (let round = 1; round <= roundCount; round++)
						expect(wearerIn(named, round)).toBe(Math.floor((round - 1) / every) % count);
				}
			)
		);
	});

	it('a block each give every round of a block to one wearer, who is another than in the block before', () => {
		fc.assert(
			fc.property(
				count,
				fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: 8 }),
				(count, roundCounts) => {
					const turns = turnsByBlock(count, roundCounts);
					const wearers = roundCounts.flatMap((rounds, block) => Array<number>(rounds).fill(block % count));
					expect(turns).toHaveLength(count);
					everyRoundOnce(turns, wearers.length);
					const named = turns.map((rounds, who) => ({ who, rounds }));
					expect(wearers.map((_, i) => wearerIn(named, i + 1))).toEqual(wearers);
					const bells = wearers.flatMap((who, i) => (i > 0 && who !== wearers[i - 1] ? [i] : []));
					expect(handedAfter(named, wearers.length)).toEqual(bells);
				}
			)
		);
	});
});
