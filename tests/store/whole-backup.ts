import { expect } from 'vitest';
import { noonMs } from './laptop';
import { makeBackup, mostOfPart, type MadeBackup } from '$lib/store/backup/backup';
import { parseBackup } from '$lib/store/backup/form';
import { planRestore, restore } from '$lib/store/backup/restore';
import type { Size } from '$lib/store/backup/units';
import type { UseStore } from '$lib/store/database';
import type { Tell } from '$lib/store/breathe';

/** A backup in one file, as the screen makes it of what tests keep. */
export const wholeBackup = (store: UseStore, now: Date, tell?: Tell) =>
	makeBackup(store, now, mostOfPart, tell);

/** A backup in as many parts as it takes. */
export async function partsOf(store: UseStore, most: Size): Promise<MadeBackup[]> {
	const parts = [await makeBackup(store, new Date(noonMs), most)];
	for (let next = parts[0]!.next; next; next = parts.at(-1)!.next) parts.push(await next(() => undefined));
	return parts;
}

/** Restores a file. Answers whether there was nothing to do. */
export async function bring(store: UseStore, text: string): Promise<boolean> {
	const plan = await planRestore(store, text);
	if (plan.status !== 'ready') throw new Error(plan.problem);
	expect(await restore(store, plan, undefined, noonMs)).toEqual({ status: 'restored' });
	return plan.isIdle;
}

/** A backup as it is read. */
export async function parsed(text: string) {
	const { value, problem } = await parseBackup(text, () => Promise.resolve());
	if (problem !== undefined) throw new Error(problem);
	return value;
}
