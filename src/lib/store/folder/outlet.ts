import { checkedEntry } from '$lib/record/kinds';
import { keptDeletedMs } from '$lib/record/limits';
import { keysUnder, read, valueAt, write } from '../database';
import { fateKind } from './fates';
import type { StampedName } from './names';
import { after } from '$lib/record/stamp';
import { fateAt, fateKey, fatesOf, neverDeleted } from './known-fate';
import { cardFileAt, cardFileText, cardKey, reasonsText } from './state';
import type { Fate } from './known-fate';
import type { CardFile } from './state';
import { cardIn } from '../athletes';
import { bareCard } from '$lib/record/blow-changes';
import { strapRegister } from '$lib/record/card-registers';
import { withoutReasons } from '$lib/record/lock-registers';
import { latestAt, type Registers } from '$lib/record/registers';
import { machineIn } from '../machine';
import { sessionText, stampedText } from './text';
import { mayTravel, type Travel } from './travel';
import { readOwner } from '../owner';
import { readSession } from '../sessions';
import type { FolderVisit } from './visit';
import type { RecordEdit } from '$lib/record/edit';
import type { Athlete } from '$lib/record/athlete';
import { grouped } from '$lib/record/grouped';

/** Writes the sessions that are not in the folder, of athletes who agreed. */
export async function giveSessions(visit: FolderVisit, travel: Travel): Promise<void> {
	if (travel.consents.size === 0) return;
	const [heads, tombstones] = await read(visit.store, (objects) =>
		Promise.all([keysUnder(objects, 'head/'), keysUnder(objects, 'tombstone/')])
	);
	const deleted = new Set(tombstones.map((key) => key.split('/')[1]));
	const missing = heads
		.map((key) => ({ kind: 'session', id: key.slice('head/'.length) }) as const)
		.filter((name) => !deleted.has(name.id) && !visit.isThere(name));
	for (const [done, name] of missing.entries()) {
		const { id } = name;
		visit.step('writing', done, missing.length);
		const owner = await readOwner(visit.store, id);
		// One that was left unfinished before its athlete's card was merged is handed over at the next visit.
		if (owner && travel.resolve(owner.ownerId) !== owner.ownerId) visit.memory.isSettled = false;
		if (!owner || !mayTravel(owner, travel)) continue;
		visit.pause();
		const session = await readSession(visit.store, id);
		if (session.status !== 'found') continue;
		await visit.write(name, await sessionText(session.record));
		await write(visit.store, async (objects) => {
			const known = await fateAt(objects, 'session', id);
			if (!known) objects.put(neverDeleted, fateKey('session', id));
		});
		visit.report.wentOut.sessions++;
	}
}

/** Writes the corrections that are not in the folder, to sessions of athletes who agreed. */
export async function giveEdits(visit: FolderVisit, travel: Travel): Promise<void> {
	if (travel.consents.size === 0) return;
	const [keys, me] = await write(visit.store, (objects) =>
		Promise.all([keysUnder(objects, 'edit/'), machineIn(objects)])
	);
	const there = grouped(visit.of('edit'), ({ id, at }) => `edit/${id}/${at}`);
	for (const key of keys) {
		const [, id = '', at = ''] = key.split('/');
		const name: StampedName = { kind: 'edit', id, at, by: me };
		const known = there.get(key) ?? [];
		const isTold = known.some((one) => visit.isSeen(one)) && !visit.memory.unsentEdits.has(key);
		if (isTold || visit.isThere(name)) continue;
		const owner = await readOwner(visit.store, id);
		if (!owner || owner.isDeleted || !mayTravel(owner, travel)) continue;
		const edit = await read(
			visit.store,
			async (objects) => checkedEntry(key, await valueAt(objects, key)).value
		);
		if (edit === undefined || !isOpen(edit as RecordEdit, travel)) continue;
		await visit.write(name, await stampedText(name, { edit: edit as RecordEdit }));
		visit.memory.unsentEdits.delete(key);
		visit.report.wentOut.corrections++;
	}
}

/** A correction that names somebody who did not agree stays here. */
const isOpen = ({ athlete }: RecordEdit, travel: Travel) =>
	!athlete || travel.consents.has(travel.resolve(athlete.id));

