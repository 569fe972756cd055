import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { historiesOf } from './histories';
import { besideOf, changedBy, saidWithoutStamps, unstamped } from '$lib/record/card-merge';
import { cardOf } from '$lib/record/card-registers';
import { joined, type Registers } from '$lib/record/registers';
import type { Athlete } from '$lib/record/athlete';
import { withThreshold, withWeight } from '$lib/record/athlete-changes';

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
	fc.constant(({ slowingMedicine: _, ...card }: Athlete): Athlete => card)
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
