import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { historiesOf } from './histories';
import {
	besideOf,
	changedBy,
	joinedCard,
	keptCard,
	laterChange,
	saidWithoutStamps,
	unstamped
} from '$lib/record/card-merge';
import { cardOf } from '$lib/record/card-registers';
import { joined, type Registers } from '$lib/record/registers';
import { waySteps } from '$lib/physiology/way-steps';
import type { Athlete } from '$lib/record/athlete';
import { withThreshold, withWeight } from '$lib/record/athlete-changes';
import { heldForOlderPages, type Blow } from '$lib/record/blow';
import { withoutReasons } from '$lib/record/lock-registers';
import { restrictionOf } from '$lib/record/way-back';
import { withBlow, withoutBlow } from '$lib/record/blow-changes';

const nerea: Athlete = { id: 'ath-1', name: 'Nerea' };
const noonMs = Date.UTC(2026, 2, 3, 12);

/** A change to a card, as a screen makes it. */
const change = fc.oneof(
	fc
		.integer({ min: 150, max: 180 })
		.map((bpm) => (card: Athlete) => withThreshold(card, bpm, '2026-03-02', 'typed')),
	fc.tuple(fc.integer({ min: 50, max: 70 }), fc.integer({ min: 1, max: 5 })).map(
		([kg, day]) =>
			(card: Athlete) =>
				withWeight(card, kg, `2026-03-0${day}`)
	),
	fc.constantFrom('x', 'y', 'z').map((notes) => (card: Athlete) => ({ ...card, notes })),
	fc.constant((card: Athlete): Athlete => ({ ...card, slowingMedicine: true })),
	fc.constant(({ slowingMedicine: _, ...card }: Athlete): Athlete => card),
	fc
		.record({
			step: fc.constantFrom(...waySteps),
			isCleared: fc.boolean(),
			date: fc.integer({ min: 1, max: 2 })
		})
		.map(({ step, isCleared, date }) => (card: Athlete) => {
			const day = `2026-03-0${date}`;
			const blow = { day, step, since: `${day}T12:00:00.000Z` };
			return withBlow(card, { ...blow, ...(isCleared && { clearance: { by: 'Dr Aalto', day } }) }, day);
		}),
	fc.constant((card: Athlete) => withoutBlow(card, '2026-03-01'))
);
const history = historiesOf(change, 8, 30);

function played({
	clocks,
	steps
}: {
	clocks: number[];
	steps: { who: number; from: number; change?: ((card: Athlete) => Athlete) | undefined; waitMs: number }[];
}) {
	const states = clocks.map((): Registers => unstamped(nerea));
	let ms = noonMs;
	for (const { who, from, change, waitMs } of steps) {
		ms += waitMs;
		if (!change) states[who] = joined(states[who]!, states[from]!);
		else {
			const before = shown(states[who]!);
			const after = change(before);
			states[who] = changedBy(states[who]!, before, after, { ms: ms + clocks[who]!, by: `m${who}` });
			// A later correction always takes effect, whatever the clocks say.
			expect(told(shown(states[who]!))).toEqual(told(after));
		}
	}
	return states;
}

/** A card with its earlier thresholds as a set: two found equal on one day are one. */
const told = ({ olderThresholds = [], ...card }: Athlete) => ({
	...card,
	older: new Set(olderThresholds.map(({ bpm, date }) => `${bpm} ${date}`))
});

function shown(state: Registers): Athlete {
	const { value, problem } = cardOf('ath-1', state);
	if (!value) throw new Error(problem);
	return value;
}

