import { describe, expect, it } from 'vitest';
import { changedRegisters, joined, latest, type Registers, type Said } from '$lib/record/registers';

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
