import { byWeight, chanceOf, type Chance } from '../chance';
import { Acts } from './acts';
import type { Doing } from './doing';
import { Entries } from './entries';
import { differencesOf, toldUnasked } from './checks';
import { FileSharer, whole, type Removals } from './file-sharer';
import { Laptop } from './laptop';
import { Ledger } from './ledger';
import { Turns } from './turns';
import { setConsent } from '$lib/store/folder/state';
import { hasAny } from '$lib/store/folder/report';
import type { SharedCounts } from '$lib/store/folder/visit-report';

const dayMs = 86_400_000;
const beginMs = Date.UTC(2026, 2, 3, 12);
const mostRounds = 30;

/** What is wrong in the end, in words. */
export interface GymFaults {
	/** Laptops that hold other things than the others, or that go on for ever. */
	differ: string[];
	/** What somebody entered and nobody took away. */
	lost: string[];
	/** What somebody took away and nobody brought back. */
	back: string[];
	/** What was written of somebody who had not agreed to it on that laptop. */
	told: string[];
}

/** What one run came to. */
export interface GymFigures {
	laptops: number;
	/** Things that were entered, taken away or brought back. */
	acts: number;
	files: number;
	faults: GymFaults;
	/** What was done, line by line. */
	diary: string[];
}

/** Plays one gym by chance: the same seed gives the same again. */
export async function playGym(seed: number): Promise<GymFigures> {
	// What the page makes up itself comes from the seed, too.
	const { below } = chanceOf(seed + 1);
	const hex = (count: number) => Array.from({ length: count }, () => below(16).toString(16)).join('');
	const randomUUID = () => `${hex(8)}-${hex(4)}-4${hex(3)}-8${hex(3)}-${hex(12)}`;
	Object.defineProperty(crypto, 'randomUUID', { value: randomUUID, configurable: true });
	try {
		return await new Gym(chanceOf(seed), chanceOf(seed + 2)).play();
	} finally {
		Reflect.deleteProperty(crypto, 'randomUUID');
	}
}

class Gym {
	readonly #laptops: Laptop[] = [];
	readonly #removals: Removals;
	readonly #sharer: FileSharer;
	readonly #ledger = new Ledger();
	readonly #acts: Acts;
	readonly #entries: Entries;
	readonly #turns: Turns;
	readonly #faults: GymFaults = { differ: [], lost: [], back: [], told: [] };
	readonly #diary: string[] = [];
	readonly #merges: boolean;
	readonly #updates: 'all are' | 'one by one' | 'never';
	#ms = beginMs;
	#step = 0;

	constructor(
		private readonly chance: Chance,
		/** Which page a laptop has hangs on a chance of its own. */
		private readonly pages: Chance
	) {
		this.#removals = chance.pick<Removals>(['carried', 'carried', 'carried late', 'never carried']);
		this.#sharer = new FileSharer(chance, this.#removals, pages);
		this.#acts = new Acts(chance, this.#ledger);
		this.#entries = new Entries(chance, this.#ledger);
		this.#turns = new Turns(chance, this.#ledger, this.#sharer, this.#laptops);
		this.#merges = chance.below(4) === 0;
		this.#updates = pages.pick(['all are', 'all are', 'one by one', 'never']);
	}

