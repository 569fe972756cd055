import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import type { Athlete } from '$lib/record/athlete';
import type { Blow } from '$lib/record/blow';
import { bareCard, withBlow, withoutBlow } from '$lib/record/blow-changes';
import { besideOf, changedBy, unstamped } from '$lib/record/card-merge';
import { cardOf } from '$lib/record/card-registers';
import { locksApart, shownOfBlow, withLocks, withoutReasons } from '$lib/record/lock-registers';
import { joined, type Registers } from '$lib/record/registers';
import { restrictionOf } from '$lib/record/way-back';
import { anyDay, blowOn } from './blows';

const nerea: Athlete = { id: 'a', name: 'Nerea' };
const today = '2026-03-10';
const noonMs = Date.UTC(2026, 2, 3, 12);
const blow: Blow = { day: '2026-03-01', step: '2A', since: '2026-03-02T18:00:00.000Z' };
const clearance = { by: 'Dr Aalto', day: '2026-03-09' };
const shown = (state: Registers) => cardOf(nerea.id, state).value!;
/** A change of the card that a laptop shows, made there. */
const put = (state: Registers, by: string, change: (card: Athlete) => Athlete, ms = noonMs) =>
	changedBy(state, shown(state), change(shown(state)), { ms, by });
const home = put(unstamped(nerea), 'home', (card) =>
	withBlow(card, { ...blow, standDownUntil: '2026-03-20', clearance, daysPerStep: 3 }, today)
);
const away = joined(unstamped(nerea), withoutReasons(home));

describe('a blow that leaves without its reason', () => {
	it('is a bare lock with the same stamps: day, step, stand-down, and that it is cleared', () => {
		expect(withoutReasons(home)['locks/2026-03-01']).toEqual([
			{
				at: '2026-03-03T12:00:00.000Z',
				by: 'home',
				value: { day: '2026-03-01', step: '2A', standDownUntil: '2026-03-20', isCleared: true }
			}
		]);
		expect(JSON.stringify([withoutReasons(home), bareCard(shown(home))])).not.toMatch(/Aalto|blow/i);
		expect(shown(away)).toMatchObject({
			locks: [{ day: '2026-03-01', step: '2A', standDownUntil: '2026-03-20', isCleared: true }]
		});
		expect(shown(away)).not.toHaveProperty('blows');
	});

	it('is what the card of it says, too', () => {
		const card = { ...shown(home), changedAt: undefined };
		expect(bareCard(card)).toEqual({ ...shown(away), changedAt: undefined });
	});

	it('locks as strictly where it is damaged, and tells nothing of what is in it', () => {
		const damaged: Registers = {
			'blows/2026-03-01': [{ at: '', by: 'x', value: { why: 'fell', note: 'Dr Aalto' } }]
		};
		const lock = { day: '2026-03-01', step: '1' };
		expect(withoutReasons(damaged)).toEqual({ 'locks/2026-03-01': [{ at: '', by: 'x', value: lock }] });
	});

	it('comes home as what is known there already', () => {
		const back = joined(home, withoutReasons(away));
		expect(shown(back)).toEqual(shown(home));
		expect(besideOf(back)).toEqual([]);
	});

	it('is changed, opened and taken away elsewhere with the blow at home', () => {
		const further = put(home, 'home', (card) => withBlow(card, { ...blow, step: '2B' }, today));
		expect(shown(joined(away, withoutReasons(further))).locks).toEqual([{ day: '2026-03-01', step: '2B' }]);
		const back = put(home, 'home', (card) => withBlow(card, { ...blow, step: '6', clearance }, today));
		expect(restrictionOf(shown(joined(away, withoutReasons(back))), today)).toBeUndefined();
		const gone = put(home, 'home', (card) => withoutBlow(card, blow.day));
		for (const state of [joined(away, withoutReasons(gone)), joined(gone, withoutReasons(away))])
			expect(shown(state)).toEqual(nerea);
	});
});

describe('a blow that is entered where the bare lock of its day is known', () => {
	const entered = put(away, 'away', (card) => withBlow(card, { ...blow, step: '3' }, today));

	it('takes its place on both laptops, no further open and stood down as long', () => {
		expect(shown(entered).blows).toEqual([{ ...blow, standDownUntil: '2026-03-20' }]);
		expect(shown(entered)).not.toHaveProperty('locks');
		const opened = put(entered, 'away', (card) => withBlow(card, { ...blow, step: '6', clearance }, today));
		expect(restrictionOf(shown(opened), today)).toBeUndefined();
		for (const told of [opened, withoutReasons(opened)])
			expect(restrictionOf(shown(joined(home, told)), today)).toBeUndefined();
	});

	it('is held to the stricter of both where the other laptop has said something else meanwhile', () => {
		const stricter = put(home, 'home', (card) => withBlow(card, { ...blow, step: '1' }, today), noonMs + 1);
		const opened = put(entered, 'away', (card) => withBlow(card, { ...blow, step: '6', clearance }, today));
		const [here, there] = [
			joined(stricter, withoutReasons(opened)),
			joined(opened, withoutReasons(stricter))
		];
		for (const state of [here, there]) {
			expect(shown(state).blows).toMatchObject([{ step: '1' }]);
			expect(shown(state).blows![0]).not.toHaveProperty('clearance');
			expect(shown(state)).not.toHaveProperty('locks');
			expect(besideOf(state)).toHaveLength(1);
		}
		// Who sees both has the last word.
		const seen = put(here, 'home', (card) => withBlow(card, { ...blow, step: '6', clearance }, today));
		for (const state of [seen, joined(there, withoutReasons(seen))])
			expect(restrictionOf(shown(state), today)).toBeUndefined();
	});
});

