import { cuesOf } from '$lib/bell/cues';
import type { BellSettings } from '$lib/bell/settings';
import type { Ringer } from '$lib/bell/ringer';
import type { Amendment } from '$lib/rounds/amendment';
import type { Plan } from '$lib/rounds/plan';
import { ranMs } from '$lib/rounds/timeline';
import { realClock } from '$lib/time/clock';
import { promptEveryS } from '$lib/rounds/guided-plans';
import type { JournalEntry, SessionStart, Sink } from '$lib/record/journal';
import { believedMs } from '$lib/record/limits';
import { viewOf, type LiveView } from './live-view';
import { practiceEffort } from './practice-effort';
import type { AthleteSnapshot, SessionRecord } from '$lib/record/record';
import { Recorder } from './recorder';
import type { Roster } from './roster.svelte';
import { SessionCorners } from './session-corners.svelte';
import type { Tabs } from './tabs.svelte';
import { lastMsOf } from '$lib/review/unfinished';

/** Longer than this without the page, and going on begins in a pause: nobody boxed to a bell that was silent. */
const longestGapMs = 60_000;

/** No round and no rest is shorter; a double click easily is (own rule). */
const sameBellMs = 1500;

/** What a session runs on. */
export interface SessionEnvironment {
	roster: Roster;
	ringer: Ringer;
	/** `isFound`: a journal of it must lie in the store already. */
	openSink: (sessionId: string, isFound: boolean) => Sink;
	/** Told of the session, for those who watch it from another tab. */
	tabs?: Pick<Tabs, 'show' | 'giveBack'>;
	newId: () => string;
	wallNowMs: () => number;
}

/**
 * Start was pressed at `originMs` of the straps' clock: that is elapsed zero. The athletes stand in the roster's
 * corners in order, and each needs a strap there.
 */
export function startSession(
	environment: SessionEnvironment,
	plan: Plan,
	athletes: readonly AthleteSnapshot[],
	bell: BellSettings,
	originMs: number
): RunningSession {
	const { roster, newId, wallNowMs } = environment;
	const places = athletes.map((athlete, i) => {
		const seat = roster.corners[i]?.strap.seat;
		if (!seat) throw new Error('A corner needs a strap.');
		return { athlete, seat };
	});
	const start: SessionStart = {
		sessionId: newId(),
		startedAt: new Date(wallNowMs()).toISOString(),
		zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
		plan,
		corners: places.map(({ athlete, seat: { strap } }) => ({
			recordId: newId(),
			athlete,
			strapName: strap.name,
			practice: strap.practice
		}))
	};
	const recorder = recorderOf(environment, start, originMs);
	places.forEach(({ seat }, corner) => {
		const earlier = seat.readings.map(({ ms, measurement }) => ({
			ms: Math.round(ms - originMs),
			...measurement
		}));
		recorder.takeEarlier(corner, earlier);
		recorder.attach(corner, seat.strap);
	});
	return new RunningSession(environment, recorder, bell);
}

/**
 * Goes on with a session that was left unfinished, without its strap. Time has run on meanwhile; after a
 * long gap it begins in a pause. A practice session's clock stood still while nobody looked.
 */
export function resumeSession(
	environment: SessionEnvironment,
	start: SessionStart,
	history: readonly JournalEntry[],
	bell: BellSettings
): RunningSession {
	const { roster, wallNowMs } = environment;
	roster.clear();
	const lastMs = lastMsOf(history);
	const isPractice = start.corners.every(({ practice }) => practice);
	// Tried at speed before, practice would leave a clock behind that no real strap beats to.
	if (!isPractice) roster.pace.set(1);
	const goneMs = Math.max(0, wallNowMs() - Date.parse(start.startedAt) - lastMs);
	const elapsedMs = lastMs + (isPractice ? 0 : believedMs(goneMs));
	const recorder = recorderOf(environment, start, roster.pace.clock.nowMs() - elapsedMs, history);
	// The corner that stays is the session's first now; alone, it is again that of whoever was chosen last.
	const [first, another] = recorder.present;
	roster.first.athleteId =
		first === undefined || another === undefined
			? undefined
			: recorder.cornerOf(first)!.entrant.athlete.athleteId;
	if (!isPractice && goneMs > longestGapMs) recorder.amend('pause', lastMs);
	return new RunningSession(environment, recorder, bell);
}

function recorderOf(
	{ roster, openSink, wallNowMs }: SessionEnvironment,
	start: SessionStart,
	originMs: number,
	history: readonly JournalEntry[] = []
): Recorder {
	const sink = openSink(start.sessionId, history.length > 0);
	const { clock } = roster.pace;
	return new Recorder({ start, clock, originMs, writeClock: realClock(), sink, wallNowMs }, history);
}

/** A session from Start until it is kept or given up; what it shows is derived from the recorder at each packet and wake. */
export class RunningSession {
	/** Who stands in which corner. */
	readonly corners: SessionCorners;
	#stage = $state<'running' | 'saving' | 'kept' | 'not kept'>('running');
	#view = $state.raw<LiveView>();
	#records = $state.raw<readonly SessionRecord[]>([]);
	#saveProblem = $state.raw<unknown>();
	/** Absent once the session has ended. */
	#recorder: Recorder | undefined;
	/** When the session looks again by itself, on its own clock. */
	#wake: { atMs: number; cancel: () => void } | undefined;
	#keepAgain: (() => Promise<void>) | undefined;
	/** What the store has not answered yet. */
	#unanswered: Promise<unknown> | undefined;
	#isGivenBack = false;

