import { beforeAll, describe, expect, it } from 'vitest';
import { makeRecord } from './builders';
import { contents, freshStore } from './fresh-store';
import { saveAthlete } from '$lib/store/athletes';
import { wholeBackup } from './whole-backup';
import { Cancelled } from '$lib/store/breathe';
import { openJournal } from '$lib/store/journal';
import { planRestore, restore } from '$lib/store/backup/restore';
import type { UseStore } from '$lib/store/database';

const sessions = 120;
const madeAt = new Date('2026-03-05T12:00:00.000Z');
let text: string;
let shares: number[];

async function gym(): Promise<UseStore> {
	const store = freshStore();
	const records = Array.from({ length: sessions }, (_, i) => makeRecord({ id: `rec-${i}` }));
	await openJournal(store, 'ses-1').finish(records);
	return store;
}

beforeAll(async () => {
	shares = [];
	text = (await wholeBackup(await gym(), madeAt, (share) => shares.push(share))).text;
});

const isRising = (told: readonly number[]) => told.every((share, i) => i === 0 || share >= told[i - 1]!);

/** Calls a work off at its breath of this number. */
function callOffAt(breath: number) {
	let breaths = 0;
	return () => {
		if (++breaths === breath) throw new Cancelled();
	};
}

describe('how far a backup is', () => {
	it('is told while it is made, and making it can be called off', async () => {
		// Fifty sessions between two breaths.
		expect(shares).toHaveLength(Math.ceil(sessions / 50));
		expect(isRising(shares)).toBe(true);
		expect(shares.at(-1)).toBe(1);
		await expect(wholeBackup(await gym(), madeAt, callOffAt(2))).rejects.toThrow(Cancelled);
	});

	it('is told while it is read and while it is restored', async () => {
		const store = freshStore();
		const told: number[] = [];
		const plan = await planRestore(store, text, (share) => told.push(share));
		expect(isRising(told)).toBe(true);
		expect(told.at(-1)).toBe(1);
		expect(told.filter((share) => share < 0.5).length).toBeGreaterThan(1);
		if (plan.status !== 'ready') throw new Error(plan.problem);
		told.length = 0;
		expect(await restore(store, plan, (share) => told.push(share))).toEqual({ status: 'restored' });
		expect(isRising(told)).toBe(true);
		expect(told.at(-1)).toBe(1);
	});
});

describe('a restore that is called off', () => {
	it('leaves everything as it was, wherever it had come to, and can be done afterwards', async () => {
		const store = freshStore();
		await saveAthlete(store, { id: 'ath-1', name: 'Before' });
		const before = await contents(store);
		const plan = await planRestore(store, text);
		if (plan.status !== 'ready') throw new Error(plan.problem);
		const breaths = Math.ceil(sessions / 50) + Math.ceil((2 * sessions) / 50);
		for (let breath = 1; breath <= breaths; breath++) {
			await expect(restore(store, plan, callOffAt(breath))).rejects.toThrow(Cancelled);
			expect(await contents(store)).toEqual(before);
		}
		expect(await restore(store, plan, callOffAt(breaths + 1))).toEqual({ status: 'restored' });
		expect([...(await contents(store))].length).toBe([...before].length + 2 * sessions);
	});
});