describe('any blows on three laptops that tell each other reasons or locks', () => {
	const day = fc.constantFrom('2026-02-20', '2026-03-01');
	const who = fc.nat(2);
	const act = fc.oneof(
		fc.record({ does: fc.constant('enter' as const), who, told: blowOn(day), lateMs: fc.nat(9) }),
		fc.record({ does: fc.constant('take away' as const), who, day }),
		fc.record({ does: fc.constant('tell' as const), who, other: who, isWhole: fc.boolean() })
	);

	it('lock alike in the end, and as if all reasons had been told', () => {
		fc.assert(
			fc.property(
				fc.array(act, { maxLength: 14 }),
				fc.tuple(fc.boolean(), fc.boolean(), fc.boolean()),
				(acts, consents) => {
					const laptops = [0, 1, 2].map(() => unstamped(nerea));
					const tell = (from: number, to: number, isWhole: boolean) => {
						const said = isWhole ? laptops[from]! : withoutReasons(laptops[from]!);
						laptops[to] = joined(laptops[to]!, said);
					};
					for (const one of acts) {
						const state = laptops[one.who]!;
						if (one.does === 'tell') tell(one.who, one.other, one.isWhole);
						else if (one.does === 'enter')
							laptops[one.who] = put(
								state,
								`m${one.who}`,
								(card) => withBlow(card, one.told, today),
								noonMs + one.lateMs
							);
						else laptops[one.who] = put(state, `m${one.who}`, (card) => withoutBlow(card, one.day));
					}
					const whole = shown(laptops.reduce(joined));
					for (let round = 0; round < 2; round++)
						for (const from of [0, 1, 2]) for (const to of [0, 1, 2]) tell(from, to, consents[from]!);
					for (const state of laptops)
						for (const now of ['2026-02-20', today, '2026-03-30']) {
							expect(restrictionOf(shown(state), now)?.step).toBe(restrictionOf(whole, now)?.step);
							expect(shown(state).noSparringUntil).toBe(whole.noSparringUntil);
							expect(shown(withoutReasons(state))).toEqual(bareCard(shown(state)));
						}
				}
			),
			{ seed: 21, numRuns: 1000 }
		);
	});

	it('are joined to the same in any order and any number of times', () => {
		const state = fc
			.array(fc.tuple(fc.constantFrom('x', 'y'), blowOn(anyDay)), { maxLength: 3 })
			.chain((told) => {
				const full = told.reduce(
					(all, [by, one]) => put(all, by, (card) => withBlow(card, one, today)),
					unstamped(nerea)
				);
				return fc.boolean().map((isWhole) => (isWhole ? full : withoutReasons(full)));
			});
		fc.assert(
			fc.property(state, state, state, (a, b, c) => {
				const one = shown(joined(joined(a, b), c));
				expect(shown(joined(a, joined(c, b)))).toEqual(one);
				expect(shown(joined(joined(joined(a, b), c), withoutReasons(b)))).toEqual(one);
			}),
			{ seed: 21, numRuns: 300 }
		);
	});
});

describe('words on one day, some with a reason and some without', () => {
	const at = '2026-03-03T12:00:00.000Z';
	const word = (value: unknown, by = 'one') => ({ value, at, by });
	const lock = { day: blow.day, step: '1' };

	it('stand in one register, and the bare locks apart where they are kept', () => {
		const state: Registers = {
			name: [word('Nerea')],
			'blows/2026-03-01': [word(blow, 'two')],
			'locks/2026-03-01': [word(lock)],
			'locks/2026-03-05': [word({ ...lock, day: '2026-03-05' })]
		};
		const together = withLocks(state);
		expect(Object.keys(together).sort()).toEqual(['blows/2026-03-01', 'blows/2026-03-05', 'name']);
		expect(together['blows/2026-03-01']!.map(({ by }) => by)).toEqual(['two', 'one']);
		expect(locksApart(together)).toEqual(state);
		expect(locksApart({ name: state.name!, notes: [word(lock)] })).toEqual({
			name: state.name,
			notes: [word(lock)]
		});
		// One word that came both ways is one, with its reason.
		const twice = { 'blows/2026-03-01': [word(blow)], 'locks/2026-03-01': [word(lock)] };
		expect(withLocks(twice)).toEqual({ 'blows/2026-03-01': [word(blow)] });
	});

	it('show the strictest, a bare lock where no reason is known, and what is neither as it is', () => {
		expect(shownOfBlow([word(blow), word(lock)])).toEqual({ ...blow, step: '1' });
		expect(shownOfBlow([word(lock), word({ ...lock, step: '3' })])).toEqual(lock);
		expect(shownOfBlow([word(undefined), word(blow)])).toEqual(blow);
		expect(shownOfBlow([word(undefined), word('broken')])).toBe('broken');
		expect(shownOfBlow([word(undefined)])).toBeUndefined();
	});

	it('leave without a reason as a lock, and what is damaged as the one that opens least', () => {
		const damaged = { 'blows/2026-03-01': [word('broken')], 'blows/2026-03-05': [{ at, by: 'one' }] };
		expect(withoutReasons(damaged)).toEqual({
			'locks/2026-03-01': [word(lock)],
			'locks/2026-03-05': [{ at, by: 'one' }]
		});
	});
});
