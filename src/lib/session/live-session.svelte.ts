import { cuesOf } from '$lib/bell/cues';
import type { Ringer } from '$lib/bell/ringer';
import type { BellSettings } from '$lib/bell/settings';
import type { Amendment } from '$lib/rounds/amendment';
import type { Plan } from '$lib/rounds/plan';
import { ranMs } from '$lib/rounds/timeline';
import { realClock } from '$lib/time/clock';
import { promptEveryS } from './guided-plans';
import type { JournalEntry, SessionStart, Sink } from './journal';
import { loadEngine, type Engine } from './live-engine';
import type { LiveView } from './live-view';
import { practiceEffort } from './practice-effort';
import type { AthleteSnapshot, SessionRecord } from './record';
import type { Recorder } from './recorder';
import { Roster } from './roster.svelte';
import { SessionCorners } from './session-corners.svelte';
import type { StrapChoice } from './strap-choice.svelte';
import type { Tabs } from './tabs.svelte';

/** Longer than this without the page, and going on begins in a pause: nobody boxed to a bell that was silent. */
const longestGapMs = 60_000;

/** No round and no rest is shorter; a double click easily is (own rule). */
const sameBellMs = 1500;

export type Stage = 'setting up' | 'running' | 'saving' | 'kept' | 'not kept';

export interface LiveSessionParts {
	openSink: (sessionId: string) => Sink;
	ringer: Ringer;
	/** Told of the session, for those who watch it from another tab. */
	tabs?: Pick<Tabs, 'show' | 'giveBack'>;
	newId?: () => string;
	wallNowMs?: () => number;
}

/**
 * The session as the screens see it: what is being set up, what runs, what became of it. One gateway for
 * every change; what it shows is derived from the recorder at each packet and each wake.
 */
