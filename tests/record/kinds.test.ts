import { describe, expect, it } from 'vitest';
import { makeRecord } from '../store/builders';
import { checkedEntry, isKnown, isKnownToAll, memberOf, staysHere } from '$lib/record/kinds';

const nerea = { id: 'ath-1', name: 'Nerea' };
const at = '2026-03-03T19:00:00.000Z';

describe('an entry as it travels', () => {
	it('is taken in under its own key and under no other', () => {
		const [card, edit] = [nerea, { at, note: 'left hook' }];
		expect(checkedEntry('athlete/ath-1', card)).toEqual({ value: card });
		expect(checkedEntry(`edit/rec-1/${at}`, edit)).toEqual({ value: edit });
		expect(checkedEntry('weight/ath-1/2026-03-03', 62.5)).toEqual({ value: 62.5 });
		const gone = { athlete: nerea, sessionIds: [], deletedAtMs: 1 };
		expect(checkedEntry('gone-athlete/ath-1', gone)).toEqual({ value: gone });
		for (const [key, value] of [
			['athlete/ath-2', card],
			['athlete/ath-1/more', card],
			['gone-athlete/ath-2', gone],
			['edit/rec-1/2026-03-03T19:00:00.001Z', edit],
			['edit/rec-1', edit],
			['weight/ath-1', 62.5]
		] as const)
			expect(checkedEntry(key, value).problem).toBe('It lies under a key that is not its own.');
	});

	it('is refused with what is wrong: its kind, its setting, its key, what it holds', () => {
		expect(checkedEntry('song/one', {}).problem).toBe('This page knows no entries of this kind.');
		expect(checkedEntry('toString/one', {}).problem).toBe('This page knows no entries of this kind.');
		expect(checkedEntry('setting/colour', {}).problem).toBe('This page has no such setting.');
		expect(checkedEntry('athlete', nerea).problem).toBe('Its key has no proper id.');
		expect(checkedEntry('weight/ath-1/2026-03-03', 'much').problem).toBeDefined();
		expect(checkedEntry('head/rec-1', 7).problem).toBeDefined();
		expect(checkedEntry('head/rec-1', null).problem).toBeDefined();
	});
});

describe('a session as it travels', () => {
	const { head, body } = makeRecord({ id: 'rec-1' });

	it('has its head without the cached summary, under its own id, and its readings', () => {
		expect(checkedEntry('head/rec-1', { head, summary: { drop60Count: 1 } })).toEqual({ value: { head } });
		expect(checkedEntry('head/rec-2', { head }).problem).toBe('It lies under a key that is not its own.');
		expect(checkedEntry('body/rec-1', body)).toEqual({ value: body });
	});

	it('is refused where a newer page wrote it, or any of it is damaged', () => {
		expect(checkedEntry('head/rec-1', { head: { ...head, version: 99 } }).problem).toMatch(/newer version/);
		expect(checkedEntry('head/rec-1', { head: { ...head, endedMs: 'late' } }).problem).toMatch(/endedMs/);
		expect(checkedEntry('body/rec-1', { ...body, bpm: 'fast' }).problem).toMatch(/bpm/);
		expect(checkedEntry('body/rec-1', { ...body, version: 99 }).problem).toBeDefined();
	});
});

describe('kinds of entries', () => {
	it('are known or not, and those that came later are not known to every version', () => {
		for (const key of ['athlete/a', 'setting/units', 'plan/p'])
			expect([isKnown(key), isKnownToAll(key)]).toEqual([true, true]);
		for (const key of ['day/a/2026-03-03', 'card-state/a', 'plan-state/p', 'stamp/plan/p'])
			expect([isKnown(key), isKnownToAll(key)]).toEqual([true, false]);
		for (const key of ['song/one', 'setting/colour', 'setting'])
			expect([isKnown(key), isKnownToAll(key)]).toEqual([false, false]);
	});

	it('that belong to one browser stay there', () => {
		for (const key of [
			'journal/rec-1/0',
			'folder/state',
			'shared/x',
			'here-training-1',
			'setting/lastBackupAt'
		])
			expect(staysHere(key)).toBe(true);
		for (const key of ['head/rec-1', 'athlete/a', 'setting/units', 'there-1', ''])
			expect(staysHere(key)).toBe(false);
	});
});

it('reads a member of what may be anything', () => {
	expect(memberOf({ head: 7 }, 'head')).toBe(7);
	for (const value of [undefined, null, 7, 'head', {}, { body: 7 }])
		expect(memberOf(value, 'head')).toBeUndefined();
	expect(memberOf({}, 'toString')).toBeUndefined();
});
