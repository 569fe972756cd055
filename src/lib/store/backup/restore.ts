import { parseBackup, type Backup, type Entries } from './form';
import { enterAsOf, stampOf, stampPrefix } from '../entered';
import { cardStatePrefix } from '../athletes';
import { dayPrefix, putDay } from '../days';
import { putEdit } from '../sessions';
import { joinedCard, keptCard, looksAlike, saidWithoutStamps, type CardState } from '$lib/record/card-merge';
import { checkedDay, type StoredDay } from '$lib/record/day';
import { joined, textOf } from '$lib/record/registers';
import { checkedEntry, isKnown, memberOf } from '$lib/record/kinds';
import { breathing, breathingIn, inBreaths, type Breathe, type Tell } from '../breathe';
import { entriesUnder, groupById, read, valueAt, write, type UseStore } from '../database';
import { jsonText } from '../plain-json';
import { recordVersion } from '$lib/record/check';
import type { RecordEdit } from '$lib/record/edit';
import type { RecordHead } from '$lib/record/head';
import { sessionName, settingNames } from './names';
import { backupOfSession, isSessionFile, onlySession, withoutNotesHere } from './session-file';
import type { Athlete } from '$lib/record/athlete';

/** Something a restore touches or leaves, by the name people know it by. */
export interface RestoreItem {
	name: string;
	/** What becomes of it and why, where that is not plain. */
	why?: string;
}

export interface RestoreGroup {
	kind: 'Sessions' | 'Athletes' | 'Plans' | 'Settings' | 'Training days' | 'Weight and food';
	added: RestoreItem[];
	changed: RestoreItem[];
	skipped: RestoreItem[];
}

/** What restoring a backup would do to this browser; nothing has been written yet. */
export interface RestorePlan {
	status: 'ready';
	/** ISO 8601 in UTC. */
	madeAt: string;
	/** Those the backup has something of. */
	groups: RestoreGroup[];
	/** Where the file is that of one session: whose, and how many readings. */
	session?: { head: RecordHead; readingCount: number };
	/** Nothing would be added or changed. */
	isIdle: boolean;
	backup: Backup;
}

export type RestoreAnswer = RestorePlan | { status: 'refused'; problem: string };

/**
 * Reads a backup, or the file of one session, and says what restoring it would do, entry by entry, merging by id: what
 * is not here is added; of cards, plans, settings, weights and food what was entered later holds, here or in the backup;
 * sessions never change, so one that is here stays, unless it is damaged here (then the backup's takes its
 * place) or was deleted (then it comes back). Writes nothing. What is wrong with the file is an answer;
 * `tell` may call it off; rejects with `StoreError` else.
 */
export async function planRestore(
	store: UseStore,
	text: string,
	tell: Tell = () => undefined
): Promise<RestoreAnswer> {
	const isOne = isSessionFile(text);
	const { value: file, problem } = isOne
		? backupOfSession(text)
		: await parseBackup(
				text,
				breathing((share) => tell(share / 2))
			);
	if (problem !== undefined) return { status: 'refused', problem };
	const backup = isOne ? await withoutNotesHere(store, file) : file;
	const here = await read(store, (objects) => readHere(backup.entries, objects));
	const breathe = breathing((share) => tell((1 + share) / 2));
	const plan = planOf(backup, await stepsFor(backup.entries, here, breathe));
	return isOne ? { ...plan, session: onlySession(backup.entries) } : plan;
}

/**
 * Carries out a plan that was shown, in one transaction: all of it or nothing. Where something here has changed
 * since the plan was made, nothing is written and the answer is refused. What comes in as deleted is deleted as of
 * `nowMs` (epoch milliseconds), so that an older backup leaves its day, too. `tell` may call it off. Rejects with
 * `StoreError`, and then, as where it was called off, nothing was written.
 */
export function restore(
	store: UseStore,
	plan: RestorePlan,
	tell: Tell = () => undefined,
	nowMs = Date.now()
): Promise<{ status: 'restored' } | { status: 'refused'; problem: string }> {
	return write(store, async (objects) => {
		const here = await readHere(plan.backup.entries, objects);
		const breathe = breathingIn(objects, tell);
		const steps = await stepsFor(plan.backup.entries, here, (share) => breathe(share / 2), nowMs);
		if (JSON.stringify(planOf(plan.backup, steps).groups) !== JSON.stringify(plan.groups))
			return {
				status: 'refused',
				problem:
					'Something in this browser has changed since. Choose the file again to see what would happen.'
			};
		for await (const some of inBreaths(steps.puts, breathe, 0.5))
			for (const [key, value] of some)
				if (key.startsWith('edit/')) await putEdit(objects, key.split('/')[1]!, value as RecordEdit);
				else if (key.startsWith(dayPrefix)) putDay(objects, key, value as StoredDay);
				else enterAsOf(objects, key, value, stampOf(plan.backup.entries.get(stampPrefix + key)));
		for (const key of steps.deletes) objects.delete(key);
		return { status: 'restored' };
	});
}

