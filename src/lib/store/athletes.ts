import { athletePrefix } from './athlete-list';
import { read, storable, StoreError, valueAt, write, type UseStore } from './database';
import { machineIn } from './machine';
import { besideOf, changedBy, joinedCard, keptCard, laterChange, type Beside } from '$lib/record/card-merge';
import { cardOf } from '$lib/record/card-registers';
import { signedAnew, type Registers } from '$lib/record/registers';
import { isSame } from '$lib/record/same';
import { athleteSchema, type Athlete } from '$lib/record/athlete';
import type { Checked } from '$lib/record/check';

export const cardStatePrefix = 'card-state/';

/**
 * Keeps what was changed of an athlete by hand. Where it is told which card was changed, what changed since alone is
 * said anew, so that what another window or laptop said meanwhile stays; else the whole card is. Answers what lies here
 * now; undefined, and nothing is written, where the changed card is gone. Rejects with `StoreError`.
 *
 * @param nowMs when that was, where the card itself does not say so
 */
export function saveAthlete(
	store: UseStore,
	athlete: Athlete,
	before?: Athlete,
	nowMs = Date.now()
): Promise<Athlete | undefined> {
	return write(store, (objects) => changeCard(objects, athlete, before, nowMs));
}

/** The same in a transaction that runs. */
export async function changeCard(
	objects: IDBObjectStore,
	changed: Athlete,
	before: Athlete | undefined,
	nowMs: number
): Promise<Athlete | undefined> {
	const own = storable(athleteSchema, changed, 'The athlete');
	const kept = await cardIn(objects, own.id);
	if (before && !kept) return undefined;
	const base = before ?? kept?.card;
	const isNoted = own.changedAt !== undefined && own.changedAt !== base?.changedAt;
	const ms = isNoted ? Date.parse(own.changedAt!) : nowMs;
	const state = changedBy(kept?.state ?? {}, base, own, { ms, by: await machineIn(objects) });
	// A card that says nothing new was not changed: such a moment would travel in no file, and laptops would not agree.
	const isNews = !kept || !isSame(state, kept.state);
	const changedAt = isNews ? laterChange(kept?.card.changedAt, own.changedAt) : kept.card.changedAt;
	return putCard(objects, own.id, state, cardOf(own.id, state, changedAt));
}

/**
 * Takes over what is said of a card elsewhere (by a backup, by another laptop). What was said here later stays. Answers
 * whether the card looks different for it. Rejects with `StoreError` where no sound card comes of it.
 */
export async function joinCard(
	objects: IDBObjectStore,
	id: string,
	said: (state: Registers) => Registers,
	changedAt: string | undefined
): Promise<boolean> {
	const kept = await cardIn(objects, id);
	const mine = kept && signedAnew(kept.state, said(kept.state), await machineIn(objects));
	const { state, card, isNews } = joinedCard(id, mine && { ...kept, state: mine }, said, changedAt);
	putCard(objects, id, state, card);
	return isNews;
}

/** What was said of a card elsewhere and is not shown. Rejects with `StoreError`. */
export async function besideIn(store: UseStore, id: string): Promise<Beside[]> {
	const kept = await read(store, (objects) => cardIn(objects, id));
	return kept ? besideOf(kept.state) : [];
}

/** Puts an invented card, or one that was put away, where there is none. */
export function addCard(objects: IDBObjectStore, card: Athlete): void {
	objects.put(storable(athleteSchema, card, 'The athlete'), athletePrefix + card.id);
}

/** Removes a card, and for good what was said of it. */
export function removeCard(objects: IDBObjectStore, id: string): void {
	objects.delete(athletePrefix + id);
	objects.delete(cardStatePrefix + id);
}

/** A card with all that is known of who said what of it; undefined where there is no sound one. */
export async function cardIn(
	objects: IDBObjectStore,
	id: string
): Promise<{ card: Athlete; state: Registers } | undefined> {
	const [stored, said] = await Promise.all([
		valueAt(objects, athletePrefix + id),
		valueAt(objects, cardStatePrefix + id)
	]);
	return keptCard(stored, said);
}

function putCard(
	objects: IDBObjectStore,
	id: string,
	state: Registers,
	{ value: card, problem }: Checked<Athlete>
): Athlete {
	if (!card) throw new StoreError('failed', `The athlete was not stored. ${problem}`);
	objects.put(card, athletePrefix + id);
	objects.put(state, cardStatePrefix + id);
	return card;
}
