import type { IDBFactory } from 'fake-indexeddb';
import { diskOf, pageOver } from './faulty-requests';
import { textOf } from './full-store';
import type { World } from './worlds';
import { FakeFolder } from '../store/fake-folder';
import { noonMs } from '../store/laptop';
import type { UseStore } from '$lib/store/database';
import { filesIn } from '$lib/store/folder/door';
import { visitFolder } from '$lib/store/folder/sync';

/** A page that has been opened: one press after another meets the same objects. */
export interface Page {
	store: UseStore;
	folder: FakeFolder;
}

export async function openPage({ disk, folder }: World): Promise<Page> {
	const copy = new FakeFolder(folder.name);
	for (const [name, { text }] of folder.files) copy.put(name, text);
	return { store: await pageOver(disk), folder: copy };
}

export const worldOf = ({ folder }: Page): World => ({
	disk: diskOf(globalThis.indexedDB as IDBFactory),
	folder
});

/** Caches mend themselves, and are looked at apart. */
export const entriesOf = ({ disk }: World) =>
	[...(disk.get('corner-minute') ?? [])].filter(([key]) => !key.startsWith('here-'));

const filesOf = ({ folder }: World) =>
	[...folder.files].map(([name, { text }]): [string, unknown] => [name, text]);

/** What is held against each other: texts by keys and names. */
export type View = Map<string, string>;

/** All that lies there. */
export const wholeView = (world: World): View => texts([...entriesOf(world), ...filesOf(world)]);

/**
 * The same, but of a folder what a laptop that comes new to it takes from it: which files say so may differ, since
 * one that was interrupted says some of it twice.
 */
export async function sharedView(world: World): Promise<View> {
	const entries = entriesOf(world);
	const page = await openPage({ disk: new Map(), folder: world.folder });
	await visitFolder(page.store, filesIn(page.folder.handle), noonMs + 1e8);
	const taken = entriesOf(worldOf(page)).map(([key, value]): [string, unknown] => [
		`newcomer: ${key}`,
		value
	]);
	return texts([...entries, ...taken].filter(([key]) => !/\bfolder\//.test(key)));
}

const texts = (all: readonly [string, unknown][]): View =>
	new Map(all.map(([key, value]) => [key, textOf(value)]));

export const differing = (one: View, other: View): string[] =>
	[...new Set([...one.keys(), ...other.keys()])].filter((key) => one.get(key) !== other.get(key));

/** What lay there before and does after a whole run, and does not now. */
export function lost(now: World, before: World, after: World): string[] {
	const keys = (world: World) =>
		[...entriesOf(world), ...filesOf(world)].flatMap(([key]) =>
			/^folder\/(memory|report)\b/.test(key) ? [] : key
		);
	const [here, stays] = [new Set(keys(now)), new Set(keys(after))];
	return keys(before).flatMap((key) => (stays.has(key) && !here.has(key) ? `${key} is lost` : []));
}
