import type { UseStore } from '../database';
import {
	browserFolderDoor,
	filesIn,
	isDismissed,
	isForbidden,
	watched,
	type FolderDoor,
	type FolderFiles
} from './door';
import { answerWithinMs } from '$lib/record/journal';
import type { Holding } from './report';
import { silentWords, wordsFor } from './words';
import type { FolderReport, VisitProgress } from './visit-report';

// Every page has this class at hand and few have a folder, so what works on one is fetched when it is needed.
const reports = () => import('./report');
const state = () => import('./state');

/**
 * - `unsupported`: this browser hands out no folders; backup files are offered.
 * - `none`: no folder was chosen.
 * - `ask`: the browser wants a click before the folder may be used again.
 * - `open`: it may be used.
 */
export type FolderAccess = 'unknown' | 'unsupported' | 'none' | 'ask' | 'open';

interface Parts {
	/** No session runs, here or in another tab: only then is the folder touched. */
	isFree: () => boolean;
	door?: FolderDoor;
	nowMs?: () => number;
}

/** The folder that the gym's laptops share: chosen, allowed, visited, one visit at a time. */
export class SharedFolder {
	#access = $state<FolderAccess>('unknown');
	#name = $state('');
	#isBusy = $state(false);
	#report = $state.raw<FolderReport>();
	#holdings = $state.raw<readonly Holding[]>();
	#problem = $state('');
	#progress = $state.raw<VisitProgress>();
	#isStopped = $state(false);
	#isSilent = $state(false);
	#handle: FileSystemDirectoryHandle | undefined;
	#visiting: Promise<void> | undefined;
	#loading: Promise<void> | undefined;

	constructor(
		private readonly store: UseStore,
		private readonly parts: Parts
	) {}

	get access(): FolderAccess {
		return this.#access;
	}
	/** What the folder is called; the browser does not say where it lies. */
	get name(): string {
		return this.#name;
	}
	get isBusy(): boolean {
		return this.#isBusy;
	}
	/** How far a visit to many files is; absent while there are few. */
	get progress(): VisitProgress | undefined {
		return this.#progress;
	}
	/** The last visit was called off. */
	get isStopped(): boolean {
		return this.#isStopped;
	}
	/** What came of the last visit. */
	get report(): FolderReport | undefined {
		return this.#report;
	}
	/** Whose data it holds; absent until `look` was asked for. */
	get holdings(): readonly Holding[] | undefined {
		return this.#holdings;
	}
	/** Why the last thing asked for was not done, in a plain sentence. */
	get problem(): string {
		return this.#isSilent ? silentWords : this.#problem;
	}