export class LiveSession {
	readonly roster = new Roster((clockMs) => this.#effortAt(clockMs));
	/** Who stands in which corner while the session runs. */
	readonly corners: SessionCorners;
	#stage = $state<Stage>('setting up');
	#view = $state.raw<LiveView>();
	#records = $state.raw<readonly SessionRecord[]>([]);
	#saveProblem = $state.raw<unknown>();
	#recorder: Recorder | undefined;
	#engine: Engine | undefined;
	#loading: Promise<Engine> | undefined;
	#bell: BellSettings | undefined;
	#cancelWake: (() => void) | undefined;
	#keepAgain: (() => Promise<unknown>) | undefined;
	readonly #writeClock = realClock();
	readonly #newId: () => string;
	readonly #wallNowMs: () => number;

	constructor(private readonly parts: LiveSessionParts) {
		this.#newId = parts.newId ?? (() => crypto.randomUUID());
		this.#wallNowMs = parts.wallNowMs ?? Date.now;
		this.corners = new SessionCorners(this.roster, () => this.#recorder, this.#newId);
	}

	/** The strap of the first corner, where most sessions have no other. */
	get straps(): StrapChoice {
		return this.roster.first.strap;
	}

	get stage(): Stage {
		return this.#stage;
	}
	/** Absent until Start. */
	get view(): LiveView | undefined {
		return this.#view;
	}
	/** What the session became, once it has ended. */
	get records(): readonly SessionRecord[] {
		return this.#records;
	}
	/** Why the records could not be stored; they are still in `records`. */
	get saveProblem(): unknown {
		return this.#saveProblem;
	}

	/**
	 * Fetches what a running session needs; `begin` and `goOn` want it done. The page asks for it as soon as the
	 * first screen stands, and awaits it at Start. Rejects where it cannot be fetched; the next call tries again.
	 */
	async load(): Promise<void> {
		this.#loading ??= loadEngine();
		try {
			this.#engine = await this.#loading;
		} catch (problem) {
			this.#loading = undefined;
			throw problem;
		}
	}

	/**
	 * Start was pressed at `originMs` of the straps' clock: that is elapsed zero. The athletes stand in the roster's
	 * corners in order, and each needs a strap there. As with `goOn`, whoever calls has made this tab the one that
	 * records; it is that until the session is kept or discarded.
	 */
	begin(
		plan: Plan,
		athletes: readonly AthleteSnapshot[],
		bell: BellSettings,
		originMs = this.straps.clock.nowMs()
	): void {
		const places = athletes.map((athlete, i) => {
			const seat = this.roster.corners[i]?.strap.seat;
			if (!seat) throw new Error('A corner needs a strap.');
			return { athlete, seat };
		});
		const start: SessionStart = {
			sessionId: this.#newId(),
			startedAt: new Date(this.#wallNowMs()).toISOString(),
			zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
			plan,
			corners: places.map(({ athlete, seat: { strap } }) => ({
				recordId: this.#newId(),
				athlete,
				strapName: strap.name,
				practice: strap.practice
			}))
		};
		const recorder = this.#open(start, originMs, bell);
		places.forEach(({ seat }, corner) => {
			const earlier = seat.readings.map(({ ms, measurement }) => ({
				ms: Math.round(ms - originMs),
				...measurement
			}));
			recorder.takeEarlier(corner, earlier);
			recorder.attach(corner, seat.strap);
		});
		this.#run();
	}

	/**
	 * Goes on with a session that was left unfinished, without its strap. Time has run on meanwhile; after a
	 * long gap it begins in a pause. A practice session's clock stood still while nobody looked.
	 */
	goOn(start: SessionStart, history: readonly JournalEntry[], bell: BellSettings): void {
		this.roster.clear();
		const lastMs = this.#loaded().lastMsOf(history);
		const isPractice = start.corners.every(({ practice }) => practice);
		const sinceStartMs = Math.max(lastMs, this.#wallNowMs() - Date.parse(start.startedAt));
		const elapsedMs = isPractice ? lastMs : sinceStartMs;
		const recorder = this.#open(start, this.straps.clock.nowMs() - elapsedMs, bell, history);
		if (elapsedMs - lastMs > longestGapMs) recorder.amend('pause', lastMs);
		this.#run();
	}

	amend(kind: Amendment['kind']): void {
		if (!this.#recorder?.amend(kind)) return;
		this.#planBell();
		this.#look();
	}

	/**
	 * The gym's own bell rang at this moment. It goes before a stop of the clock that nobody has ended. Answers false
	 * where the last bell rang a moment ago: that press is the same one, twice.
	 */
	followBell(): boolean {
		const session = this.#recorder?.session;
		const phase = session?.phaseAt(session.elapsedMs());
		if (!session || !phase) return false;
		if (phase.kind !== 'get ready' && ranMs(phase, session.elapsedMs()) < sameBellMs) return false;
		if (session.accepts('resume', session.elapsedMs())) this.amend('resume');
		this.amend('next');
		return true;
	}

	/**
	 * Ends a session that the computer slept through, at once: after a sleep there is no bell for the closing
	 * minute to fall from.
	 */
	finishAsleep(): void {
		this.amend('finish');
		this.amend('finish');
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
		const keep = this.#keepAgain;
		if (this.#stage !== 'not kept' || !keep) return;
		this.#stage = 'saving';
		this.#settle(await keep());
	}

	/** False start: nothing of it stays. */
	async discard(): Promise<void> {
		const recorder = this.#close();
		this.reset();
		try {
			await recorder?.discard();
		} finally {
			this.parts.tabs?.giveBack();
		}
	}

	/** Back to setting up, with the same strap. */
	reset(): void {
		this.#stage = 'setting up';
		this.#view = undefined;
		this.#records = [];
		this.#saveProblem = undefined;
		this.#keepAgain = undefined;
	}

	changeBell(bell: BellSettings): void {
		this.#bell = bell;
		this.parts.ringer.configure(bell);
		this.#planBell();
	}

	#open(
		start: SessionStart,
		originMs: number,
		bell: BellSettings,
		history: readonly JournalEntry[] = []
	): Recorder {
		this.#bell = bell;
		this.parts.ringer.configure(bell);
		const recorder = new (this.#loaded().Recorder)(
			{
				start,
				clock: this.straps.clock,
				originMs,
				writeClock: this.#writeClock,
				sink: this.parts.openSink(start.sessionId),
				wallNowMs: this.#wallNowMs
			},
			history
		);
		this.#recorder = recorder;
		return recorder;
	}

	#run(): void {
		const recorder = this.#recorder!;
		recorder.onChange(() => this.#look());
		recorder.pulseDue = () => {
			const isHeard = this.straps.speed === 1 && !recorder.session.plan.followsGymBell;
			if (isHeard && this.#bell?.on.pulse) this.parts.ringer.ring('pulse');
		};
		recorder.onSlept = () => this.#planBell();
		this.corners.begin(recorder);
		this.roster.pace.isHeld = true;
		this.#stage = 'running';
		this.#planBell();
		this.#look();
	}

	/** The bell is silent where the session runs faster than real time. */
	#planBell(): void {
		const recorder = this.#recorder;
		if (!recorder || !this.#bell || this.straps.speed !== 1) return;
		const { session } = recorder;
		if (session.plan.followsGymBell) return;
		const cues = cuesOf(session.timeline, {
			...session.plan,
			on: this.#bell.on,
			promptEveryS: promptEveryS(session.plan)
		});
		this.parts.ringer.schedule(cues, session.originMs);
	}

	/** Brings the view to the present, and sees to the next wake: when the second on the screen changes. */
	#look(): void {
		const recorder = this.#recorder;
		if (!recorder) return;
		const nowMs = recorder.advance();
		if (nowMs >= recorder.session.endMs) return void this.#end(recorder.session.endMs);
		this.parts.ringer.topUp();
		const view = this.#loaded().viewOf(recorder, nowMs);
		// Heeded once a rest, and each change brings the view up to date again.
		if (view.byHeart?.isDown && recorder.amend('rest over')) return this.#planBell();
		this.#view = view;
		this.parts.tabs?.show({ view, timeline: recorder.session.timeline, speed: this.straps.speed });
		this.#cancelWake?.();
		const toChangeMs = view.followsGymBell ? 1000 - (view.ranMs % 1000) : view.remainingMs % 1000;
		const untilChangeMs = view.isPaused ? 1000 : toChangeMs || 1000;
		const wakeMs = recorder.session.originMs + nowMs + untilChangeMs;
		this.#cancelWake = this.straps.clock.wakeAt(wakeMs, () => this.#look());
	}

	async #end(endedMs: number): Promise<void> {
		const recorder = this.#close();
		if (!recorder) return;
		this.#stage = 'saving';
		const { records, problem } = await recorder.end(endedMs);
		this.parts.tabs?.giveBack();
		this.#records = records;
		this.#settle(problem);
		this.#keepAgain = async () => (await recorder.end(endedMs)).problem;
	}

	#settle(problem: unknown): void {
		this.#saveProblem = problem;
		this.#stage = problem === undefined ? 'kept' : 'not kept';
	}

	#close(): Recorder | undefined {
		this.roster.pace.isHeld = false;
		this.#cancelWake?.();
		this.parts.ringer.schedule([], 0);
		const recorder = this.#recorder;
		this.#recorder = undefined;
		return recorder;
	}

	#loaded(): Engine {
		if (!this.#engine) throw new Error('Await load() before a session runs.');
		return this.#engine;
	}

	#effortAt(clockMs: number): number {
		const session = this.#recorder?.session;
		const elapsedMs = session ? clockMs - session.originMs : 0;
		return practiceEffort(session?.phaseAt(elapsedMs), elapsedMs, session?.plan.kind);
	}
}