	constructor(
		private readonly environment: SessionEnvironment,
		recorder: Recorder,
		private bell: BellSettings
	) {
		this.#recorder = recorder;
		const { roster, ringer } = environment;
		this.corners = new SessionCorners(roster, () => this.#recorder, environment.newId);
		ringer.configure(bell);
		recorder.onChange(() => this.#look());
		recorder.pulseDue = () => {
			const isHeard = this.#speed === 1 && !recorder.session.plan.followsGymBell;
			if (isHeard && this.bell.on.pulse) ringer.ring('pulse');
		};
		recorder.onSlept = () => this.#planBell();
		this.corners.begin(recorder);
		roster.pace.isHeld = true;
		this.#planBell();
		this.#look();
	}

	get stage() {
		return this.#stage;
	}
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

	amend(kind: Amendment['kind']): void {
		if (this.#recorder?.amend(kind)) this.#planBell();
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
		if (this.#stage === 'not kept') await this.#keepAgain?.();
	}

	/**
	 * What could not be kept is left to itself. Other tabs may take what lies in the store of it, once that has answered
	 * all it was asked: an answer that comes late would take the journal from under them.
	 */
	async leave(): Promise<void> {
		await this.#unanswered;
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
		this.bell = bell;
		this.environment.ringer.configure(bell);
		this.#planBell();
	}

	/** How hard the simulated athletes work at a time of the straps' clock. */
	effortAt(clockMs: number): number {
		const session = this.#recorder?.session;
		const elapsedMs = session ? clockMs - session.originMs : 0;
		return practiceEffort(session?.phaseAt(elapsedMs), elapsedMs, session?.plan.kind);
	}

	get #speed(): number {
		return this.environment.roster.pace.speed;
	}

	/** The bell is silent where the session runs faster than real time. */
	#planBell(): void {
		const recorder = this.#recorder;
		if (!recorder || this.#speed !== 1) return;
		const { session } = recorder;
		if (session.plan.followsGymBell) return;
		const cues = cuesOf(session.timeline, {
			...session.plan,
			on: this.bell.on,
			promptEveryS: promptEveryS(session.plan)
		});
		this.environment.ringer.schedule(cues, session.originMs);
	}

	/** Brings the view to the present, and sees to the next wake: when the second on the screen changes. */
	#look(): void {
		const recorder = this.#recorder;
		if (!recorder) return;
		const nowMs = recorder.advance();
		const { endMs } = recorder.session;
		if (nowMs >= endMs) {
			// The drop of the closing minute is whole only now: whoever is told it aloud has no other view of it.
			this.#show(recorder, viewOf(recorder, endMs - 1));
			return void this.#end(endMs);
		}
		const clockMs = recorder.session.originMs + nowMs;
		// Once a second, by the wake, or by a packet that comes before a late one.
		if (!this.#wake || this.#wake.atMs <= clockMs) this.environment.ringer.topUp();
		const view = viewOf(recorder, nowMs);
		// Heeded once a rest, and each change brings the view up to date again.
		if (view.byHeart?.isDown && recorder.amend('rest over')) return this.#planBell();
		this.#show(recorder, view);
		const toChangeMs = view.followsGymBell ? 1000 - (view.ranMs % 1000) : view.remainingMs % 1000;
		this.#wakeBy(clockMs, clockMs + (view.isPaused ? 1000 : toChangeMs || 1000));
	}

	#show({ session }: Recorder, view: LiveView): void {
		this.#view = view;
		this.environment.tabs?.show({ view, timeline: session.timeline, speed: this.#speed });
	}

	/** A wake that comes before `atMs` stays, so that a packet need not take it back: whoever is woken asks the clock. */
	#wakeBy(nowMs: number, atMs: number): void {
		// The same moment, worked out at another, may differ by a rounding.
		if (this.#wake && this.#wake.atMs > nowMs && this.#wake.atMs < atMs + 1) return;
		this.#wake?.cancel();
		const wake = () => {
			this.#wake = undefined;
			this.#look();
		};
		this.#wake = { atMs, cancel: this.environment.roster.pace.clock.wakeAt(atMs, wake) };
	}

	#end(endedMs: number): Promise<void> {
		const recorder = this.#close();
		if (!recorder) return Promise.resolve();
		this.#keepAgain = () => this.#keep(recorder, endedMs);
		return this.#keepAgain();
	}

	async #keep(recorder: Recorder, endedMs: number): Promise<void> {
		this.#stage = 'saving';
		const { records, problem, later } = await recorder.end(endedMs);
		this.#records = records;
		this.#unanswered = later;
		this.#settle(problem);
		void later?.then((outcome) => this.#settle(outcome));
	}

	#settle(problem: unknown): void {
		// Until it is kept no other tab may go on with what of it lies in the store.
		if (problem === undefined) this.#giveBack();
		this.#saveProblem = problem;
		this.#stage = problem === undefined ? 'kept' : 'not kept';
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
		this.environment.ringer.schedule([], 0);
		const recorder = this.#recorder;
		this.#recorder = undefined;
		return recorder;
	}
}