describe('what several laptops say of one card', () => {
	it('is joined in any order, in any grouping and twice over to the same', () => {
		fc.assert(
			fc.property(history, fc.nat(7), fc.nat(7), fc.nat(7), (past, i, j, k) => {
				const states = played(past);
				const [a, b, c] = [i, j, k].map((n) => states[n % states.length]!) as [
					Registers,
					Registers,
					Registers
				];
				expect(joined(a, b)).toEqual(joined(b, a));
				expect(joined(joined(a, b), c)).toEqual(joined(a, joined(b, c)));
				expect(joined(joined(a, b), b)).toEqual(joined(a, b));
			}),
			{ numRuns: 300 }
		);
	});

	it('loses no weight of a day and no threshold that was entered', () => {
		fc.assert(
			fc.property(history, (past) => {
				const states = played(past);
				const all = states.reduce(joined);
				for (const state of states)
					for (const { date } of shown(state).weights ?? [])
						expect(shown(all).weights?.map((one) => one.date)).toContain(date);
				const held = [shown(all).thresholdBpm, ...(shown(all).olderThresholds ?? []).map(({ bpm }) => bpm)];
				for (const state of states)
					if (shown(state).thresholdBpm !== undefined) expect(held).toContain(shown(state).thresholdBpm);
			}),
			{ numRuns: 300 }
		);
	});

	it('shows the later of two words that were said unaware of each other, and the other beside it', () => {
		const one = changedBy(unstamped(nerea), nerea, { ...nerea, notes: 'left hand' }, { ms: noonMs, by: 'a' });
		const other = changedBy(
			unstamped(nerea),
			nerea,
			{ ...nerea, notes: 'right hand' },
			{ ms: noonMs + 1, by: 'b' }
		);
		const both = joined(one, other);
		expect(shown(both).notes).toBe('right hand');
		expect(besideOf(both)).toMatchObject([{ register: 'notes', value: 'left hand', by: 'a' }]);
		const told = changedBy(both, shown(both), { ...shown(both), notes: 'both' }, { ms: 0, by: 'a' });
		expect(shown(told).notes).toBe('both');
		expect(besideOf(told)).toEqual([]);
	});

	it('carries along members that this page does not know', () => {
		const later = { ...nerea, reach: { cm: 180 } } as Athlete;
		const state = changedBy(unstamped(later), later, { ...later, notes: 'x' }, { ms: noonMs, by: 'a' });
		expect(shown(joined(state, unstamped(nerea)))).toEqual({ ...later, notes: 'x' });
	});
});

