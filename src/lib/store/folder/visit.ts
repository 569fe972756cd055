import { isForbidden, isGone, isNoFolder, type FolderFiles, type OpenedFile } from './door';
import { KnownFiles } from './known-files';
import { lookInto } from './listing';
import type { FileProblem, FolderMemory } from './memory';
import { fileName, type SharedName } from './names';
import { flat, goesByYear, pathOf, placeOfYear, yearOf, type Place } from './places';
import { emptyReport, type FolderReport, type SharedCounts, type VisitProgress } from './visit-report';
import { readShared, tooLarge, type SharedContent } from './text';
import type { UseStore } from '../database';

/** A session has begun, or the visit was called off: it ends where it stands and the next one goes on. */
export class Interrupted extends Error {
	override readonly name = 'Interrupted';
}

const mostExamples = 5;
const filesPerStep = 20;
/** One visit to the folder: what lies there, what was opened, what came of it. */
export class FolderVisit {
	readonly report: FolderReport;
	/** What lies there under names of ours. */
	readonly known: KnownFiles;
	/** Why folders within it could not be listed. */
	unread: unknown[] = [];
	/** Of whose deletion or return there is a word. Kept, because to look through what is known of every session takes long. */
	readonly sessionsTold = new Set<string>();
	/** Everybody looks into the folders of the years, so what is added up over the years is written there. */
	writesByYear = false;
	#toRead = 0;

	constructor(
		readonly store: UseStore,
		private readonly files: FolderFiles,
		readonly memory: FolderMemory,
		readonly nowMs: number,
		private readonly mayGoOn: () => boolean,
		private readonly onProgress: (progress: VisitProgress) => void
	) {
		this.known = new KnownFiles(memory, nowMs);
		this.report = emptyReport(nowMs);
	}

	/** Of a year that is not due, what lay there the last time counts; `everyYear`: all are listed. */
	async list(everyYear = false): Promise<void> {
		const { foreign, unread, leftOut } = await lookInto(this.files, this.memory, this.nowMs, everyYear);
		for (const { path } of unread)
			this.tell(path, 'This folder could not be listed now; it is tried again the next time.');
		this.unread = unread.map(({ error }) => error);
		this.report.leftOut = leftOut.sort();
		const others = this.known.takeUp();
		for (const path of [...others.foreign, ...foreign]) this.#noteForeign(path);
		for (const path of others.ahead)
			this.tell(
				path,
				'Its date lies decades ahead, so it was left alone: check the clock of this laptop and of the others.'
			);
		this.report.listed = this.known.count;
		this.#toRead = this.known.newCount();
	}

	/** Tells how far the visit is, of every few files. */
	step(what: VisitProgress['what'], done: number, total: number): void {
		if (done > 0 && done % filesPerStep === 0) this.onProgress({ what, done, total: Math.max(total, done) });
	}

	/** The listed files of some kinds. */
	of<Kind extends SharedName['kind']>(...kinds: Kind[]): (SharedName & { kind: Kind })[] {
		const wanted = new Set<string>(kinds);
		const found: SharedName[] = [];
		for (const name of this.known.names()) if (wanted.has(name.kind)) found.push(name);
		return found as (SharedName & { kind: Kind })[];
	}

	/** It was taken in before, or this machine wrote it. */
	isSeen(name: SharedName): boolean {
		return this.memory.seen.has(fileName(name));
	}

	/** It lies there, and is not known to be cut short. */
	isThere(name: SharedName): boolean {
		const text = fileName(name);
		return this.known.places(text).some((place) => !this.known.problemAt(place, text)?.isCut);
	}

	/** What a file holds; undefined where it holds nothing sound, which the report then tells. */
	async open(name: SharedName): Promise<SharedContent | undefined> {
		this.pause();
		const text = fileName(name);
		for (const place of this.known.soundFirst(text)) {
			const content = await this.#openAt(place, text, name);
			if (content) return content;
		}
		return undefined;
	}

