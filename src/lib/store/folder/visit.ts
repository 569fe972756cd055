import { isForbidden, isGone, type FolderFiles, type OpenedFile } from './door';
import { fileName, parsedName, type SharedName } from './names';
import { readShared, tooLarge, type SharedContent } from './text';
import type { UseStore } from '../database';
import type { FileProblem, FolderMemory } from './state';

/** How many of each came or went. */
export interface SharedCounts {
	sessions: number;
	corrections: number;
	cards: number;
	/** Training days that say something new; what goes out is counted by the month. */
	days: number;
	/** Plans of which something new is said, that they were removed too. */
	plans: number;
	deletions: number;
	/** Deleted before, and brought back. */
	restored: number;
}

/** What came of one visit to the folder. */
export interface FolderReport {
	/** ISO 8601 in UTC. */
	at: string;
	/** When what came in and went out did so. */
	movedAt: string;
	/** Files with a name of ours. */
	listed: number;
	/** How many of them were opened, because they were new. */
	opened: number;
	cameIn: SharedCounts;
	wentOut: SharedCounts;
	/** Files that could not be taken in; they stay where they are. */
	problems: { name: string; problem: string }[];
	/** Other files and folders that lie there; they are left alone. */
	foreign: { count: number; examples: string[] };
}

/** How far a visit is: files that lay there unread, or sessions that may have to be written. */
export interface VisitProgress {
	what: 'reading' | 'writing';
	done: number;
	total: number;
}

/** A session has begun, or the visit was called off: it ends where it stands and the next one goes on. */
export class Interrupted extends Error {
	override readonly name = 'Interrupted';
}

const noCounts = (): SharedCounts => ({
	sessions: 0,
	corrections: 0,
	cards: 0,
	days: 0,
	plans: 0,
	deletions: 0,
	restored: 0
});
const mostExamples = 5;
const filesPerStep = 20;
const mostNames = 500_000;
/**
 * A clock may be wrong by years: what was said then is later than what it was said in knowledge of, and no more. Beyond
 * this no laptop could say anything later in four digits of a year.
 */
const furthestAheadMs = 50 * 365 * 86_400_000;

/** One visit to the folder: what lies there, what was opened, what came of it. */
export class FolderVisit {
	readonly report: FolderReport;
	/** What lies there under names of ours. */
	readonly listing = new Map<string, SharedName>();
	#toRead = 0;

	constructor(
		readonly store: UseStore,
		private readonly files: FolderFiles,
		readonly memory: FolderMemory,
		readonly nowMs: number,
		private readonly mayGoOn: () => boolean,
		private readonly onProgress: (progress: VisitProgress) => void
	) {
		this.report = {
			at: new Date(nowMs).toISOString(),
			movedAt: new Date(nowMs).toISOString(),
			listed: 0,
			opened: 0,
			cameIn: noCounts(),
			wentOut: noCounts(),
			problems: [],
			foreign: { count: 0, examples: [] }
		};
	}

	async list(): Promise<void> {
		let count = 0;
		for await (const text of this.files.names()) {
			if (++count > mostNames) throw new Error(`There are more than ${mostNames} names in this folder.`);
			const name = parsedName(text);
			if (!name) this.#noteForeign(text);
			else if ('at' in name && Date.parse(name.at) > this.nowMs + furthestAheadMs)
				this.tell(
					text,
					'Its date lies decades ahead, so it was left alone: check the clock of this laptop and of the others.'
				);
			else this.listing.set(text, name);
		}
		this.report.listed = this.listing.size;
		for (const known of this.memory.seen) if (!this.listing.has(known)) this.memory.seen.delete(known);
		for (const known of this.memory.problems.keys())
			if (!this.listing.has(known)) this.memory.problems.delete(known);
		const { seen, problems } = this.memory;
		this.#toRead = [...this.listing.keys()].filter((text) => !seen.has(text) && !problems.has(text)).length;
	}

	/** Tells how far the visit is, of every few files. */
	step(what: VisitProgress['what'], done: number, total: number): void {
		if (done > 0 && done % filesPerStep === 0) this.onProgress({ what, done, total: Math.max(total, done) });
	}