describe('a blow to the head that several laptops tell of', () => {
	const today = '2026-03-10';
	const blow: Blow = { day: '2026-03-01', step: '3', since: '2026-03-05T12:00:00.000Z' };
	const clearance = { by: 'Dr Aalto', day: '2026-03-09' };
	const start = changedBy(unstamped(nerea), nerea, withBlow(nerea, blow, today), { ms: noonMs, by: 'one' });
	/** A change of the card that a laptop shows, made there. */
	const put = (state: Registers, by: string, change: (card: Athlete) => Athlete, ms = noonMs + 1) => {
		const card = cardOf(nerea.id, state).value!;
		return changedBy(state, card, change(card), { ms, by });
	};
	const shown = (state: Registers) => cardOf(nerea.id, state).value!;

	it('is held to the stricter of two words that were said unaware of each other, whichever is later', () => {
		const opened = put(
			start,
			'one',
			(card) => withBlow(card, { ...blow, step: '4', clearance }, today),
			9e12
		);
		const longer = put(start, 'two', (card) =>
			withBlow(card, { ...blow, step: '2A', standDownUntil: '2026-03-30' }, today)
		);
		const both = joined(opened, longer);
		expect(shown(both).blows).toMatchObject([{ step: '2A', standDownUntil: '2026-03-30' }]);
		expect(shown(both).blows![0]).not.toHaveProperty('clearance');
		expect(shown(joined(longer, opened))).toEqual(shown(both));
		// Who sees both has the last word.
		const seen = put(both, 'two', (card) => withBlow(card, { ...blow, step: '6', clearance }, today));
		expect(shown(seen).blows).toEqual([{ ...blow, step: '6', clearance }]);
		expect(shown(joined(seen, joined(opened, longer)))).toEqual(shown(seen));
	});

	it('is not taken away by who knew less of it, but by who knew all', () => {
		const gone = put(start, 'two', (card) => withoutBlow(card, blow.day), 9e12);
		expect(shown(gone)).not.toHaveProperty('blows');
		const changed = put(start, 'one', (card) => withBlow(card, { ...blow, step: '2B' }, today));
		expect(shown(joined(gone, changed)).blows).toMatchObject([{ step: '2B' }]);
		expect(shown(joined(gone, start))).not.toHaveProperty('blows');
	});

	it('is opened by no card or backup from before it, and by none that hands an earlier word on', () => {
		const before = unstamped({ ...nerea, notes: 'fit' }, { at: '2099-01-01T00:00:00.000Z', by: 'old' });
		expect(restrictionOf(shown(joined(start, before)), today)).toMatchObject({ step: '3' });
		const opened = put(start, 'one', (card) => withBlow(card, { ...blow, step: '6', clearance }, today));
		const back = put(opened, 'one', (card) => withBlow(card, { ...blow, step: '2A' }, today));
		const handedOn = saidWithoutStamps(back, shown(opened), { at: '2099-01-01T00:00:00.000Z', by: 'old' });
		expect(restrictionOf(shown(joined(back, handedOn)), today)).toMatchObject({ step: '2A' });
	});

	it('is opened by no card from before it where its bare lock alone is known, and by none that hands on an earlier one', () => {
		const away = joined(unstamped(nerea), withoutReasons(start));
		const before = unstamped({ ...nerea, notes: 'fit' }, { at: '2099-01-01T00:00:00.000Z', by: 'old' });
		expect(restrictionOf(shown(joined(away, before)), today)).toEqual({ step: '3', why: 'lock' });
		const opened = put(start, 'one', (card) => withBlow(card, { ...blow, step: '6', clearance }, today));
		const back = put(opened, 'one', (card) => withBlow(card, { ...blow, step: '2A' }, today));
		const known = joined(away, withoutReasons(back));
		expect(restrictionOf(shown(joined(known, withoutReasons(opened))), today)).toMatchObject({ step: '2A' });
		const handedOn = saidWithoutStamps(known, shown(joined(away, withoutReasons(opened))), {
			at: '2099-01-01T00:00:00.000Z',
			by: 'old'
		});
		expect(restrictionOf(shown(joined(known, handedOn)), today)).toMatchObject({ step: '2A' });
		// A window of an older page has the card without the lock, and the day that it locks by.
		const { locks: _, ...older } = shown(away);
		expect(restrictionOf(keptCard(older, away)!.card, today)).toMatchObject({ step: '3', why: 'stop ahead' });
	});

	it('locks older pages by a day never to come, until all of it is behind', () => {
		expect(shown(start).noSparringUntil).toBe(heldForOlderPages);
		const opened = put(start, 'one', (card) => withBlow(card, { ...blow, step: '6', clearance }, today));
		expect(shown(opened)).not.toHaveProperty('noSparringUntil');
		// An older page hands on the day and drops what it does not know.
		const handedOn = saidWithoutStamps(
			opened,
			{ ...nerea, noSparringUntil: heldForOlderPages },
			{ at: '2099-01-01T00:00:00.000Z', by: 'old' }
		);
		expect(restrictionOf(shown(joined(opened, handedOn)), today)).toBeUndefined();
		const heard = saidWithoutStamps(
			unstamped(nerea),
			{ ...nerea, noSparringUntil: heldForOlderPages },
			{ at: '2099-01-01T00:00:00.000Z', by: 'old' }
		);
		expect(restrictionOf(shown(joined(unstamped(nerea), heard)), today)).toMatchObject({
			why: 'stop ahead'
		});
	});

	it('locks pages that know stamps and no blows by the register that they know, with and without the reason', () => {
		const opened = put(start, 'one', (card) => withBlow(card, { ...blow, step: '6', clearance }, today));
		for (const told of [(state: Registers) => state, withoutReasons]) {
			// Of what is said such a page reads this, the latest word first.
			expect(told(start).noSparringUntil![0]!.value).toBe(heldForOlderPages);
			expect(joined(told(start), told(opened)).noSparringUntil!.map(({ value }) => value)).toEqual([
				undefined
			]);
		}
	});
});

describe('a card that was written without stamps', () => {
	const at = new Date(noonMs + 5000).toISOString();
	const stamp = { at, by: 'old' };
	const stamped = changedBy(
		unstamped({ ...nerea, thresholdBpm: 160 }),
		{ ...nerea, thresholdBpm: 160 },
		{ ...nerea, thresholdBpm: 172, slowingMedicine: true },
		{ ms: noonMs, by: 'new' }
	);

	it('takes nothing away by not telling it, and brings no earlier value back by handing it on', () => {
		const card: Athlete = { ...nerea, thresholdBpm: 160, weightKg: 61 };
		const both = joined(stamped, saidWithoutStamps(stamped, card, stamp));
		expect(shown(both)).toEqual({ ...nerea, thresholdBpm: 172, slowingMedicine: true, weightKg: 61 });
	});

	it('is followed where something was changed on that laptop since its last one', () => {
		const before = { card: { ...nerea, thresholdBpm: 172 }, at: new Date(noonMs + 1000).toISOString() };
		const both = joined(stamped, saidWithoutStamps(stamped, { ...nerea, thresholdBpm: 160 }, stamp, before));
		expect(shown(both)).toMatchObject({ thresholdBpm: 160, slowingMedicine: true });
	});
});

