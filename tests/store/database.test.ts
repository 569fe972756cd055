import { afterEach, describe, expect, it, vi } from 'vitest';
import { abortingStore, watchedStore } from './faulty-store';
import { allKeys, freshStore, plant } from './fresh-store';
import {
	entriesIn,
	entriesUnder,
	keysUnder,
	openDatabase,
	read,
	StoreError,
	valueAt,
	write
} from '$lib/store/database';

afterEach(() => vi.unstubAllGlobals());

describe('the database', () => {
	it('reads nothing but what begins with the prefix, in order', async () => {
		const store = freshStore();
		for (const key of ['edit/a/2', 'edit/ab/1', 'edit/a/1', 'edit/a', 'head/a', 'head/zz'])
			await plant(store, key, key);
		expect(await read(store, (objects) => entriesUnder(objects, 'edit/a/'))).toEqual([
			['edit/a/1', 'edit/a/1'],
			['edit/a/2', 'edit/a/2']
		]);
		expect(await read(store, (objects) => keysUnder(objects, 'head/'))).toEqual(['head/a', 'head/zz']);
	});

	it('reads keys and values together, also in a browser that answers them one by one', async () => {
		const store = freshStore();
		for (const key of ['day/a/1', 'day/a/2', 'day/a/3', 'day/b/1']) await plant(store, key, { of: key });
		const range = IDBKeyRange.bound('day/a/2', 'day/a/3');
		const inRange = (from: typeof store) => read(from, (objects) => entriesIn(objects, range));
		const { store: today, requests } = watchedStore(store);
		const together = await inRange(today);
		expect(requests.map(({ method }) => method)).toEqual(['getAllRecords']);
		const earlier: typeof store = (mode, work) =>
			store(mode, (objects) => work(Object.assign(objects, { getAllRecords: undefined })));
		expect(await inRange(earlier)).toEqual(together);
		expect(together).toEqual([
			['day/a/2', { of: 'day/a/2' }],
			['day/a/3', { of: 'day/a/3' }]
		]);
	});

	it('writes all of a transaction or nothing, also where the code in it throws half way', async () => {
		const store = freshStore();
		const half = write(store, (objects) => {
			objects.put(1, 'first');
			throw new TypeError('half way');
		});
		await expect(half).rejects.toMatchObject({ name: 'StoreError', code: 'failed' });
		expect(await allKeys(store)).toEqual([]);
	});

	it('writes nothing of a transaction of which one request fails', async () => {
		const store = freshStore();
		await plant(store, 'taken', 1);
		const half = write(store, (objects) => {
			objects.put(1, 'first');
			objects.add(2, 'taken');
		});
		await expect(half).rejects.toMatchObject({ code: 'failed', cause: { name: 'ConstraintError' } });
		expect(await allKeys(store)).toEqual(['taken']);
	});

	it('may wait for what it reads before it writes', async () => {
		const store = freshStore();
		await plant(store, 'count', 1);
		const answer = await write(store, async (objects) => {
			const next = Number(await valueAt(objects, 'count')) + 1;
			objects.put(next, 'count');
			return next;
		});
		expect(answer).toBe(2);
		expect(await read(store, (objects) => valueAt(objects, 'count'))).toBe(2);
	});

	it('says "full" where the transaction ends for want of space', async () => {
		const store = freshStore();
		const full = abortingStore(store, 'QuotaExceededError');
		await expect(write(full, (objects) => void objects.put(1, 'a'))).rejects.toMatchObject({ code: 'full' });
		await expect(
			write(full, async (objects) => objects.put(await valueAt(objects, 'a'), 'b'))
		).rejects.toMatchObject({ code: 'full' });
		expect(await allKeys(store)).toEqual([]);
	});

	it('says "blocked" where the browser has no storage, or forbids it', async () => {
		vi.stubGlobal('indexedDB', undefined);
		await expect(read(openDatabase(), (objects) => valueAt(objects, 'a'))).rejects.toMatchObject({
			name: 'StoreError',
			code: 'blocked'
		});
		vi.stubGlobal('indexedDB', {
			open() {
				throw new DOMException('denied', 'SecurityError');
			}
		});
		await expect(write(openDatabase(), (objects) => void objects.put(1, 'a'))).rejects.toMatchObject({
			code: 'blocked',
			cause: { name: 'SecurityError' }
		});
	});

	it('opens nothing before it is used', () => {
		vi.stubGlobal('indexedDB', undefined);
		expect(openDatabase()).toBeTypeOf('function');
	});

	it('says "failed" for everything else, and keeps the cause', async () => {
		const cause = new DOMException('odd', 'UnknownError');
		const broken = () => Promise.reject(cause);
		freshStore();
		const error: unknown = await read(broken, () => 1).catch((thrown: unknown) => thrown);
		expect(error).toBeInstanceOf(StoreError);
		expect(error).toMatchObject({ code: 'failed', cause });
	});
});
