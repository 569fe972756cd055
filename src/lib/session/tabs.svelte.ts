import type { Phase } from '$lib/rounds/timeline';
import type { LiveView } from './live-view';
import {
	browserLocks,
	lockHeldFor,
	recordingUnlocked,
	takeLockToRestore,
	takeRecordingLock
} from './recording-lock';

const channelName = 'corner-minute-live';
/** A session at sixty times the pace changes far more often than anybody can watch. */
const shortestStepMs = 250;
/** What was heard longer ago is not shown as the present. */
const silentMs = 3000;

/**
 * What the tab that records tells the others: enough to go on with the clock until the next word. `view.elapsedMs` is
 * the anchor, the moment at which it was told.
 */
export interface Told {
	view: LiveView;
	timeline: readonly Phase[];
	/** So many times as fast as life the session runs. */
	speed: number;
}

/**
 * Something told, if need be with the question whether anybody hears it, and the answer to that; the question of a tab
 * that has just opened; or, with none of them, that the session is over.
 */
interface Message {
	told?: Told;
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
	#heard = $state.raw<{ told: Told; atMs: number }>();
	#isSilent = $state(false);
	#channel: BroadcastChannel | undefined;
	#giveBack: (() => void) | undefined;
	#isTaking = false;
	#isWaiting = false;
	#shown: { atMs: number; told: Told } | undefined;
	#toldAtMs = 0;
	/** Another tab has said that it is there: until then there is nobody to tell of every beat. */
	#isWatched = false;
	#silence: ReturnType<typeof setTimeout> | undefined;

	constructor(private readonly locks = browserLocks()) {}

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
	get heard(): { told: Told; atMs: number } | undefined {
		return this.#heard;
	}

	/** Listens to the other tabs from now on; the answer ends it. For the browser only. */
	listen(): () => void {
		const { BroadcastChannel } = globalThis as Partial<typeof globalThis>;
		this.#channel = BroadcastChannel && new BroadcastChannel(channelName);
		this.#channel?.addEventListener('message', ({ data }) => {
			const { told, isAnybodyThere, hears, asks } = data as Message;
			if (hears || asks) this.#isWatched = true;
			else this.#hear(told);
			if (asks) this.#answer();
			if (isAnybodyThere) this.#send({ hears: true });
		});
		this.#send({ asks: true });
		void this.look();
		return () => {
			clearTimeout(this.#silence);
			this.#channel?.close();
			this.#channel = undefined;
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
		return this.#takeWith(takeRecordingLock);
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
	 */
	show(told: Told): void {
		const before = this.#shown;
		const atMs = performance.now();
		const isSame =
			before !== undefined &&
			before.told.timeline === told.timeline &&
			before.told.view.phase?.startMs === told.view.phase?.startMs &&
			before.told.view.isPaused === told.view.isPaused;
		this.#shown = { atMs, told };
		if (isSame && (!this.#isWatched || atMs - this.#toldAtMs < shortestStepMs)) return;
		this.#toldAtMs = atMs;
		this.#tell(told);
	}

	/** A tab that opens in mid-session hears at once where it stands. */
	#answer(): void {
		if (!this.#shown) return;
		const { atMs, told } = this.#shown;
		const sinceMs = (performance.now() - atMs) * told.speed;
		this.#tell({ ...told, view: { ...told.view, elapsedMs: told.view.elapsedMs + sinceMs } });
	}

	#tell(told: Told): void {
		const { view } = told;
		// An error of the store is no plain data in every browser; that there is one is all a watcher needs.
		const writeProblem = view.writeProblem && String(view.writeProblem);
		this.#send({ told: { ...told, view: { ...view, writeProblem } }, isAnybodyThere: !this.#isWatched });
	}

	async #takeWith(takeLock: typeof takeRecordingLock): Promise<boolean> {
		if (this.#giveBack || this.#isTaking) return false;
		this.#isTaking = true;
		this.#giveBack = await takeLock(this.locks);
		this.#isTaking = false;
		if (!this.#giveBack) void this.look();
		return this.#giveBack !== undefined;
	}

	async #waitForEnd(): Promise<void> {
		this.#isWaiting = true;
		await recordingUnlocked(this.locks);
		this.#isWaiting = false;
		this.#isRecordingElsewhere = this.#isRestoringElsewhere = false;
		this.#hear(undefined);
	}

	#send(message: Message): void {
		this.#channel?.postMessage(message);
	}

	#hear(told: Told | undefined): void {
		clearTimeout(this.#silence);
		this.#heard = told && { told, atMs: performance.now() };
		this.#isSilent = false;
		if (!told) return;
		this.#silence = setTimeout(() => (this.#isSilent = true), silentMs);
		if (!this.#isRecordingElsewhere) void this.look();
	}
}