describe('a card as it is kept', () => {
	const at = '2026-03-03T12:00:00.000Z';

	it('is none where it is no card, and said once where nothing is known of who said it', () => {
		expect(keptCard(undefined, {})).toBeUndefined();
		expect(keptCard({ id: 'ath-1' }, {})).toBeUndefined();
		const card = { ...nerea, notes: 'x', changedAt: at };
		for (const state of [undefined, 'x', { notes: [] }])
			expect(keptCard(card, state)).toEqual({
				card,
				state: { name: [{ value: 'Nerea', at, by: '' }], notes: [{ value: 'x', at, by: '' }] }
			});
	});

	it('keeps its state where both say the same, and takes over what an older page wrote into the card alone', () => {
		const { state } = keptCard({ ...nerea, changedAt: at }, undefined)!;
		expect(keptCard({ ...nerea, changedAt: at }, state)!.state).toEqual(state);
		const written = keptCard({ ...nerea, name: 'Nerea B.', changedAt: '2026-03-04T12:00:00.000Z' }, state)!;
		expect(written.state.name).toEqual([
			{ value: 'Nerea B.', at: '2026-03-04T12:00:00.000Z', by: '', knew: { '': at }, was: ['Nerea'] }
		]);
	});

	it('is joined with what comes, as news only where it looks different for it', () => {
		const kept = { card: { ...nerea, changedAt: at }, state: unstamped({ ...nerea, changedAt: at }) };
		const later = '2026-03-05T12:00:00.000Z';
		const alike = joinedCard('ath-1', kept, () => ({}), later);
		expect([alike.isNews, alike.card.value]).toEqual([false, { ...nerea, changedAt: later }]);
		const told = joinedCard(
			'ath-1',
			kept,
			() => ({ notes: [{ value: 'x', at: later, by: 'two' }] }),
			undefined
		);
		expect([told.isNews, told.card.value]).toEqual([true, { ...nerea, notes: 'x', changedAt: at }]);
		const fresh = joinedCard('ath-1', undefined, () => kept.state, undefined);
		expect([fresh.isNews, fresh.card.value]).toEqual([true, nerea]);
	});

	it('was changed at the later of two moments, where one is known', () => {
		expect(laterChange(undefined, undefined)).toBeUndefined();
		expect(laterChange(at, undefined)).toBe(at);
		expect(laterChange(undefined, at)).toBe(at);
		expect(laterChange(at, '2026-01-01T00:00:00.000Z')).toBe(at);
	});

	it('has beside it what somebody took away unaware, without a value, and neither straps nor bare locks', () => {
		const word = (value: unknown, by: string, ms: number) => ({
			...(value !== undefined && { value }),
			at: new Date(noonMs + ms).toISOString(),
			by
		});
		const lock = { day: '2026-03-01', step: '1' };
		const state: Registers = {
			notes: [word('x', 'two', 2), word(undefined, 'one', 1)],
			slowingMedicine: [word(true, 'two', 2), word(true, 'one', 1)],
			strapName: [word('Red', 'two', 2), word('Blue', 'one', 1)],
			threshold: [word({ thresholdBpm: 170 }, 'two', 2), word({ thresholdBpm: 160 }, 'one', 1)],
			'blows/2026-03-01': [word(lock, 'two', 2), word({ ...lock, step: '2A' }, 'one', 1)]
		};
		expect(besideOf(state)).toEqual([{ register: 'notes', at: '2026-03-03T12:00:00.001Z', by: 'one' }]);
	});
});

