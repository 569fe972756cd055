import { namesAt, touch, type FileProblem, type FolderMemory } from './memory';
import { parsedName, type SharedName } from './names';
import { flat, machineThatKnows, pathOf, placeOfYear, type Place } from './places';

/**
 * A clock may be wrong by years: what was said then is later than what it was said in knowledge of, and no more. Beyond
 * this no laptop could say anything later in four digits of a year.
 */
const furthestAheadMs = 50 * 365 * 86_400_000;
/** A machine that has signed nothing for so long looks into the folder no more. */
const silentMs = 400 * 86_400_000;

/** Which files of ours lie where: a name in two places is one file. Keeps what is remembered of them in step. */
export class KnownFiles {
	readonly #listed = new Map<string, { name: SharedName; places: readonly Place[] }>();
	/** Machines that say there that they look into the folders of the years. */
	readonly knowing = new Set<string>();

	constructor(
		private readonly memory: FolderMemory,
		private readonly nowMs: number
	) {}

	/** Takes up all that was listed, and forgets what is no more. Answers the paths that are none of ours. */
	takeUp(): { foreign: string[]; ahead: string[] } {
		const { memory } = this;
		const others: { foreign: string[]; ahead: string[] } = { foreign: [], ahead: [] };
		this.#takePlace(flat, memory.flat, others);
		for (const [year, { names }] of memory.years) this.#takePlace(placeOfYear(year), names, others);
		for (const text of memory.seen) if (!this.#listed.has(text)) memory.seen.delete(text);
		for (const path of memory.problems.keys()) {
			const end = path.lastIndexOf('/');
			if (!this.places(path.slice(end + 1)).includes(path.slice(0, Math.max(end, 0))))
				memory.problems.delete(path);
		}
		return others;
	}

	#takePlace(place: Place, names: ReadonlySet<string>, others: { foreign: string[]; ahead: string[] }): void {
		const onlyHere = [place];
		for (const text of names) {
			const name = parsedName(text);
			const machine = place === flat && !name ? machineThatKnows(text) : undefined;
			const atMs = name && 'at' in name ? Date.parse(name.at) : undefined;
			if (machine !== undefined) this.knowing.add(machine);
			else if (!name) others.foreign.push(pathOf(place, text));
			else if (atMs !== undefined && atMs > this.nowMs + furthestAheadMs)
				others.ahead.push(pathOf(place, text));
			else {
				const before = this.places(text);
				this.#listed.set(text, { name, places: before.length > 0 ? [...before, place] : onlyHere });
				if (place === flat && 'by' in name) this.#noteSigned(name.by, atMs!);
			}
		}
	}

	#noteSigned(machine: string, atMs: number): void {
		const { signedMs } = this.memory;
		signedMs.set(machine, Math.max(atMs, signedMs.get(machine) ?? -Infinity));
	}

	/** Machines that signed something in the folder itself lately, whether or not it is still there. */
	get signers(): Set<string> {
		const isLately = ([, atMs]: [string, number]) => atMs >= this.nowMs - silentMs;
		return new Set([...this.memory.signedMs].filter(isLately).map(([machine]) => machine));
	}

	get count(): number {
		return this.#listed.size;
	}

	/** How many were never opened. */
	newCount(): number {
		const { seen } = this.memory;
		return [...this.#listed].filter(
			([text, { places }]) => !seen.has(text) && !places.some((place) => this.problemAt(place, text))
		).length;
	}

	*names(): Generator<SharedName> {
		for (const { name } of this.#listed.values()) yield name;
	}

	places(text: string): readonly Place[] {
		return this.#listed.get(text)?.places ?? [];
	}

	/** The places of a file, those first where nothing was wrong with it. */
	soundFirst(text: string): Place[] {
		const isUnsound = (place: Place) => Number(this.problemAt(place, text) !== undefined);
		return this.places(text).toSorted((one, other) => isUnsound(one) - isUnsound(other));
	}

	problemAt(place: Place, text: string): FileProblem | undefined {
		const { problems } = this.memory;
		return problems.size > 0 ? problems.get(pathOf(place, text)) : undefined;
	}

	/** Notes what is wrong with a file, or that nothing is any more. Answers whether that is news. */
	setProblem(place: Place, text: string, problem: FileProblem | undefined): boolean {
		if (!problem && !this.problemAt(place, text)) return false;
		const path = pathOf(place, text);
		if (problem) this.memory.problems.set(path, problem);
		else this.memory.problems.delete(path);
		touch(this.memory, place);
		return true;
	}

	/** What it holds lies in the store: it is opened no more, wherever it lies. */
	see(text: string): void {
		this.memory.seen.add(text);
		for (const place of this.places(text)) touch(this.memory, place);
	}

	/** It is opened once more. */
	unsee(text: string): void {
		this.memory.seen.delete(text);
		for (const place of this.places(text)) touch(this.memory, place);
	}

	add(place: Place, text: string, name: SharedName): void {
		const before = this.places(text);
		this.#listed.set(text, { name, places: before.includes(place) ? before : [...before, place] });
		namesAt(this.memory, place).add(text);
		this.see(text);
	}

	drop(place: Place, text: string): void {
		const left = this.places(text).filter((one) => one !== place);
		const listed = this.#listed.get(text);
		if (listed && left.length > 0) this.#listed.set(text, { ...listed, places: left });
		else {
			this.#listed.delete(text);
			this.memory.seen.delete(text);
		}
		namesAt(this.memory, place).delete(text);
		touch(this.memory, place);
	}
}
