import { describe, expect, it } from 'vitest';
import {
	changedRegisters,
	joined,
	latest,
	latestAt,
	signedAnew,
	type Registers,
	type Said
} from '$lib/record/registers';

const at = '2026-03-02T18:00:00.000Z';
const said = (value: unknown, by = 'one'): Said => ({ value, at, by });

describe('a register named as something that every object has by itself', () => {
	const names = Object.getOwnPropertyNames(Object.prototype).filter((name) => name !== '__proto__');
	const state: Registers = Object.fromEntries(names.map((name) => [name, [said(name)]]));

	it('is joined, and said anew, as any other', () => {
		expect(joined({}, state)).toEqual(joined(state, {}));
		expect(joined({}, state)).toEqual(state);
		const next = changedRegisters({}, new Map(), new Map(names.map((name) => [name, 1])), {
			ms: Date.parse(at),
			by: 'one'
		});
		expect(names.map((name) => next[name]?.map(({ value }) => value))).toEqual(names.map(() => [1]));
	});

	it('and a machine of such a name knows of nothing that it was not told', () => {
		for (const by of names) {
			const words = [said('here', by), { ...said('there', 'two'), knew: { three: at } }];
			expect(latest(words)).toHaveLength(2);
		}
	});
});

describe('what stands beside the latest word', () => {
	const words = (count: number) =>
		Array.from({ length: count }, (_, i) => said(i, `m${String(i).padStart(2, '0')}`));

	it('is eight words in all, the latest by its moment and then by who said it', () => {
		expect(latest(words(12)).map(({ value }) => value)).toEqual([11, 10, 9, 8, 7, 6, 5, 4]);
		const sooner = { ...said('sooner', 'zz'), at: '2026-03-02T17:59:59.999Z' };
		expect(latest([sooner, said('later', 'aa')]).map(({ value }) => value)).toEqual(['later', 'sooner']);
	});

	it('is one word of a machine at one moment, whichever text comes first', () => {
		const [a, b] = [said('a'), said('b')];
		expect(latest([a, b])).toEqual(latest([b, a]));
		expect(latest([a, b])).toHaveLength(1);
	});

	it('is as late as its latest word, among those that count', () => {
		const later = '2026-03-04T18:00:00.000Z';
		const state: Registers = { notes: [said('x')], strapName: [{ ...said('y'), at: later }] };
		expect(latestAt(state)).toBe(later);
		expect(latestAt(state, (register) => register !== 'strapName')).toBe(at);
		expect(latestAt({})).toBe('');
	});
});

describe('a change by hand', () => {
	const wanted = { ms: Date.parse(at) + 1000, by: 'two' };
	const change = (state: Registers, was: unknown, is: unknown, register = 'notes') =>
		changedRegisters(
			state,
			new Map(was === undefined ? [] : [[register, was]]),
			new Map(is === undefined ? [] : [[register, is]]),
			wanted
		)[register]!;

	it('knows the word that it was made to, and keeps what stood there, eight at the most', () => {
		const nine = Array.from({ length: 8 }, (_, i) => `before ${i}`);
		const [word, ...beside] = change({ notes: [{ ...said('old'), was: nine }] }, 'old', 'new');
		expect(beside).toEqual([]);
		expect(word).toEqual({
			...{ value: 'new', at: '2026-03-02T18:00:01.000Z', by: 'two', knew: { one: at } },
			was: ['old', ...nine.slice(0, 7)]
		});
		expect(change({ 'weights/x': [said('old')] }, 'old', 'new', 'weights/x')[0]).not.toHaveProperty('was');
		expect(change({}, undefined, 'new')[0]).not.toHaveProperty('was');
	});

	it('takes a value away by a word without one, and says nothing where nothing changes', () => {
		const [word] = change({ notes: [said('old')] }, 'old', undefined);
		expect(word).not.toHaveProperty('value');
		const state: Registers = { notes: [said('old')] };
		const same = new Map([['notes', 'old']]);
		expect(changedRegisters(state, same, same, wanted)).toEqual(state);
	});

	it('stands beside a word that it did not see', () => {
		expect(change({ notes: [said('theirs')] }, 'seen before', 'mine').map(({ value }) => value)).toEqual([
			'mine',
			'theirs'
		]);
	});
});

describe('what a browser says again whose disk was set back', () => {
	const later = '2026-03-05T18:00:00.000Z';
	const known: Registers = { notes: [said('mine', 'me'), said('theirs', 'they')] };

	it('is signed anew where others know a later word of its own', () => {
		for (const coming of [
			{ notes: [{ ...said('mine later', 'me'), at: later }] },
			{ notes: [{ ...said('theirs', 'they'), at: later, knew: { me: later } }] }
		]) {
			const [mine, theirs] = signedAnew(known, coming, 'me').notes!;
			expect(mine!.by).toMatch(/^me.+/);
			expect(mine).toMatchObject({ value: 'mine', at });
			expect(theirs).toEqual(said('theirs', 'they'));
		}
	});

	it('stays as it is where they know nothing later', () => {
		for (const coming of [{}, known, { notes: [{ ...said('x', 'they'), at: later }] }])
			expect(signedAnew(known, coming, 'me')).toEqual(known);
	});
});
