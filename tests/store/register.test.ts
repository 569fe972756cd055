import { afterEach, describe, expect, it, vi } from 'vitest';
import { rated, type RegisterRow } from '$lib/review/register';
import type { UseStore } from '$lib/store/database';
import { saveDay } from '$lib/store/days';
import { addEdit } from '$lib/store/edits';
import { openJournal } from '$lib/store/journal';
import { Register } from '$lib/store/register.svelte';
import { makeDay, makeEntry } from '../review/training-days';
import { makeRecord } from './builders';
import { watchedStore } from './faulty-store';
import { freshStore, plant } from './fresh-store';

const nerea = { id: 'ath-1', name: 'Nerea' };
const bo = { id: 'ath-2', name: 'Bo' };
const today = '2026-03-03';
const owing = { changed: makeDay(makeEntry({ effort: undefined })) };
const making = { usual: { activity: 'pads', minutes: 60 }, id: 'new', madeAt: '2026-03-03T19:00:00.000Z' };
const owedIn = ({ owed }: Register) => owed.map(({ name, date }) => `${name} ${date}`);
const rowOf = (register: Register, id: string) =>
	register.rows.find(({ athleteId }) => athleteId === id) as RegisterRow;

let stop: (() => void) | undefined;
afterEach(() => stop?.());

async function openRegister(store: UseStore, date = today) {
	const register = new Register(store);
	stop = register.follow(today);
	await register.open([nerea, bo], date);
	await register.lookForOwed(today);
	return register;
}

describe('the register of a day', () => {
	it('asks for the efforts of the last weeks, and for no older ones', async () => {
		const store = freshStore();
		for (const date of ['2026-02-03', '2026-02-04', today]) await saveDay(store, nerea.id, date, owing);
		// 28 days with the third of March: from the fourth of February on.
		expect(owedIn(await openRegister(store))).toEqual(['Nerea 2026-02-04', 'Nerea 2026-03-03']);
	});
	it('asks no longer for an effort that is entered, without a look at the other days', async () => {
		const { store, requests } = watchedStore(freshStore());
		for (const { id } of [nerea, bo]) await saveDay(store, id, today, owing);
		const register = await openRegister(store);
		requests.length = 0;
		await register.change(nerea.id, rated(rowOf(register, nerea.id), 7, making)!);
		expect(owedIn(register)).toEqual(['Bo 2026-03-03']);
		expect(requests.filter(({ key }) => key.startsWith('day/')).map(({ key }) => key)).toEqual([
			'day/ath-1/2026-03-03',
			'day/ath-1/2026-03-03'
		]);
	});
	it('asks no longer for an effort that is entered while it looks for those that are owed', async () => {
		const kept = freshStore();
		let letGo = () => {};
		const isLetGo = new Promise<void>((resolve) => (letGo = resolve));
		let isHeld = false;
		// Whatever is read is as old as the moment at which it is let go.
		const store: UseStore = async (mode, work) => {
			const answer = await kept(mode, work);
			if (isHeld && mode === 'readonly') await isLetGo;
			return answer;
		};
		for (const { id } of [nerea, bo]) await saveDay(store, id, today, owing);
		const register = await openRegister(store);
		isHeld = true;
		const looking = register.lookForOwed(today);
		await register.change(nerea.id, rated(rowOf(register, nerea.id), 7, making)!);
		letGo();
		await looking;
		expect(owedIn(register)).toEqual(['Bo 2026-03-03']);
	});
	it('asks no longer for the effort of a session with a strap that is entered', async () => {
		const store = freshStore();
		await openJournal(store, 's').finish([makeRecord({ id: 'a', startedAt: '2026-03-03T12:00:00.000Z' })]);
		const register = await openRegister(store);
		expect(owedIn(register)).toEqual(['Nerea 2026-03-03']);
		await register.change(nerea.id, rated(rowOf(register, nerea.id), 7, making)!);
		expect(owedIn(register)).toEqual([]);
	});
	it('asks for no effort of a day from long ago that was entered now', async () => {
		const store = freshStore();
		await saveDay(store, nerea.id, today, owing);
		const register = await openRegister(store, '2026-01-05');
		const { day } = rowOf(register, nerea.id);
		await register.change(nerea.id, {
			kind: 'day',
			changed: { ...day, entries: [makeEntry({ effort: undefined })] }
		});
		expect(owedIn(register)).toEqual(['Nerea 2026-03-03']);
	});
	it('hears of what another window enters', async () => {
		const store = freshStore();
		const register = await openRegister(store);
		await saveDay(store, bo.id, today, owing);
		await vi.waitFor(() => expect(owedIn(register)).toEqual(['Bo 2026-03-03']));
		await openJournal(store, 's').finish([makeRecord({ id: 'a', startedAt: '2026-03-03T12:00:00.000Z' })]);
		await vi.waitFor(() => expect(register.trainings.map(({ id }) => id)).toEqual(['a']));
		await addEdit(store, 'a', { at: '2026-03-03T20:00:00.000Z', effort: 3 });
		await vi.waitFor(() => expect(register.trainings[0]?.effort).toBe(3));
	});
	it('looks for nothing once it is left', async () => {
		const { store, requests } = watchedStore(freshStore());
		const register = await openRegister(store);
		stop?.();
		requests.length = 0;
		await register.lookForOwed(today);
		expect(requests).toEqual([]);
	});
	it('names a day that cannot be read, and shows the others', async () => {
		const store = freshStore();
		await saveDay(store, bo.id, today, owing);
		await plant(store, `day/${nerea.id}/${today}`, 'pads');
		const register = await openRegister(store);
		expect(register.unreadable.map(({ key }) => key)).toEqual([`day/${nerea.id}/${today}`]);
		expect(rowOf(register, bo.id).isKnown).toBe(true);
		expect(rowOf(register, nerea.id).isKnown).toBe(false);
	});
});
