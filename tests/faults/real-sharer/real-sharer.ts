import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { byWeight, chanceOf, type Chance } from '../chance';
import { Acts } from '../laptops/acts';
import { Entries } from '../laptops/entries';
import { differencesOf } from '../laptops/checks';
import { Laptop } from '../laptops/laptop';
import { Ledger } from '../laptops/ledger';
import { DiskFolder } from './disk-folder';
import { SharerProcess } from './sharer-process';
import type { Doing } from '../laptops/doing';
import { makeReading, makeRecord } from '../../store/builders';
import { packReadings } from '$lib/record/columns';
import { setConsent } from '$lib/store/folder/state';
import { hasAny } from '$lib/store/folder/report';
import { openJournal } from '$lib/store/journal';

const laptopCount = 3;
const mostRounds = 12;
const quietMs = 180_000;

export interface SharerFigures {
	acts: number;
	kills: number;
	files: number;
	/** Files that the sharer put beside others, because it could not decide. */
	conflicts: number;
	/** Halves that lay there when a sharer was killed or a page looked. */
	temporary: number;
	/** In words. */
	different: string[];
	lost: string[];
	back: string[];
}

class DiskLaptop extends Laptop {
	readonly #folder: DiskFolder;

	constructor(
		number: number,
		clockMs: number,
		readonly path: string
	) {
		super(number, clockMs);
		this.#folder = new DiskFolder(path);
	}

	override get handle(): FileSystemDirectoryHandle {
		return this.#folder.handle;
	}
}

/** Three laptops over a file sharer of the world, killed at random moments, as are the pages. */
export async function shareForReal(program: string, acts: number, seed: number): Promise<SharerFigures> {
	const base = mkdtempSync(join(tmpdir(), 'shared-gym-'));
	// Below those that the system gives to whoever asks for any port.
	const port = Number(process.env.E2E_PORT ?? 4361) + 20_000;
	const run = new RealRun(program, base, port, chanceOf(seed));
	try {
		return await run.play(acts);
	} finally {
		await run.stop();
		rmSync(base, { recursive: true, force: true });
	}
}

/** What a sharer or a browser has not written to its end. */
const isHalf = /(^|\/)\.syncthing\.|\.tmp$|\.crswap$/;

class RealRun {
	readonly #sharers: SharerProcess[];
	readonly #laptops: DiskLaptop[];
	readonly #ledger = new Ledger();
	readonly #acts: Acts;
	readonly #entries: Entries;
	readonly #beside = new Set<string>();
	readonly #temporary = new Set<string>();
	#step = 0;
	#kills = 0;

	constructor(
		program: string,
		base: string,
		port: number,
		private readonly chance: Chance
	) {
		this.#sharers = Array.from(
			{ length: laptopCount },
			(_, number) => new SharerProcess(program, number, port, base)
		);
		for (const sharer of this.#sharers) sharer.introduce(this.#sharers);
		this.#laptops = this.#sharers.map(({ path }, number) => new DiskLaptop(number, (number - 1) * 9e9, path));
		this.#acts = new Acts(chance, this.#ledger);
		this.#entries = new Entries(chance, this.#ledger);
	}

