import type { LiveView } from './live-view';
import { browserLocks, isRecordingLocked, recordingUnlocked, takeRecordingLock } from './recording-lock';

const channelName = 'corner-minute-live';
/** A session at sixty times the pace changes far more often than anybody can watch. */
const shortestStepMs = 250;
/** What was heard longer ago is not shown as the present. */
const silentMs = 3000;

/** Without a view: the session is over. */
interface Message {
	view?: LiveView;
}

/**
 * What the tabs of one browser know of each other: one of them records, the others say so and can watch. Where
 * the browser lacks Web Locks or broadcast channels nobody is kept from anything.
 */
export class Tabs {
	#isRecordingElsewhere = $state(false);
	#watched = $state.raw<LiveView>();
	#channel: BroadcastChannel | undefined;
	#giveBack: (() => void) | undefined;
	#isTaking = false;
	#isWaiting = false;
	#shown: { atMs: number; view: LiveView } | undefined;
	#silence: ReturnType<typeof setTimeout> | undefined;

	constructor(private readonly locks = browserLocks()) {}

	get isRecordingElsewhere(): boolean {
		return this.#isRecordingElsewhere;
	}
	/** The session in the other tab at this moment; absent while nothing is heard of it. */
	get watched(): LiveView | undefined {
		return this.#watched;
	}

	/** Listens to the other tabs from now on; the answer ends it. For the browser only. */
	listen(): () => void {
		const { BroadcastChannel } = globalThis as Partial<typeof globalThis>;
		this.#channel = BroadcastChannel && new BroadcastChannel(channelName);
		this.#channel?.addEventListener('message', ({ data }) => this.#hear((data as Message).view));
		void this.look();
		return () => {
			clearTimeout(this.#silence);
			this.#channel?.close();
			this.#channel = undefined;
		};
	}

	/** Finds out whether another tab records; resolves as soon as that is known. */
	async look(): Promise<void> {
		const isLocked = await isRecordingLocked(this.locks);
		if (!isLocked || this.#giveBack || this.#isTaking || this.#isWaiting) return;
		this.#isRecordingElsewhere = true;
		void this.#waitForEnd();
	}

	/** Makes this tab the one that records. Answers false where one does already, be it this one. */
	async take(): Promise<boolean> {
		if (this.#giveBack || this.#isTaking) return false;
		this.#isTaking = true;
		this.#giveBack = await takeRecordingLock(this.locks);
		this.#isTaking = false;
		if (!this.#giveBack) void this.look();
		return this.#giveBack !== undefined;
	}

	/** This tab records no longer. */
	giveBack(): void {
		this.#giveBack?.();
		this.#giveBack = undefined;
		this.#shown = undefined;
		this.#send({});
	}

	/** Lets the other tabs see the session: at every change of phase or pause, else four times a second at most. */
	show(view: LiveView): void {
		const before = this.#shown;
		const atMs = performance.now();
		const isSame =
			before?.view.phase?.startMs === view.phase?.startMs && before?.view.isPaused === view.isPaused;
		if (before && isSame && atMs - before.atMs < shortestStepMs) return;
		this.#shown = { atMs, view };
		// An error of the store is no plain data in every browser; that there is one is all a watcher needs.
		this.#send({ view: { ...view, writeProblem: view.writeProblem && String(view.writeProblem) } });
	}

	async #waitForEnd(): Promise<void> {
		this.#isWaiting = true;
		await recordingUnlocked(this.locks);
		this.#isWaiting = false;
		this.#isRecordingElsewhere = false;
		this.#hear(undefined);
	}

	#send(message: Message): void {
		this.#channel?.postMessage(message);
	}

	#hear(view: LiveView | undefined): void {
		clearTimeout(this.#silence);
		this.#watched = view;
		if (!view) return;
		this.#silence = setTimeout(() => (this.#watched = undefined), silentMs);
		if (!this.#isRecordingElsewhere) void this.look();
	}
}
