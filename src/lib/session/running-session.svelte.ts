import type { BellSettings } from '$lib/bell/settings';
import type { Ringer } from '$lib/bell/ringer';
import type { Amendment } from '$lib/rounds/amendment';
import { blockOf } from '$lib/rounds/blocks';
import type { Block } from '$lib/rounds/plan';
import { ranMs } from '$lib/rounds/timeline';
import type { Sink } from '$lib/record/journal';
import { CeilingWatch, type CeilingOf } from './ceiling-watch';
import { Keeping } from './keeping.svelte';
import { viewOf, type LiveView } from './live-view';
import { practiceEffort } from './practice-effort';
import type { SessionRecord } from '$lib/record/body';
import type { Recorder } from './recorder';
import type { Roster } from './roster.svelte';
import { SessionBell } from './session-bell';
import { SessionCorners, type ReadBefore, type WhyBarred } from './session-corners.svelte';
import type { Quiet } from './spoken';
import type { Tabs } from './tabs.svelte';
import { Teller } from './telling';

/** No round and no rest is shorter; a double click easily is (own rule). */
const sameBellMs = 1500;

/** A clock sixty times as fast has more moments than anybody sees: within a phase one is shown so often, ms as people wait. */
const shownEveryMs = 250;

/** What a session runs on. */
export interface SessionEnvironment {
	roster: Roster;
	ringer: Ringer;
	/** `isFound`: a journal of it must lie in the store already. */
	openSink: (sessionId: string, isFound: boolean) => Sink;
	/** What an athlete's sessions before this one tell of a session of this plan; see `knownBefore`. */
	readBefore?: ReadBefore;
	/** Why an athlete does not do this plan today, whatever screen asks for it; see `blockedBy`. */
	whyBarred?: WhyBarred;
	/** What rate an athlete is not to go over today; see `CeilingWatch`. */
	ceilingOf?: CeilingOf;
	/** Told of the session, for those who watch it from another tab. */
	tabs?: Pick<Tabs, 'show' | 'giveBack'>;
	newId: () => string;
	wallNowMs: () => number;
}

/**
 * A session from Start until it is kept or given up. Every packet, wake and press goes one way: into the recorder; then
 * `#look` derives once what it comes to, and lets that out: bell, screen, other tabs, the next wake, the end.
 */
export class RunningSession {
	/** Who stands in which corner. */
	readonly corners: SessionCorners;
	readonly #bell: SessionBell;
	readonly #ceilings: CeilingWatch;
	readonly #teller = new Teller();
	#view = $state.raw<LiveView>();
	#keeping = $state.raw<Keeping>();
	/** Absent once the session has ended. */
	#recorder: Recorder | undefined;
	/** When the session looks again by itself, on its own clock. */
	#wake: { atMs: number; cancel: () => void } | undefined;
	#isGivenBack = false;

	constructor(
		private readonly environment: SessionEnvironment,
		recorder: Recorder,
		bell: BellSettings
	) {
		this.#recorder = recorder;
		const { roster, ringer, newId, readBefore, whyBarred, ceilingOf } = environment;
		this.#ceilings = new CeilingWatch(ceilingOf ?? (() => undefined));
		this.corners = new SessionCorners(roster, newId, readBefore, {
			recorder: () => this.#recorder,
			onChange: () => this.#advance(),
			whyBarred
		});
		this.#bell = new SessionBell(ringer, bell, this.#speed === 1, recorder);
		recorder.onChange(() => this.#look(false));
		this.corners.begin(recorder);
		roster.pace.isHeld = true;
	}

	/** Brings it to the present and goes on from there; once. */
	begin(): void {
		this.#advance();
	}

	get stage(): 'running' | Keeping['stage'] {
		return this.#keeping?.stage ?? 'running';
	}
	get view(): LiveView | undefined {
		return this.#view;
	}
	/** What the session became, once it has ended. */
	get records(): readonly SessionRecord[] {
		return this.#keeping?.records ?? [];
	}
	/** Why the records could not be stored; they are still in `records`. */
	get saveProblem(): unknown {
		return this.#keeping?.problem;
	}

	/** Amends the session at this moment, where that is possible; several amendments come one after the other. */
	press(...kinds: readonly Amendment['kind'][]): void {
		for (const kind of kinds) this.#recorder?.amend(kind);
		this.#look();
	}

	/** Adds a block at the end. Answers why not, where somebody who is there does not do it today. */
	addBlock(block: Block): string | undefined {
		const why = this.corners.whyNotDo(block.activity);
		if (why === undefined) this.#recorder?.amend('add block', undefined, block);
		this.#look();
		return why;
	}

	/**
	 * The gym's own bell rang at this moment. It goes before a stop of the clock that nobody has ended. Answers false
	 * where the last bell rang a moment ago: that press is the same one, twice.
	 */
	followBell(): boolean {
		const session = this.#recorder?.session;
		const nowMs = session?.elapsedMs() ?? 0;
		const phase = session?.phaseAt(nowMs);
		if (!session || !phase) return false;
		if (phase.kind !== 'get ready' && ranMs(phase, nowMs) < sameBellMs) return false;
		if (session.accepts('resume', nowMs)) this.press('resume', 'next');
		else this.press('next');
		return true;
	}

	/**
	 * Ends a session that the computer slept through, at once: after a sleep there is no bell for the closing
	 * minute to fall from.
	 */
	finishAsleep(): void {
		this.press('finish', 'finish');
	}

	/** A mark for one corner, or for everybody. */
	mark(corner?: number): void {
		for (const one of this.#recorder?.present ?? [])
			if (corner === undefined || corner === one) this.#recorder?.mark(one);
	}

	/** The running session as far as it has come, to be exported where the store refuses it. */
	recordsSoFar(): readonly SessionRecord[] {
		return this.#recorder?.recordsSoFar() ?? [];
	}

	/** Tries once more to keep what the store refused at the end; the records stay in hand where it refuses again. */
	async keepAgain(): Promise<void> {
		if (this.stage === 'not kept') await this.#keeping?.keep();
	}

	/**
	 * What could not be kept is left to itself. Other tabs may take what lies in the store of it, once that has answered
	 * all it was asked.
	 */
	async leave(): Promise<void> {
		await this.#keeping?.answered();
		this.#giveBack();
	}

	/** Gives it up: nothing of it stays. */
	async discard(): Promise<void> {
		try {
			await this.#close()?.discard();
		} finally {
			this.#giveBack();
		}
	}

	changeBell(bell: BellSettings): void {
		this.#bell.change(bell);
		this.#look();
	}

	/** How long the bell has been quiet and will be, ms. */
	quietAt(elapsedMs: number): Quiet {
		return this.#bell.quietAt(elapsedMs);
	}

	/** How hard the simulated athletes work at a time of the straps' clock. */
	effortAt(clockMs: number): number {
		const session = this.#recorder?.session;
		const elapsedMs = session ? clockMs - session.originMs : 0;
		const phase = session?.phaseAt(elapsedMs);
		const aim = session && phase && blockOf(session.blocks, phase).aim;
		return practiceEffort(phase, elapsedMs, session?.plan.kind, aim);
	}

	get #speed(): number {
		return this.environment.roster.pace.speed;
	}

	/** Nothing has come, but time has gone. */
	#advance(isAsked = true): void {
		this.#recorder?.advance();
		this.#look(isAsked);
	}

