import { keysUnder, read, valueAt, write } from '../database';
import { checkedEntry, memberOf } from '$lib/record/kinds';
import { sessionJson } from '../export';
import { noteShared, takeFate } from './fates';
import type { StampedName } from './names';
import { isLater } from '$lib/record/stamp';
import { fateAt, fateKey, fatesOf, neverDeleted } from './known-fate';
import { cardFileAt, cardFileText, cardKey } from './state';
import type { Fate, SharedKind } from './known-fate';
import { joinCard } from '../athletes';
import { putEdit } from '../edits';
import { putSession } from '../sessions';
import { folded } from '$lib/record/put-right';
import { isSame } from '$lib/record/same';
import { saidWithoutStamps } from '$lib/record/card-merge';
import type { SharedCard } from './text';
import { machineIn } from '../machine';
import type { FolderVisit } from './visit';
import type { RecordBody, SessionRecord } from '$lib/record/body';
import type { RecordEdit } from '$lib/record/edit';
import type { RecordHead } from '$lib/record/head';
import { grouped } from '$lib/record/grouped';

const editKey = ({ id, at }: StampedName) => `edit/${id}/${at}`;

/** Takes in who and what was deleted or brought back elsewhere. */
export async function takeFates(visit: FolderVisit): Promise<void> {
	const names = visit.of('session-deleted', 'session-restored', 'athlete-deleted', 'athlete-restored');
	for (const name of names) {
		if (visit.isSeen(name)) continue;
		const content = await visit.open(name);
		if (!content) continue;
		const deleted = name.kind.endsWith('-deleted');
		const kind = name.kind.startsWith('session') ? 'session' : 'athlete';
		const { at, by } = name;
		const into = 'into' in content ? content.into : undefined;
		const word = { deleted, at, by, ...(into !== undefined && { into }) };
		const isTouched = await takeFate(visit.store, kind, name.id, word, visit.nowMs);
		visit.took(name);
		if (kind === 'session') visit.sessionsTold.add(name.id);
		if (name.kind === 'athlete-restored') visit.readDaysAgain(name.id);
		if (isTouched) visit.note(deleted ? 'deletions' : 'restored');
	}
}

/** Takes in the latest state of each card. */
export async function takeCards(visit: FolderVisit): Promise<void> {
	const [fates, keys] = await read(visit.store, (objects) =>
		Promise.all([fatesOf(objects, 'athlete'), keysUnder(objects, 'athlete/')])
	);
	const here = new Set(keys.map((key) => key.slice('athlete/'.length)));
	for (const name of visit.of('athlete')) {
		if (await isDeleted(visit, 'athlete', name.id, fates.get(name.id))) continue;
		if (visit.isSeen(name) && here.has(name.id)) continue;
		const content = await visit.open(name);
		if (content?.kind !== 'athlete') continue;
		if (await takeCard(visit, name, content)) visit.note('cards');
		visit.took(name);
	}
}

/** Whether something that lies in the folder was deleted, here too before the folder knew of it: that is told from now on. */
async function isDeleted(
	visit: FolderVisit,
	kind: SharedKind,
	id: string,
	fate: Fate | undefined
): Promise<boolean> {
	if (fate?.deleted && fate.at === '') return isSharedGone(visit, kind, id);
	return fate?.deleted === true;
}

async function isSharedGone(
	{ store, nowMs, sessionsTold }: FolderVisit,
	kind: SharedKind,
	id: string
): Promise<boolean> {
	if (kind === 'session') sessionsTold.add(id);
	return noteShared(store, kind, id, nowMs);
}

function takeCard(
	visit: FolderVisit,
	{ id, at, by }: StampedName,
	{ athlete, said }: SharedCard
): Promise<boolean> {
	return write(visit.store, async (objects) => {
		const [known, fate] = await Promise.all([cardFileAt(objects, id), fateAt(objects, 'athlete', id)]);
		if (fate?.deleted) return false;
		const earlier = known?.unstamped?.[by];
		const isNews = await joinCard(
			objects,
			id,
			(state) => said ?? saidWithoutStamps(state, athlete, { at, by }, earlier),
			athlete.changedAt
		);
		const unstamped = {
			...known?.unstamped,
			...(!said && (earlier?.at ?? '') < at && { [by]: { at, card: athlete } })
		};
		const text = cardFileText(athlete, said);
		// Where each of two laptops tells the reason by a file of its own, neither has to answer the other for ever.
		const isAnswered = known?.reasons !== undefined && known.text === text;
		const isLatest = !known || isLater({ at, by }, { at: known.laterAt ?? known.at, by: known.by });
		const file = !isLatest ? known : isAnswered ? { ...known, laterAt: at } : { at, by, text };
		objects.put({ ...file, unstamped }, cardKey(id));
		objects.put({ ...(fate ?? neverDeleted), held: true }, fateKey('athlete', id));
		return isNews;
	});
}

