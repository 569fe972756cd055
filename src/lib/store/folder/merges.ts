import { storable, keysUnder, valueAt, write, type UseStore } from '../database';
import { after } from '$lib/record/stamp';
import { fateAt, fateKey, fatesOf } from './known-fate';
import { machineIn } from '../machine';
import { resolver } from './travel';
import { moveDays } from '../days';
import { moveFuel } from '../fuel';
import { ownerIn } from '../owner';
import { changeCard } from '../athletes';
import { putAway, takeOut } from '../gone-athletes';
import { addEditIn, editOf } from '../edits';
import { listed, type ListedSession } from '../sessions';
import { athleteSchema, type Athlete } from '$lib/record/athlete';
import type { ToldLater } from '$lib/record/edit';

/**
 * Makes two cards of one person one: `kept` takes the place of the card with its id and the other one goes, its
 * sessions by small later corrections (the records stay as they are), its weight and food as far as those days
 * are unknown to the kept one. One transaction. Answers how many sessions changed hands. Rejects with
 * `StoreError`.
 */
export async function mergeAthletes(
	store: UseStore,
	kept: Athlete,
	goneId: string,
	nowMs = Date.now()
): Promise<number> {
	const card = storable(athleteSchema, kept, 'The card');
	return write(
		store,
		async (objects) => {
			await changeCard(objects, card, undefined, nowMs);
			// Kept for a day, for the case that another laptop merges the same two the other way round.
			await putAway(objects, goneId, nowMs);
			const known = await fateAt(objects, 'athlete', goneId);
			const fate = {
				deleted: true,
				held: false,
				at: after(known?.at ?? '', nowMs, card.id),
				by: await machineIn(objects),
				into: card.id
			};
			objects.put(fate, fateKey('athlete', goneId));
			await moveFuel(objects, goneId, card.id);
			await moveDays(objects, goneId, card.id);
			return handOver(objects, (id) => (id === goneId ? card : undefined), nowMs);
		},
		'strict'
	);
}

/**
 * Sessions of a card that was merged elsewhere, or that came in after the merge, follow it, and so does what was
 * logged for it here. A card that every
 * merge leads away from and back to (two laptops merged crosswise) stays. Rejects with `StoreError`.
 */
export function followMerges(store: UseStore, nowMs: number): Promise<number> {
	return write(store, async (objects) => {
		const fates = await fatesOf(objects, 'athlete');
		const resolve = resolver(fates);
		const merged = [...fates].filter(([, { deleted, into }]) => deleted && into !== undefined);
		if (merged.length === 0) return 0;
		const cards = new Map<string, Athlete>();
		for (const [id, fate] of merged) {
			const target = resolve(id);
			if (target === id) {
				const held = (await takeOut(objects, id)) !== undefined;
				const word = { deleted: false, at: after(fate.at, nowMs, false), by: await machineIn(objects), held };
				objects.put(word, fateKey('athlete', id));
				continue;
			}
			const card = await valueAt(objects, `athlete/${target}`);
			if (card === undefined) continue;
			cards.set(id, card as Athlete);
			await moveFuel(objects, id, target);
			await moveDays(objects, id, target);
		}
		return handOver(objects, (id) => cards.get(id), nowMs);
	});
}

async function handOver(
	objects: IDBObjectStore,
	cardFor: (ownerId: string) => Athlete | undefined,
	nowMs: number
): Promise<number> {
	let count = 0;
	for (const key of await keysUnder(objects, 'head/')) {
		const sessionId = key.slice('head/'.length);
		const owner = await ownerIn(objects, sessionId);
		const card = owner && cardFor(owner.ownerId);
		if (!card) continue;
		const [stored, corrections] = await Promise.all([valueAt(objects, key), editOf(objects, sessionId)]);
		const athlete = { id: card.id, name: card.name };
		// Of a session that was put right before, the numbers are told already.
		const told =
			owner.ownerId === owner.recordedId && numbersIn(listed(sessionId, stored, corrections).session);
		const at = new Date(nowMs).toISOString();
		await addEditIn(objects, sessionId, { at, athlete, ...(told && { told }) });
		count++;
	}
	return count;
}

/** It is one person, so the numbers noted on the day stay theirs, though the record has them under the id that goes. */
function numbersIn(session: ListedSession | undefined): ToldLater | undefined {
	if (!session) return undefined;
	const { athleteId: _id, name: _name, ...noted } = session.head.athlete;
	return { ...session.edit.told, ...noted };
}