	/**
	 * Derives what the recorder comes to at the moment it has been brought to, and lets it out.
	 *
	 * @param isAsked somebody pressed something, and is shown at once what it did
	 */
	#look(isAsked = true): void {
		const recorder = this.#recorder;
		if (!recorder) return;
		const { endMs } = recorder.session;
		if (recorder.nowMs >= endMs) {
			// The drop of the closing minute is whole only now: whoever is told it aloud has no other view of it.
			this.#show(recorder, viewOf(recorder, endMs - 1));
			return this.#end(recorder, endMs);
		}
		let view = viewOf(recorder, recorder.nowMs);
		// Heeded once a rest.
		const isRestOver = view.byHeart?.isDown && recorder.amend('rest over', view.elapsedMs);
		if (isRestOver) view = viewOf(recorder, recorder.nowMs);
		const clockMs = recorder.session.originMs + view.elapsedMs;
		// By the wake, or by a packet that comes before a late one.
		const isSecond = !this.#wake || this.#wake.atMs <= clockMs;
		this.#bell.follow(recorder, isSecond);
		const watched = this.#ceilings.follow(view);
		if (watched.isDue) this.#bell.alarm();
		if (isAsked || !this.#isSoonAfter(view)) this.#show(recorder, watched.view);
		const toChangeMs = view.followsGymBell ? 1000 - (view.ranMs % 1000) : view.remainingMs % 1000;
		this.#wakeBy(clockMs, clockMs + (view.isPaused ? 1000 : toChangeMs || 1000));
	}

	#show({ session }: Recorder, view: LiveView): void {
		this.#view = view;
		this.environment.tabs?.show({ view, timeline: session.timeline, speed: this.#speed }, this.#teller);
	}

	/** Whether a fast clock has shown the phase so lately that this moment of it may go by. */
	#isSoonAfter({ phase, elapsedMs }: LiveView): boolean {
		const shown = this.#view;
		if (this.#speed === 1 || shown?.phase?.startMs !== phase?.startMs) return false;
		return shown !== undefined && elapsedMs - shown.elapsedMs < shownEveryMs * this.#speed;
	}

	/** A wake that comes before `atMs` stays, so that a packet need not take it back: whoever is woken asks the clock. */
	#wakeBy(nowMs: number, atMs: number): void {
		// The same moment, worked out at another, may differ by a rounding.
		if (this.#wake && this.#wake.atMs > nowMs && this.#wake.atMs < atMs + 1) return;
		this.#wake?.cancel();
		const wake = () => {
			this.#wake = undefined;
			this.#advance(false);
		};
		this.#wake = { atMs, cancel: this.environment.roster.pace.clock.wakeAt(atMs, wake) };
	}

	#end(recorder: Recorder, endedMs: number): void {
		this.#close();
		this.#keeping = new Keeping(recorder, endedMs, () => this.#giveBack());
		void this.#keeping.keep();
	}

	/** Once only: what this tab records next is none of this session's. */
	#giveBack(): void {
		if (this.#isGivenBack) return;
		this.#isGivenBack = true;
		this.environment.tabs?.giveBack();
	}

	#close(): Recorder | undefined {
		this.environment.roster.pace.isHeld = false;
		this.#wake?.cancel();
		this.#bell.stop();
		const recorder = this.#recorder;
		this.#recorder = undefined;
		return recorder;
	}
}