/**
 * Writes the cards of athletes who agreed, and takes away older ones of this machine. Why somebody is held back after a blow
 * to the head goes along by a consent of its own alone.
 */
export async function giveCards(visit: FolderVisit, travel: Travel): Promise<void> {
	for (const id of travel.consents) {
		const found = await write(visit.store, (objects) => currentCard(objects, id));
		if (!found) continue;
		const { at, by } = found.file;
		const name: StampedName = { kind: 'athlete', id, at, by };
		if (!visit.isThere(name)) {
			const part =
				found.file.reasons === undefined
					? { athlete: bareCard(found.card), said: withoutReasons(found.state) }
					: { athlete: found.card, said: found.state };
			await visit.write(name, await stampedText(name, part));
			visit.report.wentOut.cards++;
		}
		for (const older of visit.of('athlete'))
			if (older.id === id && older.by === found.me && older.at < at) await visit.remove(older);
	}
}

/** The card as it lies here, and the file that it belongs in: what is said anew since the last visit belongs in one of this machine. */
async function currentCard(
	objects: IDBObjectStore,
	id: string
): Promise<{ card: Athlete; state: Registers; file: CardFile; me: string } | undefined> {
	const [kept, file] = [await cardIn(objects, id), await noteCard(objects, id)];
	return kept && file && { ...kept, file, me: await machineIn(objects) };
}

/** Notes every card that was changed here since it was last looked at. Rejects with `StoreError`. */
export function noteOwnCards({ store }: FolderVisit): Promise<void> {
	return write(store, async (objects) => {
		for (const key of await keysUnder(objects, 'shared/card/'))
			await noteCard(objects, key.split('/')[2] ?? '');
	});
}

async function noteCard(objects: IDBObjectStore, id: string): Promise<CardFile | undefined> {
	const [known, kept] = await Promise.all([cardFileAt(objects, id), cardIn(objects, id)]);
	if (!kept || kept.card.example) return undefined;
	const text = cardFileText(kept.card, kept.state);
	const reasons = await reasonsText(objects, id, kept.state);
	if (known?.text === text && known.reasons === reasons) return known;
	// Not the moment of writing: a page that knows no stamps goes by this one, and may hold something later of its own.
	const saidAt = latestAt(kept.state, (register) => register !== strapRegister) || new Date(0).toISOString();
	const file: CardFile = {
		...(known?.unstamped && { unstamped: known.unstamped }),
		at: after(known?.laterAt ?? known?.at ?? '', Date.parse(saidAt), [text, reasons]),
		by: await machineIn(objects),
		text,
		...(reasons !== undefined && { reasons })
	};
	objects.put(file, cardKey(id));
	if (!(await fateAt(objects, 'athlete', id))) objects.put(neverDeleted, fateKey('athlete', id));
	return file;
}

/** Writes what was deleted and brought back, and clears away the files of what is gone for good. */
export async function giveFates(visit: FolderVisit, travel: Travel): Promise<void> {
	for (const kind of ['session', 'athlete'] as const) {
		const fates = await read(visit.store, (objects) =>
			fatesOf(objects, kind, kind === 'session' ? visit.sessionsTold : undefined)
		);
		// Where the other card may not be named, the one that went stays for the others, and its files with it.
		const isHidden = ({ into }: Fate) => into !== undefined && !travel.consents.has(travel.resolve(into));
		for (const [id, fate] of fates) {
			if (fate.at === '') continue;
			const name: StampedName = { kind: fateKind(kind, fate), id, at: fate.at, by: fate.by };
			if (isHidden(fate) || visit.isThere(name)) continue;
			await visit.write(name, await stampedText(name, fate.into === undefined ? {} : { into: fate.into }));
			visit.report.wentOut[fate.deleted ? 'deletions' : 'restored']++;
		}
		const isFinal = (id: string) => {
			const fate = fates.get(id);
			return fate?.deleted === true && !isHidden(fate) && Date.parse(fate.at) <= visit.nowMs - keptDeletedMs;
		};
		const files = kind === 'session' ? visit.of('session', 'edit') : visit.of('athlete', 'days');
		for (const name of files) if (isFinal(name.id)) await visit.remove(name);
	}
}
