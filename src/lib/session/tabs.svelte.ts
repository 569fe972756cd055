import { oldBeatMs } from '$lib/record/limits';
import type { Hearer } from './hearing';
import type { LiveView } from './live-view';
import { lockHeldFor, sessionUnlocked, takeLockToRestore, takeSessionLock } from './session-lock';
import type { LiveSnapshot, Teller, Word } from './telling';

const channelName = 'corner-minute-live';
/** A session at sixty times the pace changes far more often than anybody can watch. */
const shortestStepMs = 250;

/**
 * Something told, if need be with the question whether anybody hears it, and the answer to that; what goes before it
 * where it is long; the question of a tab that has just opened or missed something; or, with none of them, that the
 * session is over.
 */
interface Message {
	told?: Word;
	before?: Word;
	isAnybodyThere?: boolean;
	hears?: true;
	asks?: true;
}

/**
 * What the tabs of one browser know of each other: one of them records, the others say so and can watch. Where
 * the browser lacks Web Locks or broadcast channels nobody is kept from anything.
 */
export class Tabs {
	#isRecordingElsewhere = $state(false);
	#isRestoringElsewhere = $state(false);
	#isRestoringHere = $state(false);
	#heard = $state.raw<{ told: LiveSnapshot; atMs: number }>();
	#isSilent = $state(false);
	#channel: BroadcastChannel | undefined;
	#giveBack: (() => void) | undefined;
	#isTaking = false;
	#isWaiting = false;
	#shown: { atMs: number; told: LiveSnapshot; teller: Teller } | undefined;
	#toldAtMs = 0;
	/** Fetched once there is something to hear: most tabs are alone. */
	#hearer: Promise<Hearer> | undefined;
	/** Words are taken in one after the other. */
	#hearing = Promise.resolve();
	/** Everything has been asked for: what is said before that comes is passed over. */
	#isAsking = false;
	/** Another tab has said that it is there: until then there is nobody to tell of every beat. */
	#isWatched = false;
	#silence: ReturnType<typeof setTimeout> | undefined;

	/** @param locks undefined in a browser without them: everybody may record there */
	constructor(private readonly locks: LockManager | undefined) {}

	get isRecordingElsewhere(): boolean {
		return this.#isRecordingElsewhere;
	}
	/** A backup is being restored, in this tab or another: nobody records meanwhile. */
	get isRestoring(): boolean {
		return this.#isRestoringHere || this.#isRestoringElsewhere;
	}
	/** The session in the other tab at this moment; absent while nothing is heard of it. */
	get watched(): LiveView | undefined {
		return this.#isSilent ? undefined : this.#heard?.told.view;
	}
	/** What was told last of a session that is not over, be it long ago, and when on this page's `performance.now()`. */
	get heard(): { told: LiveSnapshot; atMs: number } | undefined {
		return this.#heard;
	}