	async play(): Promise<GymFigures> {
		await this.#open();
		const steps = 60 + this.chance.below(100);
		while (this.#step < steps) await this.#doSomething();
		await this.#end();
		return {
			laptops: this.#laptops.length,
			acts: this.#ledger.size,
			files: this.#laptops[0]!.replica.folder.files.size,
			faults: this.#faults,
			diary: this.#diary
		};
	}

	async #open(): Promise<void> {
		const count = 3 + this.chance.below(10);
		for (let number = 0; number < count; number++) {
			const laptop = new Laptop(number, this.#turns.wrongBy());
			await laptop.begin(this.#turns.machine());
			laptop.isFormer = number > 0 && this.#updates !== 'all are' && this.pages.below(count) < 2;
			this.#laptops.push(laptop);
		}
		const [first] = this.#laptops as [Laptop];
		const ids = [await this.#acts.enrol(this.#doing(first)), await this.#acts.enrol(this.#doing(first))];
		for (const id of ids) await setConsent(first.store, id, true);
		await this.#visit(first);
		for (const laptop of this.#laptops) {
			this.#carry(first, laptop, 1, 0);
			await this.#visit(laptop);
			for (const id of ids) if (this.chance.uniform() < 0.8) await setConsent(laptop.store, id, true);
		}
	}

	#doing(laptop: Laptop): Doing {
		this.#step++;
		return { laptop, nowMs: this.#now(laptop), step: this.#step };
	}

	#now = ({ clockMs }: Laptop) => this.#ms + clockMs;

	async #doSomething(): Promise<void> {
		const { chance } = this;
		this.#ms += chance.pick([0, 1, 1000, 3_600_000, chance.below(dayMs)]);
		const laptop = chance.pick(this.#laptops);
		if (laptop.isFormer && this.#updates === 'one by one' && this.pages.below(15) === 0) this.#update(laptop);
		const [acts, entries, turns] = [this.#acts, this.#entries, this.#turns];
		const doing = this.#doing(laptop);
		const told = (what: string, done: string) => this.#tell(laptop, what, done);
		const ways: [number, () => Promise<unknown>][] = [
			[10, async () => told('boxes', await acts.box(doing))],
			[10, async () => told('corrects', await acts.correct(doing))],
			[12, async () => told('card', await entries.card(doing))],
			[8, async () => told('blow', await entries.blow(doing))],
			[10, async () => told('day', await entries.day(doing))],
			[10, async () => told('plan', await entries.plan(doing))],
			[8, async () => told('deletes', await acts.deleteSession(doing))],
			[8, async () => told('undoes', await acts.undoSession(doing))],
			[1, async () => told('enrols', await acts.enrol(doing))],
			[this.#merges ? 4 : 0, async () => told('merges', await acts.merge(doing))],
			[this.#merges ? 0 : 2, async () => told('deletes athlete', await acts.deleteAthlete(doing))],
			[this.#merges ? 0 : 2, async () => told('undoes athlete', await acts.undoAthlete(doing))],
			[8, async () => told('agrees', await turns.consent(doing))],
			[4, async () => told('backs up', await turns.backUp(doing))],
			[4, async () => told('restores', await turns.restore(doing))],
			[4, async () => told('is set back', await turns.setBack(doing))],
			[1, async () => told('is replaced', await turns.replace(doing))],
			[3, async () => told('sets its clock', turns.setClock(doing))],
			[4, async () => told('purges', await turns.purge(doing))],
			[30, () => this.#visit(laptop)],
			[4, () => this.#visitKilled(laptop)],
			[40, () => this.#carryAndVisit(laptop)]
		];
		await byWeight(chance, ways)();
	}

	#update(laptop: Laptop): void {
		laptop.isFormer = false;
		this.#tell(laptop, 'is updated');
	}

	#tell({ number }: Laptop, what: string, done = ''): void {
		this.#diary.push(`${this.#step} laptop ${number} ${what} ${done}`);
	}

	async #visit(laptop: Laptop, everyYear = false): Promise<boolean> {
		const before = laptop.replica.copy();
		const report = await laptop.visit(this.#now(laptop), everyYear);
		const moved = (counts: SharedCounts) =>
			Object.entries(counts).flatMap(([kind, count]) => (count > 0 ? `${count} ${kind}` : []));
		const files = [...laptop.replica.folder.files.keys()].filter(
			(name) => before.get(name) !== laptop.replica.folder.files.get(name)!.text
		);
		this.#tell(
			laptop,
			'visits',
			`in: ${moved(report.cameIn).join()}; out: ${moved(report.wentOut).join()} ${files.join(' ')}`
		);
		if (!this.#merges) this.#faults.told.push(...(await toldUnasked(laptop, before)));
		return hasAny(report.cameIn) || hasAny(report.wentOut);
	}

	async #visitKilled(laptop: Laptop): Promise<void> {
		await laptop.visitKilled(this.#now(laptop), this.chance.below(4));
		this.#tell(laptop, 'is killed in a visit');
	}

	async #carryAndVisit(laptop: Laptop): Promise<void> {
		const from = this.chance.pick(this.#laptops);
		const share = this.chance.pick([1, 1, 0.7, 0.3]);
		this.#carry(from, laptop, share, this.chance.pick([0, 0, 0.3]));
		this.#tell(laptop, 'has from', `${from.number}, ${share} of it`);
		if (this.chance.below(2) === 0) await this.#visit(laptop);
	}

	#carry(from: Laptop, to: Laptop, share: number, cut: number): boolean {
		if (from === to) return false;
		for (const { replica } of [from, to]) this.#sharer.look(replica);
		return this.#sharer.carry(from.replica, to.replica, { share, cut });
	}

	/** Everybody's files are whole everywhere, and everybody looks until nothing moves any more. */
	async #settle(): Promise<void> {
		// Where removals are not carried, what a page took away comes again and again: then nothing new comes of it.
		const isQuiet = new Set<Laptop>();
		let quietRounds = 0;
		for (let round = 0; round < mostRounds; round++) {
			let isMoving = false;
			this.#ms += 60_000;
			for (const laptop of this.#laptops) {
				let hasCome = false;
				for (const other of this.#laptops)
					if (this.#carry(other, laptop, whole.share, whole.cut)) hasCome = true;
				if (hasCome && this.#removals !== 'never carried') isMoving = true;
				if (!hasCome && isQuiet.has(laptop)) continue;
				isQuiet.delete(laptop);
				if (await this.#visit(laptop, true)) isMoving = true;
				else isQuiet.add(laptop);
			}
			quietRounds = isMoving ? 0 : quietRounds + 1;
			if (quietRounds === (this.#removals === 'never carried' ? 2 : 1)) return;
		}
		this.#faults.differ.push('They do not come to rest.');
	}

	/** Those whose page looks where the others write. */
	get #updated(): Laptop[] {
		return this.#laptops.filter(({ isFormer }) => !isFormer);
	}

	async #end(): Promise<void> {
		if (this.#updates === 'one by one')
			for (const laptop of this.#laptops) if (laptop.isFormer) this.#update(laptop);
		this.#tell(this.#laptops[0]!, 'settles with the others');
		await this.#settle();
		if (!this.#merges) {
			const agreed = await Promise.all(this.#laptops.map((laptop) => laptop.agreed()));
			if (agreed.every(({ size }) => size > 0))
				this.#faults.differ.push(
					...(await differencesOf(this.#updated, (id) => agreed.every((one) => one.has(id))))
				);
		}
		const ids = new Set<string>();
		for (const laptop of this.#laptops)
			for (const kind of ['athlete/', 'gone-athlete/', 'shared/athlete/'])
				for (const key of await laptop.keys(kind)) ids.add(key.split('/').at(-1)!);
		for (const { store } of this.#laptops) for (const id of ids) await setConsent(store, id, true);
		await this.#settle();
		await this.#expectAllKept('all agreed');
		this.#ms += 3 * dayMs;
		for (const laptop of this.#laptops) await this.#turns.purge(this.#doing(laptop));
		this.#tell(this.#laptops[0]!, 'settles after days');
		await this.#settle();
		await this.#expectAllKept('after days');
		if (this.#updates !== 'never') return;
		for (const laptop of this.#laptops) if (laptop.isFormer) this.#update(laptop);
		await this.#settle();
		await this.#expectAllKept('all updated');
	}

	async #expectAllKept(when: string): Promise<void> {
		const differ = await differencesOf(this.#updated);
		this.#faults.differ.push(...differ.map((what) => `${when}: ${what}`));
		const there = await this.#laptops[0]!.tokens();
		const { lost: missing, back } = this.#ledger.faults(there);
		// A correction goes with its session, for which it counts by itself.
		const isOfAnother = (token: string) =>
			!/^title /.test(token) || there.has(`session ${token.split(' ')[1]}`);
		const lost = missing.filter(isOfAnother);
		this.#faults.lost.push(...lost.map((token) => `${when}: ${token}`));
		this.#faults.back.push(...back.map((token) => `${when}: ${token}`));
	}
}