	/** The listed files of some kinds, in order of their names. */
	of<Kind extends SharedName['kind']>(...kinds: Kind[]): (SharedName & { kind: Kind })[] {
		const wanted = new Set<string>(kinds);
		const found = [...this.listing.values()].filter(({ kind }) => wanted.has(kind));
		return found as (SharedName & { kind: Kind })[];
	}

	/** It was taken in before, or this machine wrote it. */
	isSeen(name: SharedName): boolean {
		return this.memory.seen.has(fileName(name));
	}

	/** It lies there, and is not known to be cut short. */
	isThere(name: SharedName): boolean {
		const text = fileName(name);
		return this.listing.has(text) && !this.memory.problems.get(text)?.isCut;
	}

	/** What a file holds; undefined where it holds nothing sound, which the report then tells. */
	async open(name: SharedName): Promise<SharedContent | undefined> {
		this.pause();
		const text = fileName(name);
		const known = this.memory.problems.get(text);
		let file: OpenedFile;
		let content: string;
		try {
			file = await this.files.open(text);
			// One that was not whole is looked at again: a copier may set aside its room and its date before its content.
			if (known && !known.isCut && known.size === file.size && known.modifiedMs === file.modifiedMs) {
				this.tell(text, known.problem);
				return undefined;
			}
			if (!known) this.step('reading', ++this.report.opened, this.#toRead);
			const problem = tooLarge(name, file.size);
			if (problem) return this.#refuse(text, file, { problem });
			content = await file.text();
		} catch (error) {
			if (isForbidden(error)) throw error;
			// Removed by another laptop since the names were listed.
			if (!isGone(error)) this.tell(text, 'It could not be opened now; it is tried again the next time.');
			return undefined;
		}
		const { value, problem, isCut } = await readShared(name, content);
		if (problem !== undefined) return this.#refuse(text, file, { problem, ...(isCut && { isCut }) });
		this.memory.problems.delete(text);
		return value;
	}

	/** What these files hold lies in the store, or is known to be none of its business: they are opened no more. */
	took(...names: SharedName[]): void {
		for (const name of names) this.memory.seen.add(fileName(name));
	}

	/** Days that were read before went with their athlete, or to another card: now that one is back. */
	readDaysAgain(athleteId: string): void {
		for (const name of this.of('days')) if (name.id === athleteId) this.memory.seen.delete(fileName(name));
	}

	/** A sound file that cannot be taken in for another reason. */
	async refuse(name: SharedName, problem: string): Promise<void> {
		const text = fileName(name);
		this.#refuse(text, await this.files.open(text), { problem });
	}

	/** Something was taken in. */
	note(kind: keyof SharedCounts): void {
		this.report.cameIn[kind]++;
		this.memory.isSettled = false;
	}

	async write(name: SharedName, content: string): Promise<void> {
		this.pause();
		const text = fileName(name);
		await this.files.write(text, content);
		this.listing.set(text, name);
		this.#forget(text);
		this.memory.seen.add(text);
	}

	async remove(name: SharedName): Promise<void> {
		this.pause();
		const text = fileName(name);
		await this.files.remove(text);
		this.listing.delete(text);
		this.#forget(text);
		this.memory.seen.delete(text);
	}

	/** One of this machine that had been left half written is whole or away by now. */
	#forget(text: string): void {
		if (this.memory.problems.delete(text))
			this.report.problems = this.report.problems.filter(({ name }) => name !== text);
	}

	/** Between two files, never within one. */
	pause(): void {
		if (!this.mayGoOn()) throw new Interrupted();
	}

	tell(name: string, problem: string): void {
		this.report.problems.push({ name: name.slice(0, 120), problem });
	}

	#refuse(text: string, { size, modifiedMs }: OpenedFile, found: Pick<FileProblem, 'problem' | 'isCut'>) {
		this.memory.problems.set(text, { ...found, size, modifiedMs });
		this.tell(text, found.problem);
		return undefined;
	}

	#noteForeign(text: string): void {
		const { foreign } = this.report;
		foreign.count++;
		if (foreign.examples.length < mostExamples) foreign.examples.push(text.slice(0, 120));
	}
}