function planOf(backup: Backup, { groups }: Steps): RestorePlan {
	const touched = groups.filter(
		({ added, changed, skipped }) => added.length + changed.length + skipped.length
	);
	const isIdle = touched.every(({ added, changed }) => added.length + changed.length === 0);
	return { status: 'ready', madeAt: backup.madeAt, groups: touched, isIdle, backup };
}

interface Steps {
	groups: RestoreGroup[];
	puts: [string, unknown][];
	deletes: string[];
	/** When what comes in as deleted counts as deleted. */
	nowMs: number;
}

type Outcome = 'added' | 'changed' | 'skipped';

async function stepsFor(
	entries: Entries,
	here: Entries,
	breathe: Breathe,
	nowMs = Date.now()
): Promise<Steps> {
	const editsOf = groupById([...entries].filter(([key]) => key.startsWith('edit/')));
	const steps: Steps = { groups: [], puts: [], deletes: [], nowMs };
	const keys = [...entries.keys()];
	const noteIn = (kind: RestoreGroup['kind']): Note => {
		const made: RestoreGroup = { kind, added: [], changed: [], skipped: [] };
		steps.groups.push(made);
		return (outcome, name, why) => made[outcome].push(why === undefined ? { name } : { name, why });
	};
	const group = (
		kind: RestoreGroup['kind'],
		take: (note: Note, key: string) => void,
		...prefixes: string[]
	) => {
		const note = noteIn(kind);
		for (const key of keys) if (prefixes.some((prefix) => key.startsWith(prefix))) take(note, key);
		return note;
	};
	const merge = (note: Note, key: string, name: string): void => {
		const [outcome, why] = laterOf(key, entries, here);
		if (outcome !== 'skipped') steps.puts.push([key, entries.get(key)]);
		note(outcome, name, why);
	};

	const noteSession = noteIn('Sessions');
	const heads = keys.filter((key) => key.startsWith('head/'));
	for await (const some of inBreaths(heads, breathe))
		for (const key of some) {
			const id = key.slice('head/'.length);
			takeSession(id, editsOf.get(id) ?? [], entries, here, steps, noteSession);
		}
	const noteAthlete = group(
		'Athletes',
		(note, key) => takeAthlete(key, entries, here, steps, note),
		'athlete/',
		'gone-athlete/'
	);
	const standIn = standInOf(entries, here);
	if (standIn) {
		steps.deletes.push(`athlete/${standIn.id}`);
		noteAthlete('changed', standIn.name, 'the empty entry made at the first visit goes');
	}
	group('Plans', (note, key) => merge(note, key, (entries.get(key) as { name: string }).name), 'plan/');
	group('Settings', (note, key) => merge(note, key, settingNames[key] ?? key), 'setting/');
	group('Training days', (note, key) => takeDay(key, entries, here, steps, note), dayPrefix);
	group('Weight and food', (note, key) => merge(note, key, fuelName(key, entries, here)), ...fuelPrefixes);
	for (const key of keys)
		if (!isKnown(key) && !key.startsWith('setting/') && !here.has(key))
			steps.puts.push([key, entries.get(key)]);
	return steps;
}

type Note = (outcome: Outcome, name: string, why?: string) => void;

const fuelPrefixes = ['weight/', 'intake/', 'goal/'];

/** All of this store that bears on the entries of a backup. */
async function readHere(entries: Entries, objects: IDBObjectStore): Promise<Entries> {
	const keys = new Set(entries.keys());
	for (const key of entries.keys()) {
		const [kind, id] = key.split('/');
		if (kind === 'head') keys.add(`tombstone/${id}`);
		if (kind === 'athlete') {
			keys.add(`gone-athlete/${id}`);
			keys.add(cardStatePrefix + id);
		}
		if (!kind || !['head', 'body', 'edit', 'tombstone', 'athlete'].includes(kind))
			keys.add(stampPrefix + key);
		if (kind === 'gone-athlete') keys.add(`athlete/${id}`).add(cardStatePrefix + id);
	}
	const [heads, athletes, ...fuel] = await Promise.all(
		['head/', 'athlete/', dayPrefix, ...fuelPrefixes].map((prefix) => entriesUnder(objects, prefix))
	);
	const here: Entries = new Map([...(heads ?? []), ...(athletes ?? []), ...fuel.flat()]);
	const wanted = [...keys].filter((key) => !here.has(key));
	const values = await Promise.all(wanted.map((key) => valueAt(objects, key)));
	values.forEach((value, i) => value !== undefined && here.set(wanted[i]!, value));
	return here;
}