	async play(acts: number): Promise<SharerFigures> {
		for (const laptop of this.#laptops) await laptop.begin(`machine${laptop.number}`);
		await this.#leaveTwoOfOneName();
		for (const sharer of this.#sharers) await sharer.start();
		const ids = [await this.#acts.enrol(this.#doing(0)), await this.#acts.enrol(this.#doing(1))];
		for (const { store } of this.#laptops) for (const id of ids) await setConsent(store, id, true);
		for (let done = 0; done < acts; done++) await this.#doSomething();
		await this.#settle();
		const { lost, back } = this.#ledger.faults(await this.#laptops[0]!.tokens());
		return {
			acts: this.#ledger.size,
			kills: this.#kills,
			files: this.#names(0).length,
			conflicts: this.#beside.size,
			temporary: this.#temporary.size,
			different: await differencesOf(this.#laptops),
			lost,
			back
		};
	}

	async stop(): Promise<void> {
		for (const sharer of this.#sharers) await sharer.kill();
	}

	/** Before the sharers speak: one session from one backup on two laptops, the file of one of them cut short. */
	async #leaveTwoOfOneName(): Promise<void> {
		const record = makeRecord({
			id: 'both',
			groupId: 'of-both',
			athlete: { athleteId: 'ath-1', name: 'Boxer 1' }
		});
		for (const { number, store } of this.#laptops.slice(0, 2)) {
			await openJournal(store, 'of-both').finish([record]);
			this.#ledger.note({ token: 'session both', does: 'enter', who: number, step: 0 });
			await setConsent(store, 'ath-1', true);
		}
		const [whole, cut] = this.#laptops as [DiskLaptop, DiskLaptop];
		await whole.visit(Date.now());
		const year = join('files', String(new Date().getUTCFullYear()));
		const name = join(year, 'both.session.json');
		mkdirSync(join(cut.path, year), { recursive: true });
		writeFileSync(join(cut.path, name), readFileSync(join(whole.path, name)).subarray(0, 100));
	}

	#doing(number: number): Doing {
		const laptop = this.#laptops[number]!;
		this.#step++;
		return { laptop, nowMs: Date.now() + laptop.clockMs, step: this.#step };
	}

	async #doSomething(): Promise<void> {
		const number = this.chance.below(laptopCount);
		const doing = this.#doing(number);
		const { laptop, nowMs } = doing;
		const [acts, entries] = [this.#acts, this.#entries];
		const ways: [number, () => Promise<unknown>][] = [
			[3, () => acts.box(doing)],
			[4, () => this.#boxLong(doing)],
			[4, () => acts.correct(doing)],
			[4, () => entries.card(doing)],
			[3, () => entries.blow(doing)],
			[4, () => entries.day(doing)],
			[4, () => entries.plan(doing)],
			[2, () => acts.deleteSession(doing)],
			[1, () => acts.undoSession(doing)],
			[10, () => laptop.visit(nowMs)],
			[3, () => laptop.visitKilled(nowMs, this.chance.below(3))],
			[8, () => this.#killSharer(number)],
			[6, () => this.#wait(2000 * this.chance.uniform())]
		];
		await byWeight(this.chance, ways)();
	}

	/** A session of hours, whose file is under way for a second or two. */
	async #boxLong({ laptop, step }: Doing): Promise<void> {
		const id = `long${step}`;
		const { head } = makeRecord({
			id,
			groupId: `of-${id}`,
			athlete: { athleteId: 'ath-1', name: 'Boxer 1' }
		});
		const readings = Array.from({ length: 15_000 }, (_, s) =>
			makeReading({ ms: s * 1000 + this.chance.below(500), bpm: 100 + this.chance.below(80) })
		);
		await openJournal(laptop.store, `of-${id}`).finish([{ head, body: packReadings(readings) }]);
		this.#ledger.note({ token: `session ${id}`, does: 'enter', who: laptop.number, step });
	}

	/** While the page writes and it carries, or while it is away: then it is started again. */
	async #killSharer(number: number): Promise<void> {
		const sharer = this.#sharers[number]!;
		if (!sharer.isRunning) return sharer.start();
		const laptop = this.#laptops[number]!;
		await Promise.all([
			laptop.visit(Date.now() + laptop.clockMs),
			sharer.scan(),
			this.#wait(1500 * this.chance.uniform()).then(() => sharer.kill())
		]);
		this.#kills++;
		this.#names(number);
	}

	#wait = (ms: number) => new Promise<void>((resolve) => void setTimeout(resolve, ms));

	/** Names of ours and others, the sharer's own marker left out. */
	#names(number: number): string[] {
		const all = readdirSync(this.#laptops[number]!.path, { recursive: true, encoding: 'utf8' });
		const names = all.filter((path) => !path.startsWith('.stfolder'));
		for (const name of names) {
			if (name.includes('.sync-conflict-')) this.#beside.add(name);
			else if (isHalf.test(name)) this.#temporary.add(name);
		}
		return names.sort();
	}

	/** The sharers have carried everything and every page has looked, until nothing moves any more. */
	async #settle(): Promise<void> {
		for (let round = 0; round < mostRounds; round++) {
			let isMoving = false;
			for (const laptop of this.#laptops) {
				const { cameIn, wentOut } = await laptop.visit(Date.now() + laptop.clockMs);
				if (hasAny(cameIn) || hasAny(wentOut)) isMoving = true;
			}
			await this.#untilCarried();
			if (!isMoving) return;
		}
		throw new Error('The laptops do not come to rest.');
	}

	/** As long as anything moves: what many acts have left takes minutes at the pace that the sharers are given. */
	async #untilCarried(): Promise<void> {
		let before = '';
		let endMs = Date.now() + quietMs;
		for (;;) {
			// One that was killed, or has ended by itself, is started again as a service is.
			for (const sharer of this.#sharers) {
				if (!sharer.isRunning) await sharer.start();
				await sharer.scan();
			}
			const standings = await Promise.all(
				this.#sharers.map((sharer) => sharer.standing(this.#sharers.filter((other) => other !== sharer)))
			);
			// A half whose sharer was killed stays for a day where its file has gone meanwhile.
			const names = this.#laptops.map(({ number }) =>
				this.#names(number)
					.filter((name) => !isHalf.test(name))
					.join()
			);
			if (standings.every(({ isUpToDate }) => isUpToDate) && new Set(names).size === 1) return;
			const now = [...standings.map(({ words }) => words), ...names].join('\n');
			if (now !== before) endMs = Date.now() + quietMs;
			before = now;
			if (Date.now() > endMs)
				throw new Error(
					`The sharers did not come to rest: ${standings.map(({ words }) => words).join('; ')}.`
				);
			await this.#wait(500);
		}
	}
}