/** Takes in the sessions that are not here and not deleted. */
export async function takeSessions(visit: FolderVisit): Promise<void> {
	// Their keys alone: of very many sessions few are news.
	const [fates, heads] = await read(visit.store, (objects) =>
		Promise.all([keysUnder(objects, fateKey('session', '')), keysUnder(objects, 'head/')])
	);
	const [known, here] = [new Set(fates), new Set(heads)];
	const fateNow = (id: string) => read(visit.store, (objects) => fateAt(objects, 'session', id));
	for (const name of visit.of('session')) {
		const isHere = here.has(`head/${name.id}`);
		const isKnown = known.has(fateKey('session', name.id));
		if (isHere && !isKnown && (await isSharedGone(visit, 'session', name.id))) continue;
		if (isHere && visit.isSeen(name)) continue;
		if (isKnown && (await isDeleted(visit, 'session', name.id, await fateNow(name.id)))) continue;
		const content = await visit.open(name);
		if (content?.kind !== 'session') continue;
		if (isHere && !(await isSameHere(visit, content.record)))
			await visit.refuse(
				name,
				'It holds another session than the one that lies here under the same id. Both stay as they are.'
			);
		else {
			if (!isHere && (await takeSession(visit, content.record))) visit.note('sessions');
			visit.took(name);
		}
	}
}

function takeSession({ store }: FolderVisit, { head, body }: SessionRecord): Promise<boolean> {
	return write(store, async (objects) => {
		const [fate, present] = await Promise.all([
			fateAt(objects, 'session', head.id),
			valueAt(objects, `head/${head.id}`)
		]);
		if (fate?.deleted || present !== undefined) return false;
		putSession(objects, { head, body });
		objects.put({ ...(fate ?? neverDeleted), held: true }, fateKey('session', head.id));
		return true;
	});
}

/** Records never change, so two of one id are the same, or somebody tampered with one: then both stay. */
async function isSameHere({ store }: FolderVisit, record: SessionRecord): Promise<boolean> {
	const keys = [`head/${record.head.id}`, `body/${record.head.id}`];
	const [head, body] = await read(store, (objects) =>
		Promise.all(keys.map(async (key) => checkedEntry(key, await valueAt(objects, key)).value))
	);
	if (head === undefined || body === undefined) return true;
	const here = { head: memberOf(head, 'head') as RecordHead, body: body as RecordBody };
	return sessionJson(here) === sessionJson(record);
}

/** Takes in the corrections to sessions that lie here. */
export async function takeEdits(visit: FolderVisit): Promise<void> {
	const [heads, edits] = await read(visit.store, (objects) =>
		Promise.all([keysUnder(objects, 'head/'), keysUnder(objects, 'edit/')])
	);
	const sessions = new Set(heads.map((key) => key.slice('head/'.length)));
	const here = new Set(edits);
	const ofSessions = visit.of('edit').filter(({ id }) => sessions.has(id));
	for (const [key, names] of grouped(ofSessions, editKey)) {
		const isNew = names.some((name) => !visit.isSeen(name));
		if (here.has(key) && !isNew) continue;
		const hasOwn = here.has(key) && !names.some((name) => visit.isSeen(name));
		const sound: StampedName[] = [];
		const parts: { by: string; edit: RecordEdit }[] = [];
		for (const name of names) {
			const content = await visit.open(name);
			if (content?.kind !== 'edit') continue;
			sound.push(name);
			parts.push({ by: name.by, edit: content.edit });
		}
		if (hasOwn && parts.length > 0) visit.memory.unsentEdits.add(key);
		if (parts.length > 0 && (await takeEdit(visit, key, parts, hasOwn))) visit.note('corrections');
		visit.took(...sound);
	}
}

function takeEdit(
	{ store }: FolderVisit,
	key: string,
	parts: { by: string; edit: RecordEdit }[],
	hasOwn: boolean
): Promise<boolean> {
	return write(store, async (objects) => {
		const [, id = '', at = ''] = key.split('/');
		if ((await valueAt(objects, `head/${id}`)) === undefined) return false;
		const { value: known } = checkedEntry(key, await valueAt(objects, key));
		const own = hasOwn ? known : undefined;
		if (own) parts.push({ by: await machineIn(objects), edit: own as RecordEdit });
		// Two machines may correct in the same millisecond: the one with the later id holds, field by field.
		parts.sort((one, other) => (one.by < other.by ? -1 : 1));
		const edit = { at, ...folded(parts.map((part) => part.edit)) };
		// As where the file of another machine stays cut short.
		if (isSame(known, edit)) return false;
		await putEdit(objects, id, edit);
		return true;
	});
}