	async #openAt(place: Place, text: string, name: SharedName): Promise<SharedContent | undefined> {
		const path = pathOf(place, text);
		const known = this.known.problemAt(place, text);
		let file: OpenedFile;
		let content: string;
		try {
			file = await this.files.open(path);
			// One that was not whole is looked at again: a copier may set aside its room and its date before its content.
			if (known && !known.isCut && known.size === file.size && known.modifiedMs === file.modifiedMs) {
				this.tell(path, known.problem);
				return undefined;
			}
			if (!known) this.step('reading', ++this.report.opened, this.#toRead);
			const problem = tooLarge(name, file.size);
			if (problem) return this.#refuse(place, text, file, { problem });
			content = await file.text();
		} catch (error) {
			if (isForbidden(error)) throw error;
			// Removed by another laptop since the names were listed.
			if (!isGone(error)) this.tell(path, 'It could not be opened now; it is tried again the next time.');
			return undefined;
		}
		const { value, problem, isCut } = await readShared(name, content);
		if (problem !== undefined) return this.#refuse(place, text, file, { problem, ...(isCut && { isCut }) });
		this.known.setProblem(place, text, undefined);
		return value;
	}

	/** What these files hold lies in the store, or is known to be none of its business: they are opened no more. */
	took(...names: SharedName[]): void {
		for (const name of names) this.known.see(fileName(name));
	}

	/** Days that were read before went with their athlete, or to another card: now that one is back. */
	readDaysAgain(athleteId: string): void {
		for (const name of this.of('days')) if (name.id === athleteId) this.known.unsee(fileName(name));
	}

	/** A sound file that cannot be taken in for another reason. */
	async refuse(name: SharedName, problem: string): Promise<void> {
		const text = fileName(name);
		const [place = flat] = this.known.soundFirst(text);
		this.#refuse(place, text, await this.files.open(pathOf(place, text)), { problem });
	}

	/** Something was taken in. */
	note(kind: keyof SharedCounts): void {
		this.report.cameIn[kind]++;
		this.memory.isSettled = false;
	}

	/** A file that lies there cut short is put right where it lies. */
	async write(name: SharedName, content: string): Promise<void> {
		const text = fileName(name);
		const ofNew = this.writesByYear && goesByYear(name) ? placeOfYear(yearOf(this.nowMs)) : flat;
		const place = await this.#writeAt(this.known.places(text)[0] ?? ofNew, text, content);
		this.known.add(place, text, name);
		this.#forget(place, text);
	}

	/** Puts a word into the folder itself that is none of the files that are taken in. */
	async say(text: string, content: string): Promise<void> {
		await this.#writeAt(flat, text, content);
	}

	async #writeAt(place: Place, text: string, content: string): Promise<Place> {
		this.pause();
		try {
			await this.files.write(pathOf(place, text), content);
			return place;
		} catch (error) {
			if (place === flat || !isNoFolder(error)) throw error;
			// A file of somebody else has the name of the folder.
			await this.files.write(text, content);
			return flat;
		}
	}

	/** Wherever it lies. */
	async remove(name: SharedName): Promise<void> {
		const text = fileName(name);
		for (const place of this.known.places(text)) {
			this.pause();
			await this.files.remove(pathOf(place, text));
			this.#forget(place, text);
			this.known.drop(place, text);
		}
	}

	/** One of this machine that had been left half written is whole or away by now. */
	#forget(place: Place, text: string): void {
		if (!this.known.setProblem(place, text, undefined)) return;
		const path = pathOf(place, text);
		this.report.problems = this.report.problems.filter(({ name }) => name !== path);
	}

	/** Between two files, never within one. */
	pause(): void {
		if (!this.mayGoOn()) throw new Interrupted();
	}

	tell(name: string, problem: string): void {
		this.report.problems.push({ name: name.slice(0, 120), problem });
	}

	#refuse(
		place: Place,
		text: string,
		{ size, modifiedMs }: OpenedFile,
		found: Pick<FileProblem, 'problem' | 'isCut'>
	) {
		this.known.setProblem(place, text, { ...found, size, modifiedMs });
		this.tell(pathOf(place, text), found.problem);
		return undefined;
	}

	#noteForeign(path: string): void {
		const { foreign } = this.report;
		foreign.count++;
		if (foreign.examples.length < mostExamples) foreign.examples.push(path.slice(0, 120));
	}
}