describe('what was said of a card, as it is shown', () => {
	const at = '2026-03-03T12:00:00.000Z';
	const word = (value: unknown) => ({ value, at, by: 'one' });

	it('is the later end of a stop on sparring, whichever was said last', () => {
		const state: Registers = {
			name: [word('Nerea')],
			noSparringUntil: [word('2026-04-01'), word(7), word('2026-05-01'), word('2026-03-10')]
		};
		expect(cardOf('ath-1', state).value?.noSparringUntil).toBe('2026-05-01');
	});

	it('has a threshold found elsewhere among those that held before, once, with its day where it has one', () => {
		const threshold = (thresholdBpm: number, more = {}) => word({ thresholdBpm, ...more });
		const state: Registers = {
			name: [word('Nerea')],
			threshold: [
				threshold(172, { thresholdDate: '2026-03-01' }),
				threshold(165),
				threshold(168, {
					thresholdDate: '2026-02-01',
					thresholdSource: 'run',
					thresholdBasis: '20-minute mean'
				}),
				threshold(168, { thresholdDate: '2026-02-01' }),
				threshold(172, { thresholdDate: '2026-03-01', thresholdSource: 'typed' }),
				word(undefined)
			]
		};
		expect(cardOf('ath-1', state).value?.olderThresholds).toEqual([
			{ bpm: 165 },
			{ bpm: 168, date: '2026-02-01', source: 'run', basis: '20-minute mean' }
		]);
	});

	it('weighs what was weighed on the last day, and nothing where no day is left', () => {
		const weights = {
			'weights/2026-03-02': [word({ date: '2026-03-02', kg: 62 })],
			'weights/2026-03-01': [word({ date: '2026-03-01', kg: 63 })]
		};
		const state: Registers = { name: [word('Nerea')], weightKg: [word('the last weight')] };
		expect(cardOf('ath-1', { ...state, ...weights }).value).toMatchObject({
			weightKg: 62,
			weights: [
				{ date: '2026-03-01', kg: 63 },
				{ date: '2026-03-02', kg: 62 }
			]
		});
		expect(cardOf('ath-1', state).value).toEqual(nerea);
	});
});

describe('a card of a page without stamps', () => {
	const [first, second] = ['2026-03-03T12:00:00.000Z', '2026-03-04T12:00:00.000Z'];
	const stamp = { at: second, by: 'two' };
	const state = unstamped({ ...nerea, notes: 'x', heightCm: 170 }, { at: first, by: 'one' });

	it('says what is new there, in knowledge of what stood on the card before it', () => {
		const before = { card: { ...nerea, notes: 'x' }, at: first };
		expect(saidWithoutStamps(state, { ...nerea, notes: 'y', birthYear: 1999 }, stamp, before)).toEqual({
			notes: [{ value: 'y', ...stamp, knew: { two: first, one: first } }],
			birthYear: [{ value: 1999, ...stamp, knew: { two: first } }]
		});
	});

	it('says nothing of what is known, nor of what it hands on from before', () => {
		expect(saidWithoutStamps(state, { ...nerea, notes: 'x', heightCm: 170 }, stamp)).toEqual({});
		const changed = changedBy(
			state,
			{ ...nerea, notes: 'x', heightCm: 170 },
			{ ...nerea, notes: 'y', heightCm: 170 },
			{ ms: Date.parse(second), by: 'one' }
		);
		expect(saidWithoutStamps(changed, { ...nerea, notes: 'x' }, stamp)).toEqual({});
		expect(saidWithoutStamps(state, { ...nerea, notes: 'z' }, stamp)).toEqual({
			notes: [{ value: 'z', ...stamp }]
		});
	});
});

describe('a card as registers, and back', () => {
	it('has every member, and of a day with a blow and a lock what holds of both', () => {
		const card: Athlete = {
			...{ ...nerea, thresholdBpm: 170, thresholdDate: '2026-03-01', restBpm: 50, weightKg: 62 },
			weights: [
				{ date: '2026-03-01', kg: 63 },
				{ date: '2026-03-02', kg: 62 }
			],
			olderThresholds: [{ bpm: 160 }, { bpm: 165, date: '2026-02-01' }],
			bouts: [
				{ id: 'one', day: '2026-05-01' },
				{ id: 'two', day: '2026-04-01' }
			]
		};
		const { value } = cardOf('ath-1', unstamped(card));
		expect(value).toEqual({ ...card, bouts: card.bouts!.toReversed() });
		expect(Object.keys(unstamped(card)).sort()).toEqual(
			[
				...['bouts/one', 'bouts/two', 'name', 'olderThresholds/2026-02-01/165', 'olderThresholds//160'],
				...['resting', 'threshold', 'weightKg', 'weights/2026-03-01', 'weights/2026-03-02']
			].sort()
		);
		const blow: Blow = { day: '2026-03-01', step: '3', since: '2026-03-02T18:00:00.000Z' };
		const both = unstamped({ ...nerea, blows: [blow], locks: [{ day: blow.day, step: '1' }] });
		expect(cardOf('ath-1', both).value?.blows).toEqual([{ ...blow, step: '1' }]);
	});
});