/** What lies here in the form a backup has; undefined where it is damaged. */
const soundHere = (key: string, here: Entries) => checkedEntry(key, here.get(key)).value;

// Both sides went through the same schema, so equal values have their members in the same order.
const same = (one: unknown, other: unknown) => jsonText(one) === jsonText(other);

/** What is to be done with an entry that was entered, and why that is not what the backup says. */
function laterOf(key: string, entries: Entries, here: Entries): [Outcome, string?] {
	const [coming, present] = [entries.get(key), here.get(key)];
	if (!isKnown(key)) return [present === undefined ? 'added' : 'skipped'];
	const [comingAt, hereAt] = [entries, here].map((all) => stampOf(all.get(stampPrefix + key)));
	if (present === undefined) {
		const isTakenAway = fuelPrefixes.some((prefix) => key.startsWith(prefix)) && hereAt !== undefined;
		return isTakenAway && hereAt >= (comingAt ?? '') ? ['skipped', 'it was taken out here later'] : ['added'];
	}
	const { value, problem } = checkedEntry(key, present);
	if (problem !== undefined) return ['changed'];
	if (same(value, coming)) return ['skipped'];
	// Without a moment on either side nobody knows which is later, and nothing that was entered here goes for a guess.
	return (comingAt ?? '') > (hereAt ?? '')
		? ['changed', 'entered later than what is here']
		: ['skipped', 'what is here may be later, and stays'];
}

/** An edit as both sides have it: of one moment there is one, and members that are here stay. */
function editOf(key: string, entries: Entries, here: Entries): unknown {
	const present = soundHere(key, here) as object | undefined;
	return { ...(entries.get(key) as object), ...present };
}

function takeSession(
	id: string,
	edits: readonly [string, unknown][],
	entries: Entries,
	here: Entries,
	steps: Steps,
	note: Note
): void {
	const parts = [`head/${id}`, `body/${id}`];
	const ownEdits = edits.map(([key]) => key);
	const tombstone = `tombstone/${id}`;
	const name = sessionName((entries.get(`head/${id}`) as { head: RecordHead }).head, edits);
	const put = (keys: readonly string[]) =>
		steps.puts.push(...keys.map((key) => [key, entries.get(key)] as [string, unknown]));

	if (parts.every((key) => !here.has(key))) {
		put([...parts, ...ownEdits]);
		if (entries.has(tombstone)) steps.puts.push([tombstone, { deletedAtMs: steps.nowMs }]);
		else if (here.has(tombstone)) steps.deletes.push(tombstone);
		return note(
			'added',
			name,
			entries.has(tombstone) ? 'deleted; it can be brought back for a day' : undefined
		);
	}
	if (parts.some((key) => isNewer(key, here)))
		return note('skipped', name, 'the one here was written by a newer version of this page');
	const damaged = parts.filter((key) => soundHere(key, here) === undefined);
	if (parts.some((key) => !damaged.includes(key) && !same(soundHere(key, here), entries.get(key))))
		return note('skipped', name, 'another session with the same id is here; it stays as it is');

	const changes: string[] = [];
	if (damaged.length > 0) {
		put(damaged);
		changes.push('it is damaged here and will be made whole');
	}
	const newEdits = ownEdits.filter(
		(key) => textOf(editOf(key, entries, here)) !== textOf(soundHere(key, here))
	);
	if (newEdits.length > 0) {
		steps.puts.push(...newEdits.map((key) => [key, editOf(key, entries, here)] as [string, unknown]));
		changes.push('title, notes or corrections from the backup');
	}
	if (here.has(tombstone) && !entries.has(tombstone)) {
		steps.deletes.push(tombstone);
		changes.push('it was deleted here and comes back');
	}
	if (changes.length > 0) note('changed', name, changes.join('; '));
	else note('skipped', name, 'already here');
}

function isNewer(key: string, here: Entries): boolean {
	const stored = here.get(key);
	const version = memberOf(key.startsWith('head/') ? memberOf(stored, 'head') : stored, 'version');
	return typeof version === 'number' && version > recordVersion;
}

