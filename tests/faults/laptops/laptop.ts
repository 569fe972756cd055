import { IDBFactory } from 'fake-indexeddb';
import { Replica } from './file-sharer';
import * as former from '../../fixtures/page-2.js';
import { contents, freshStore, plant } from '../../store/fresh-store';
import type { Athlete } from '$lib/record/athlete';
import { bareCard } from '$lib/record/blow-changes';
import { shownDay, checkedDay } from '$lib/record/day';
import { memberOf } from '$lib/record/kinds';
import { textOf } from '$lib/record/same';
import { sessionJson } from '$lib/store/export';
import { entriesUnder, keysUnder, read, under, write, type UseStore } from '$lib/store/database';
import { filesIn, type FolderFiles } from '$lib/store/folder/door';
import { machineThatKnows } from '$lib/store/folder/places';
import { consents } from '$lib/store/folder/state';
import { visitFolder } from '$lib/store/folder/sync';
import type { FolderReport } from '$lib/store/folder/visit-report';
import { withdraw } from '$lib/store/folder/withdraw';
import { listPlans } from '$lib/store/plan-list';
import { listSessions, readSession } from '$lib/store/sessions';

/** A laptop as it was on a day: what the browser kept, and perhaps what lay in its folder. */
export interface Image {
	step: number;
	entries: [string, unknown][];
	files: Map<string, string>;
}

/** The browser ends in the middle of a visit. */
class Killed extends Error {}

export class Laptop {
	store!: UseStore;
	readonly replica = new Replica();
	image: Image | undefined;
	backups: string[] = [];
	/** Its page is the one before the folder had a folder a year. */
	isFormer = false;

	constructor(
		readonly number: number,
		/** By how much its clock is wrong, in milliseconds. */
		public clockMs: number
	) {}

	/** The folder that it was shown. */
	get handle(): FileSystemDirectoryHandle {
		return this.replica.folder.handle;
	}

	/** A browser that keeps nothing yet, or what it kept on an earlier day. */
	async begin(machine: string, entries: readonly [string, unknown][] = []): Promise<void> {
		globalThis.indexedDB = new IDBFactory();
		this.store = freshStore();
		await plant(this.store, 'folder/machine', machine);
		for (const [key, value] of entries) await plant(this.store, key, value);
	}

	async imageAt(step: number): Promise<Image> {
		return { step, entries: await contents(this.store), files: this.replica.copy() };
	}

	visit(nowMs: number, everyYear = false): Promise<FolderReport> {
		if (this.isFormer) return former.visitFolder(this.store, former.filesIn(this.handle), nowMs);
		return visitFolder(this.store, filesIn(this.handle), nowMs, undefined, undefined, everyYear);
	}

	withdraw(athleteId: string, nowMs: number): Promise<void> {
		return this.isFormer
			? former.withdraw(this.store, former.filesIn(this.handle), athleteId, nowMs)
			: withdraw(this.store, filesIn(this.handle), athleteId, nowMs);
	}

	/** A visit whose browser is killed at one of its writes: what it remembers of the folder is that of before. */
	async visitKilled(nowMs: number, atWrite: number): Promise<void> {
		const remembered = await read(this.store, (objects) => entriesUnder(objects, 'folder/memory'));
		const page = this.isFormer ? former : { filesIn, visitFolder };
		const files = page.filesIn(this.handle);
		let writes = 0;
		const dying: FolderFiles = {
			...files,
			write: async (name, text) => {
				if (machineThatKnows(name) || writes++ < atWrite) return files.write(name, text);
				await files.write(name, '');
				throw new Killed();
			}
		};
		await page.visitFolder(this.store, dying, nowMs).catch((error: unknown) => {
			if (!(error instanceof Killed)) throw error;
		});
		if (writes <= atWrite) return;
		await write(this.store, (objects) => void objects.delete(under('folder/memory')));
		for (const [key, value] of remembered) await plant(this.store, key, value);
	}

	async athletes(): Promise<Athlete[]> {
		const stored = await read(this.store, (objects) => entriesUnder(objects, 'athlete/'));
		return stored.map(([, card]) => card as Athlete);
	}

	async sessionIds(): Promise<string[]> {
		return (await listSessions(this.store)).sessions.map(({ head }) => head.id).sort();
	}

	agreed(): Promise<Set<string>> {
		return read(this.store, consents);
	}

	keys(prefix: string): Promise<string[]> {
		return read(this.store, (objects) => keysUnder(objects, prefix));
	}

	/** All days of everybody by key, as they are shown. */
	async days() {
		const entries = await read(this.store, (objects) => entriesUnder(objects, 'day/'));
		return entries.map(([key, stored]) => [key, shownDay(checkedDay(stored).value ?? {})] as const);
	}

	/** Everything that travels, each by what it is, as this laptop shows it. */
	async shown(isOf: (athleteId: string) => boolean = () => true): Promise<Map<string, string>> {
		const shown = new Map<string, string>();
		for (const id of await this.sessionIds()) {
			const found = await readSession(this.store, id);
			if (found.status !== 'found') throw new Error(`Session ${id}: ${found.problem}`);
			const { head } = found.record;
			const owner = found.edit.athlete?.id ?? head.athlete.athleteId;
			if (!head.practice && isOf(head.athlete.athleteId) && isOf(owner))
				shown.set(`session ${id}`, textOf(JSON.parse(sessionJson(found.record, found.edit))));
		}
		const athletes = await this.athletes();
		for (const card of athletes) {
			const { strapName: _, changedAt: _at, ...said } = bareCard(card);
			if (isOf(card.id)) shown.set(`card ${card.id}`, textOf(said));
		}
		const isHere = new Set(athletes.map(({ id }) => id));
		for (const [key, day] of await this.days()) {
			const id = key.split('/')[1] ?? '';
			if (isHere.has(id) && isOf(id)) shown.set(key, textOf(day));
		}
		for (const { id, plan } of (await listPlans(this.store)).plans) shown.set(`plan ${id}`, textOf(plan));
		return shown;
	}

	/** Everything that was ever entered and is there, by the text that tells it from all others. */
	async tokens(): Promise<Set<string>> {
		const tokens = new Set<string>();
		for (const { head } of (await listSessions(this.store)).sessions) tokens.add(`session ${head.id}`);
		for (const [key, edit] of await read(this.store, (objects) => entriesUnder(objects, 'edit/'))) {
			const title = memberOf(edit, 'title');
			if (title !== undefined) tokens.add(`title ${key.split('/')[1]} ${String(title)}`);
		}
		for (const card of await this.athletes()) {
			tokens.add(`athlete ${card.id}`);
			const held = [card.thresholdBpm, ...(card.olderThresholds ?? []).map(({ bpm }) => bpm)];
			for (const bpm of held) tokens.add(`threshold ${card.id} ${bpm}`);
			for (const { date } of card.weights ?? []) tokens.add(`weight ${card.id} ${date}`);
			for (const { day } of bareCard(card).locks ?? []) tokens.add(`blow ${card.id} ${day}`);
		}
		for (const [, day] of await this.days()) for (const { id } of day.entries) tokens.add(`entry ${id}`);
		for (const { id, plan } of (await listPlans(this.store)).plans)
			tokens.add(`plan ${plan.roundS}`).add(`plan ${id} ${plan.roundS}`);
		return tokens;
	}
}
