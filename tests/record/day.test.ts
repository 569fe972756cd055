import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { historiesOf } from './histories';
import {
	changedDay,
	checkedDay,
	emptyDay,
	shownDay,
	withEntry,
	withoutEntry,
	type DayEntry,
	type StoredDay,
	type TrainingDay
} from '$lib/record/day';
import { isKnown, isKnownToAll, checkedEntry } from '$lib/record/kinds';
import { joined } from '$lib/record/registers';

const noonMs = Date.UTC(2026, 2, 3, 12);
const entry = (id: string, more: Partial<DayEntry> = {}): DayEntry => ({
	id,
	activity: 'pads',
	minutes: 60,
	madeAt: '2026-03-03T19:00:00.000Z',
	...more
});
const said = (by: string, ms: number, change: (day: TrainingDay) => TrainingDay, stored: StoredDay = {}) =>
	changedDay(stored, shownDay(stored), change(shownDay(stored)), { ms, by });

/** A change to a day, as a screen makes it. */
const change = fc.oneof(
	fc
		.tuple(
			fc.constantFrom('e1', 'e2', 'e3'),
			fc.integer({ min: 1, max: 90 }),
			fc.integer({ min: 0, max: 10 })
		)
		.map(
			([id, minutes, effort]) =>
				(day: TrainingDay) =>
					withEntry(day, entry(id, { minutes, effort }))
		),
	fc.constantFrom('e1', 'e2').map((id) => (day: TrainingDay) => withoutEntry(day, id)),
	fc.boolean().map((allFood) => (day: TrainingDay) => ({ ...day, allFood })),
	fc.constant((day: TrainingDay): TrainingDay => ({ ...day, rest: true }))
);
const history = historiesOf(change, 5, 25);

describe('a day that several laptops enter', () => {
	it('is joined to the same in any order, whatever the clocks say, and stays sound', () => {
		fc.assert(
			fc.property(history, ({ clocks, steps }) => {
				const states = clocks.map((): StoredDay => ({}));
				let ms = noonMs;
				for (const { who, from, change, waitMs } of steps) {
					ms += waitMs;
					if (!change) states[who] = joined(states[who]!, states[from]!);
					else {
						const wanted = change(shownDay(states[who]!));
						states[who] = said(`m${who}`, ms + clocks[who]!, change, states[who]);
						// What somebody enters is what they see.
						expect(shownDay(states[who])).toEqual(shownDay(said('x', 0, () => wanted)));
					}
				}
				const [one, other = {}, third = {}] = states as [StoredDay, ...StoredDay[]];
				expect(joined(one, other)).toEqual(joined(other, one));
				expect(joined(joined(one, other), third)).toEqual(joined(one, joined(other, third)));
				expect(joined(joined(one, other), other)).toEqual(joined(one, other));
				expect(checkedDay(joined(one, other)).problem).toBeUndefined();
			})
		);
	});
	it('keeps both entries of an evening that two laptops entered unaware of each other', () => {
		const one = said('m1', noonMs, (day) => withEntry(day, entry('a', { effort: 6 })));
		const other = said('m2', noonMs, (day) => withEntry(day, entry('b', { effort: 7 })));
		expect(shownDay(joined(one, other)).entries.map(({ id }) => id)).toEqual(['a', 'b']);
	});
	it('keeps an effort given on one laptop and an entry made on another', () => {
		const both = said('m1', noonMs, (day) => withEntry(day, entry('a')));
		const rated = said('m2', noonMs + 1, (day) => withEntry(day, entry('a', { effort: 5 })), both);
		const more = said('m1', noonMs + 2, (day) => withEntry(day, entry('run', { activity: 'running' })), both);
		expect(shownDay(joined(rated, more)).entries).toEqual([
			entry('a', { effort: 5 }),
			entry('run', { activity: 'running' })
		]);
	});
	it('takes the tick for rest away where something was trained', () => {
		const rested = said('m1', noonMs, (day) => ({ ...day, rest: true }));
		const trained = said('m1', noonMs + 1, (day) => withEntry(day, entry('a')), rested);
		expect(shownDay(joined(rested, trained))).toEqual({ entries: [entry('a')] });
	});
	it('carries along what a later version of the page says of a day', () => {
		const later: StoredDay = {
			sleep: [{ value: 8, at: '2026-03-03T12:00:00.000Z', by: 'm9' }],
			'entries/a': [{ value: { ...entry('a'), place: 'hill' }, at: '2026-03-03T12:00:00.000Z', by: 'm9' }]
		};
		const here = said(
			'm1',
			noonMs,
			(day) => withEntry(day, { ...entry('a'), ...day.entries[0], effort: 4 }),
			later
		);
		expect(checkedDay(here).value).toMatchObject({ sleep: later.sleep });
		expect(shownDay(here).entries[0]).toMatchObject({ place: 'hill', effort: 4 });
	});
});

