import { FakeFolder } from '../../store/fake-folder';
import type { Chance } from '../chance';
import { machineThatKnows } from '$lib/store/folder/places';

/** One state of a file, or that it was removed (no text), and the states that it was made in knowledge of. */
interface Version {
	number: number;
	before: ReadonlySet<number>;
	text: string | undefined;
}

/** What the sharer knows of a path at one laptop. */
interface Held {
	version?: Version;
	/** What lay there when it last looked: half of a file that is under way is none of the laptop's own doing. */
	lies: string | undefined;
}

/** A laptop's own folder, and what the sharer remembers of it. */
export class Replica {
	folder = new FakeFolder();
	readonly known = new Map<string, Held>();

	copy(): Map<string, string> {
		return new Map([...this.folder.files].map(([name, { text }]) => [name, text]));
	}
}

export type Removals = 'carried' | 'never carried' | 'carried late';

/** How much of what is due a copier does at once. */
export interface Carrying {
	/** The share of the files that it gets to. */
	share: number;
	/** The share of those that it leaves cut short. */
	cut: number;
}

export const whole: Carrying = { share: 1, cut: 0 };

/**
 * A program that keeps the folders of several laptops equal, as such programs do: it knows which state of a file follows
 * which, carries late and in any order, leaves halves and temporary files behind, now and then brings a file twice, and
 * puts what it cannot decide beside the file under a name of its own. What it decides wrongly is the page's to bear.
 */
export class FileSharer {
	#count = 0;

	constructor(
		private readonly chance: Chance,
		private readonly removals: Removals,
		/** Words about what machines know come and stay away by a chance of their own. */
		private readonly words: Chance
	) {}

	/** Takes note of what was written and removed at a laptop since it last looked. */
	look({ folder, known }: Replica): void {
		for (const [name, { text }] of folder.files) {
			const held = known.get(name);
			if (held?.lies !== text) known.set(name, { version: this.#next(text, held?.version), lies: text });
		}
		for (const [name, held] of known) {
			if (folder.files.has(name) || held.lies === undefined) continue;
			if (this.removals === 'never carried') known.delete(name);
			else known.set(name, { version: this.#next(undefined, held.version), lies: undefined });
		}
	}

	/** Brings to one laptop what another has. Both were looked at. Answers whether anything changed there. */
	carry(from: Replica, to: Replica, how: Carrying): boolean {
		let hasChanged = false;
		const all = [...from.known];
		this.#carryWords(
			all.filter(([name]) => machineThatKnows(name)),
			to,
			how
		);
		for (const [name, { version }] of this.#inAnyOrder(all.filter(([name]) => !machineThatKnows(name)))) {
			if (!version || this.chance.uniform() >= how.share) continue;
			const there = to.known.get(name);
			const known = there?.version;
			if (known && (known.number === version.number || known.before.has(version.number))) continue;
			if (known && !version.before.has(known.number)) this.#decide(to, name, version, known);
			else if (version.text !== undefined && this.chance.uniform() < how.cut)
				this.#leaveHalf(to, name, version.text, known);
			else if (version.text !== undefined || how.share === 1 || this.#isRemovedNow())
				this.#place(to, name, version);
			else continue;
			hasChanged = true;
		}
		return hasChanged;
	}

	/** What such a file says is in its name, so that half of one is as good. */
	#carryWords(words: [string, Held][], to: Replica, { share, cut }: Carrying): void {
		for (const [name, { version }] of words) {
			if (!version?.text || to.known.has(name) || this.words.uniform() >= share) continue;
			const lies = this.words.uniform() < cut ? '' : version.text;
			to.folder.put(name, lies);
			to.known.set(name, { version, lies });
		}
	}

	#isRemovedNow(): boolean {
		return this.removals === 'carried' || this.chance.uniform() < 0.3;
	}

	#next(text: string | undefined, ...follows: (Version | undefined)[]): Version {
		const before = new Set<number>();
		for (const one of follows) if (one) for (const number of [one.number, ...one.before]) before.add(number);
		return { number: ++this.#count, before, text };
	}

	#place({ folder, known }: Replica, name: string, version: Version): void {
		const { text } = version;
		if (text === undefined) folder.files.delete(name);
		else folder.put(name, text);
		known.set(name, { version, lies: text });
		if (text !== undefined && this.chance.uniform() < 0.02) folder.put(numbered(name), text);
	}

	/** Half of it under its own name, or under a name for the time being. */
	#leaveHalf({ folder, known }: Replica, name: string, text: string, version: Version | undefined): void {
		const half = text.slice(0, this.chance.below(text.length));
		if (this.chance.uniform() < 0.3) folder.put(name.replace(/[^/]+$/, '.$&.part'), half);
		else {
			folder.put(name, half);
			known.set(name, { ...(version && { version }), lies: half });
		}
	}

	/** Two states of one file, neither of which follows the other. */
	#decide(to: Replica, name: string, one: Version, other: Version): void {
		const both = this.#next(one.text ?? other.text, one, other);
		if (one.text !== undefined && other.text !== undefined && one.text !== other.text) {
			const [held, beside] = this.chance.below(2) === 0 ? [one, other] : [other, one];
			both.text = held.text;
			to.folder.put(besideName(name, both.number), beside.text!);
		}
		this.#place(to, name, both);
	}

	#inAnyOrder<T>(list: T[]): T[] {
		for (let i = list.length - 1; i > 0; i--) {
			const j = this.chance.below(i + 1);
			[list[i], list[j]] = [list[j]!, list[i]!];
		}
		return list;
	}
}

/** Of a path. */
export const baseName = (path: string) => path.slice(path.lastIndexOf('/') + 1);

const besideName = (name: string, number: number) =>
	name.replace(/\.json$/, `.conflict-20260303-120000-${number}.json`);
const numbered = (name: string) => name.replace(/\.json$/, ' (1).json');