	/** Listens to the other tabs from now on; the answer ends it. For the browser only. */
	listen(): () => void {
		const { BroadcastChannel } = globalThis as Partial<typeof globalThis>;
		this.#channel = BroadcastChannel && new BroadcastChannel(channelName);
		this.#channel?.addEventListener('message', ({ data }) => {
			const { told, before, isAnybodyThere, hears, asks } = data as Message;
			if (hears || asks) this.#isWatched = true;
			else this.#hearInTurn(told ?? before);
			if (asks) this.#answer();
			if (isAnybodyThere) this.#send({ hears: true });
		});
		this.#ask();
		void this.look();
		return () => {
			clearTimeout(this.#silence);
			this.#channel?.close();
			this.#channel = undefined;
			this.#isAsking = false;
		};
	}

	/** Finds out whether another tab records or restores; resolves as soon as that is known. */
	async look(): Promise<void> {
		const heldFor = await lockHeldFor(this.locks);
		if (!heldFor || this.#giveBack || this.#isTaking || this.#isWaiting) return;
		if (heldFor === 'restoring') this.#isRestoringElsewhere = true;
		else this.#isRecordingElsewhere = true;
		void this.#waitForEnd();
	}

	/** Makes this tab the one that records. Answers false where one does already, be it this one, or one restores. */
	take(): Promise<boolean> {
		return this.#takeWith(takeSessionLock);
	}

	/**
	 * Restores while nobody records, and lets nobody begin to. Answers false where a tab records or restores already:
	 * nothing is done then. Rejects as `work` does.
	 */
	async restoreAlone(work: () => Promise<void>): Promise<boolean> {
		this.#isRestoringHere = await this.#takeWith(takeLockToRestore);
		if (!this.#isRestoringHere) return false;
		try {
			await work();
		} finally {
			this.#isRestoringHere = false;
			this.giveBack();
		}
		return true;
	}

	/** This tab records or restores no longer. */
	giveBack(): void {
		this.#giveBack?.();
		this.#giveBack = undefined;
		this.#shown = undefined;
		this.#isWatched = false;
		this.#send({});
	}

	/**
	 * Lets the other tabs see the session: at every change of the timeline, the phase or a pause; else four times a second
	 * at most, and only where one has said that it is there.
	 *
	 * @param teller the session's own
	 */
	show(told: LiveSnapshot, teller: Teller): void {
		const before = this.#shown;
		const atMs = performance.now();
		const isSame =
			before !== undefined &&
			before.told.timeline === told.timeline &&
			before.told.view.phase?.startMs === told.view.phase?.startMs &&
			before.told.view.isPaused === told.view.isPaused;
		this.#shown = { atMs, told, teller };
		if (isSame && (!this.#isWatched || atMs - this.#toldAtMs < shortestStepMs)) return;
		this.#toldAtMs = atMs;
		this.#tell(told, teller, false);
	}

	/** A tab that opens in mid-session hears at once where it stands, from the first round on. */
	#answer(): void {
		if (!this.#shown) return;
		const { atMs, told, teller } = this.#shown;
		const sinceMs = (performance.now() - atMs) * told.speed;
		this.#tell({ ...told, view: { ...told.view, elapsedMs: told.view.elapsedMs + sinceMs } }, teller, true);
	}

	#tell(told: LiveSnapshot, teller: Teller, isAnew: boolean): void {
		const { view } = told;
		// An error of the store is no plain data in every browser; that there is one is all a watcher needs.
		const writeProblem = view.writeProblem && String(view.writeProblem);
		for (const word of teller.wordsFor({ ...told, view: { ...view, writeProblem } }, isAnew))
			this.#send(word.head ? { told: word, isAnybodyThere: !this.#isWatched } : { before: word });
	}

	#ask(): void {
		if (!this.#isAsking) this.#send({ asks: true });
		this.#isAsking = true;
	}

	async #takeWith(takeLock: typeof takeSessionLock): Promise<boolean> {
		if (this.#giveBack || this.#isTaking) return false;
		this.#isTaking = true;
		this.#giveBack = await takeLock(this.locks);
		this.#isTaking = false;
		if (!this.#giveBack) void this.look();
		return this.#giveBack !== undefined;
	}

	async #waitForEnd(): Promise<void> {
		this.#isWaiting = true;
		await sessionUnlocked(this.locks);
		this.#isWaiting = false;
		this.#isRecordingElsewhere = this.#isRestoringElsewhere = false;
		this.#hearInTurn(undefined);
	}

	#send(message: Message): void {
		this.#channel?.postMessage(message);
	}

	/** @param word absent where the session is over */
	#hearInTurn(word: Word | undefined): void {
		this.#hearing = this.#hearing.then(() => this.#hear(word)).catch(() => (this.#hearer = undefined));
	}

	async #hear(word: Word | undefined): Promise<void> {
		if (word) this.#hearer ??= import('./hearing').then(({ Hearer }) => new Hearer());
		const hearer = await this.#hearer;
		const told = word && hearer?.hear(word);
		if (told === 'missed') return this.#ask();
		this.#isAsking = false;
		if (!word) hearer?.forget();
		else if (!told) return;
		clearTimeout(this.#silence);
		this.#heard = told && { told, atMs: performance.now() };
		this.#isSilent = false;
		if (!told) return;
		this.#silence = setTimeout(() => (this.#isSilent = true), oldBeatMs);
		if (!this.#isRecordingElsewhere) void this.look();
	}
}
