import { standInOf, takeAthlete } from './athlete-steps';
import { takeDay } from './day-steps';
import type { Entries } from './form';
import { nameOf, settingNames } from './names';
import { takePlan } from './plan-steps';
import { takeSession } from './session-steps';
import { same, type Note, type Outcome, type RestoreGroup, type Steps } from './steps';
import { cardStatePrefix } from '../athletes';
import { dayPrefix } from '../days';
import { inBreaths, type Breathe } from '../breathe';
import { entriesUnder, valueAt } from '../database';
import { groupById } from '../many-entries';
import { stampOf, stampPrefix } from '../entered';
import { planPrefix } from '../plan-list';
import { planStatePrefix } from '../plans';
import { checkedEntry, isKnown } from '$lib/record/kinds';

const fuelPrefixes = ['weight/', 'intake/', 'goal/'];

/** What is to be done with each entry of a backup, given all that lies here and bears on it. */
export async function stepsFor(
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
	group('Plans', (note, key) => takePlan(key, entries, here, steps, note), planPrefix, planStatePrefix);
	group('Settings', (note, key) => merge(note, key, settingNames[key] ?? key), 'setting/');
	group('Training days', (note, key) => takeDay(key, entries, here, steps, note), dayPrefix);
	group('Weight and food', (note, key) => merge(note, key, fuelName(key, entries, here)), ...fuelPrefixes);
	for (const key of keys)
		if (!isKnown(key) && !key.startsWith('setting/') && !here.has(key))
			steps.puts.push([key, entries.get(key)]);
	return steps;
}

/** All of this store that bears on the entries of a backup. */
export async function readHere(entries: Entries, objects: IDBObjectStore): Promise<Entries> {
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
		if (kind === 'plan' || kind === 'plan-state')
			for (const prefix of [planPrefix, planStatePrefix, stampPrefix + planPrefix]) keys.add(prefix + id);
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

function fuelName(key: string, entries: Entries, here: Entries): string {
	const [kind, id, day] = key.split('/');
	const what = kind === 'goal' ? 'goal' : `${kind === 'weight' ? 'weight' : 'food'} on ${day}`;
	return `${nameOf(id, entries, here)}: ${what}`;
}