describe('a day read from a file', () => {
	const stored = (value: unknown, register = 'entries/a') => ({
		[register]: [{ value, at: '2026-03-03T12:00:00.000Z', by: 'm1' }]
	});
	it.each([
		['an effort of 11', stored(entry('a', { effort: 11 }))],
		['0 minutes', stored(entry('a', { minutes: 0 }))],
		['1,500 minutes', stored(entry('a', { minutes: 1500 }))],
		['half a minute', stored(entry('a', { minutes: 0.5 }))],
		['no activity', stored(entry('a', { activity: ' ' }))],
		['a tick that is none', stored('yes', 'rest')],
		['an entry of another id', stored(entry('b'))],
		['an entry that is none', stored(null)],
		['a number', 7]
	])('is refused with %s', (_, value) => {
		expect(checkedDay(value).problem).toMatch(/\.$/);
	});
	it('is refused where something else that was said of it is unsound, though it is not shown', () => {
		const at = '2026-03-03T12:00:00.000Z';
		const two = {
			'entries/a': [
				{ value: entry('a'), at, by: 'm2' },
				{ value: 7, at, by: 'm1' }
			]
		};
		expect(checkedDay(two).problem).toBeDefined();
	});
	it('lies under an athlete and a day of the calendar, and older pages pass it over', () => {
		expect(checkedEntry('day/ath-1/2026-03-03', {}).value).toEqual({});
		expect(checkedEntry('day/ath-1/Tuesday', {}).problem).toBeDefined();
		expect([isKnown('day/a/2026-03-03'), isKnownToAll('day/a/2026-03-03')]).toEqual([true, false]);
	});
	it('is empty at first', () => {
		expect(shownDay({})).toEqual(emptyDay);
	});
});

describe('a day as it is shown', () => {
	const at = '2026-03-03T20:00:00.000Z';
	const word = (value: unknown) => [{ value, at, by: 'm1' }];

	it('has the ticks that stand, and the entries in the order in which they were made', () => {
		const early = entry('late', { madeAt: '2026-03-03T07:00:00.000Z' });
		const stored: StoredDay = {
			'entries/early': word(entry('early')),
			'entries/late': word(early),
			'entries/gone': word(undefined),
			allFood: word(true),
			allTraining: word(undefined),
			rest: []
		};
		expect(shownDay(stored)).toEqual({ entries: [early, entry('early')], allFood: true });
	});

	it('has a tick from when somebody sets it until it is taken back', () => {
		const wanted = { ms: Date.parse(at), by: 'm1' };
		const ticked = changedDay({}, emptyDay, { entries: [], rest: true, allFood: false }, wanted);
		expect(ticked).toEqual({
			rest: [{ value: true, at, by: 'm1' }],
			allFood: [{ value: false, at, by: 'm1' }]
		});
		const back = changedDay(
			ticked,
			shownDay(ticked),
			{ entries: [], allFood: false },
			{ ...wanted, ms: wanted.ms + 1 }
		);
		expect(shownDay(back)).toEqual({ entries: [], allFood: false });
		expect(Object.keys(shownDay(back))).toEqual(['entries', 'allFood']);
	});

	it('loses the one entry that is taken out, and its rest when one is put in', () => {
		const day: TrainingDay = { entries: [entry('e1'), entry('e2')], rest: true };
		expect(withoutEntry(day, 'e1').entries).toEqual([entry('e2')]);
		expect(withEntry(day, entry('e2', { minutes: 5 }))).toEqual({
			entries: [entry('e1'), entry('e2', { minutes: 5 })]
		});
	});
});