function takeAthlete(key: string, entries: Entries, here: Entries, steps: Steps, note: Note): void {
	const [kind, id = ''] = key.split('/');
	if (kind === 'athlete') {
		const { name } = entries.get(key) as Athlete;
		const [outcome, why] = takeCard(id, entries, here, steps);
		if (!here.has(`gone-athlete/${id}`)) return note(outcome, name, why);
		steps.deletes.push(`gone-athlete/${id}`);
		return note(outcome === 'skipped' ? 'changed' : outcome, name, 'deleted here; comes back');
	}
	const gone = entries.get(key) as { athlete: Athlete };
	const { name } = gone.athlete;
	if (here.has(`athlete/${id}`) || entries.has(`athlete/${id}`))
		return note('skipped', name, 'deleted in the backup; here nobody is deleted by a restore');
	const present = soundHere(key, here) as object | undefined;
	const from = (deleted: object | undefined, deletedAtMs: number) => ({ ...deleted, deletedAtMs });
	if (same(from(present, 0), from(gone, 0))) return note('skipped', name, 'already here');
	const said = entries.get(cardStatePrefix + id);
	steps.puts.push([key, from(gone, steps.nowMs)]);
	if (said !== undefined && !here.has(cardStatePrefix + id)) steps.puts.push([cardStatePrefix + id, said]);
	note(here.has(key) ? 'changed' : 'added', name, 'deleted; can be brought back for a day');
}

function takeCard(id: string, entries: Entries, here: Entries, steps: Steps): [Outcome, string?] {
	const coming = entries.get(`athlete/${id}`) as Athlete;
	const said = entries.get(cardStatePrefix + id) as CardState | undefined;
	const kept = keptCard(here.get(`athlete/${id}`), here.get(cardStatePrefix + id));
	const stamp = { at: coming.changedAt ?? '', by: '' };
	const {
		state,
		card: { value: card },
		isNews
	} = joinedCard(id, kept, (known) => said ?? saidWithoutStamps(known, coming, stamp), coming.changedAt);
	const put = (puts: Record<string, unknown>) => steps.puts.push(...Object.entries(puts));
	// What is said of it comes to no card: the card itself is sound.
	if (!kept || !card) {
		put({ [`athlete/${id}`]: coming, ...(said && { [cardStatePrefix + id]: said }) });
		return [here.has(`athlete/${id}`) ? 'changed' : 'added'];
	}
	if (!isNews)
		return [
			'skipped',
			looksAlike(coming, card) ? 'already here' : 'what is here was entered later, and stays'
		];
	put({ [`athlete/${id}`]: card, [cardStatePrefix + id]: state });
	return ['changed', 'what was entered here later stays'];
}

/** A day is joined entry by entry, as two laptops join one. */
function takeDay(key: string, entries: Entries, here: Entries, steps: Steps, note: Note): void {
	const [, id, date] = key.split('/');
	const name = `${nameOf(id, entries, here)}: ${date}`;
	const present = here.has(key) ? checkedDay(here.get(key)) : undefined;
	if (present?.problem !== undefined)
		return note('skipped', name, 'the one here cannot be read, and stays as it is');
	const both = joined(present?.value ?? {}, entries.get(key) as StoredDay);
	if (present && textOf(both) === textOf(present.value)) return note('skipped', name, 'already here');
	steps.puts.push([key, both]);
	note(present ? 'changed' : 'added', name, present && 'what was entered here stays');
}

/** The athlete "Me" that an empty store was given, still untouched, where the backup brings somebody. */
function standInOf(entries: Entries, here: Entries): Athlete | undefined {
	const keys = [...here.keys()];
	const athletes = keys.filter((key) => key.startsWith('athlete/'));
	if (athletes.length !== 1 || entries.has(athletes[0]!)) return undefined;
	if (![...entries.keys()].some((key) => key.startsWith('athlete/'))) return undefined;
	const athlete = soundHere(athletes[0]!, here) as Athlete | undefined;
	if (!athlete || athlete.name !== 'Me' || Object.keys(athlete).length !== 2) return undefined;
	const hasSession = keys.some(
		(key) =>
			key.startsWith('head/') &&
			memberOf(memberOf(memberOf(here.get(key), 'head'), 'athlete'), 'athleteId') === athlete.id
	);
	const hasFuel = keys.some(
		(key) => key.split('/')[1] === athlete.id && !/^(athlete|card-state)\//.test(key)
	);
	return hasSession || hasFuel ? undefined : athlete;
}

function fuelName(key: string, entries: Entries, here: Entries): string {
	const [kind, id, day] = key.split('/');
	const what = kind === 'goal' ? 'goal' : `${kind === 'weight' ? 'weight' : 'food'} on ${day}`;
	return `${nameOf(id, entries, here)}: ${what}`;
}

function nameOf(id: string | undefined, entries: Entries, here: Entries): string {
	const athlete = (entries.get(`athlete/${id}`) ?? soundHere(`athlete/${id}`, here)) as Athlete | undefined;
	return athlete?.name ?? 'An athlete who is not here';
}