	/** Finds out what was chosen before and whether it may still be used. For the browser only. */
	load(): Promise<void> {
		return (this.#loading ??= this.#try(async () => {
			this.#report = await (await reports()).lastReport(this.store);
			await this.#settle(await (await state()).readHandle(this.store));
		}));
	}

	/** Lets the user choose a folder, and visits it. For a click alone. */
	async choose(): Promise<void> {
		await this.#try(async () => {
			const handle = await this.#door.pick?.();
			if (!handle) return;
			await (await state()).keepHandle(this.store, handle);
			this.#report = undefined;
			await this.#settle(handle);
		});
		await this.visit();
	}

	/** Shows the browser's question once more, and visits the folder. For a click alone. */
	async allow(): Promise<void> {
		await this.#try(async () => {
			if (!this.#handle) return;
			const isAllowed = await this.#door.ask(this.#handle);
			this.#access = isAllowed ? 'open' : 'ask';
			if (!isAllowed) this.#problem = 'The browser did not allow it. Nothing was read and nothing written.';
		});
		await this.visit();
	}

	/** Forgets the folder. What lies in it stays, and so does what came from it. */
	async leave(): Promise<void> {
		await this.#try(async () => {
			await (await state()).keepHandle(this.store, undefined);
			this.#report = undefined;
			await this.#settle(undefined);
		});
	}

	/** Switches writing on or off for an athlete, and writes at once what is now allowed. */
	async setConsent(athleteId: string, given: boolean): Promise<void> {
		await this.#try(async () => (await state()).setConsent(this.store, athleteId, given));
		await this.look();
		if (given) await this.visit();
	}

	/** Switches on or off that it is written, too, why an athlete is held back, and writes the card anew. */
	async setReasonConsent(athleteId: string, given: boolean): Promise<void> {
		await this.#try(async () => (await state()).setReasonConsent(this.store, athleteId, given));
		await this.visit();
		await this.look();
	}

	/** Takes an athlete's files out of the folder; what lies in this browser and on other laptops stays. */
	async withdraw(athleteId: string): Promise<void> {
		await this.#visitAs(async (files, nowMs) => {
			const { withdraw } = await import('./withdraw');
			await withdraw(this.store, files, athleteId, nowMs);
		});
		await this.look();
	}

	/**
	 * Reads and writes the folder, if one is chosen and allowed and no session runs. Never rejects: what went wrong
	 * is `problem`. Answers whether anything came in. Older years are looked into once a week, or now (`everyYear`).
	 */
	async visit(everyYear = false): Promise<boolean> {
		let isNews = false;
		await this.load();
		await this.#visitAs(async (files, nowMs) => {
			const [{ visitFolder }, { hasAny, keepReport }] = await Promise.all([import('./sync'), reports()]);
			// A visit that ends too early to tell may have taken something in.
			isNews = true;
			try {
				const mayGoOn = () => !this.#isStopped && this.parts.isFree();
				const onProgress = (progress: VisitProgress) => (this.#progress = progress);
				const report = await visitFolder(this.store, files, nowMs, mayGoOn, onProgress, everyYear);
				isNews = hasAny(report.cameIn);
				this.#report = await keepReport(this.store, report);
			} finally {
				this.#progress = undefined;
			}
		});
		if (this.#holdings) await this.look();
		return isNews;
	}

	/** Calls the visit off, after the file that it is at. What was taken over stays; the next visit goes on. */
	stop(): void {
		this.#isStopped = true;
	}

	/** Counts anew whose data the folder holds. */
	async look(): Promise<void> {
		const { holdings } = await reports();
		this.#holdings = await holdings(this.store).catch(() => this.#holdings);
	}

	get #door(): FolderDoor {
		return this.parts.door ?? browserFolderDoor();
	}

	async #settle(handle: FileSystemDirectoryHandle | undefined): Promise<void> {
		this.#handle = handle;
		this.#name = handle?.name ?? '';
		if (!this.#door.pick) this.#access = 'unsupported';
		else if (!handle) this.#access = 'none';
		else this.#access = (await this.#door.mayUse(handle)) ? 'open' : 'ask';
	}

	/** One visit at a time; who asks meanwhile waits for it and then has one of their own. */
	async #visitAs(work: FolderWork): Promise<void> {
		const before = this.#visiting;
		const turn = (async () => {
			await before;
			const handle = this.#handle;
			if (!handle || this.#access !== 'open' || !this.parts.isFree()) return;
			this.#isBusy = true;
			this.#isStopped = false;
			await this.#try(() => this.#patiently(filesIn(handle), work));
			this.#isBusy = false;
		})();
		this.#visiting = turn;
		await turn;
	}

	/** A folder may lie on a drive in the network that is away: what is asked of it then goes unanswered for long, or for ever. */
	async #patiently(files: FolderFiles, work: FolderWork): Promise<void> {
		let askedMs = Infinity;
		const look = setInterval(() => (this.#isSilent = performance.now() - askedMs >= answerWithinMs), 1000);
		const heard = watched(files, (isWaiting) => (askedMs = isWaiting ? performance.now() : Infinity));
		try {
			await work(heard, (this.parts.nowMs ?? Date.now)());
		} finally {
			clearInterval(look);
			this.#isSilent = false;
		}
	}

	async #try(work: () => Promise<void>): Promise<void> {
		try {
			this.#problem = '';
			await work();
		} catch (error) {
			const { Interrupted } = await import('./visit');
			if (isDismissed(error) || error instanceof Interrupted) return;
			if (isForbidden(error)) this.#access = 'ask';
			else this.#problem = wordsFor(error);
		}
	}
}

type FolderWork = (files: FolderFiles, nowMs: number) => Promise<void>;
