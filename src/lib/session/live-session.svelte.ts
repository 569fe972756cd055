import type { BellSettings } from '$lib/bell/settings';
import type { Ringer } from '$lib/bell/ringer';
import type { Plan } from '$lib/rounds/plan';
import type { JournalEntry, SessionStart } from '$lib/record/journal';
import type { AthleteSnapshot } from '$lib/record/head';
import { Roster } from './roster.svelte';
import type { RunningSession, SessionEnvironment } from './running-session.svelte';
import type { Sharing } from './start-session';
import type { StrapChoice } from './strap-choice.svelte';
import type { Tabs } from './tabs.svelte';

export type Stage = 'setting up' | RunningSession['stage'];

/** What a session needs of the other rooms. */
export interface Outside {
	ringer: Ringer;
	openSink: SessionEnvironment['openSink'];
	readBefore?: SessionEnvironment['readBefore'];
	whyBarred?: SessionEnvironment['whyBarred'];
	ceilingOf?: SessionEnvironment['ceilingOf'];
}

export interface LiveSessionParts {
	/** Fetches what is not wanted before Start. Asked until it succeeds once. */
	fetchOutside: () => Promise<Outside>;
	/** Told of the session, for those who watch it from another tab. */
	tabs?: Pick<Tabs, 'show' | 'giveBack'>;
	newId?: () => string;
	wallNowMs?: () => number;
}

type StartSession = Pick<typeof import('./start-session'), 'startSession' | 'resumeSession' | 'planGoneOn'>;

interface Loaded extends StartSession {
	environment: SessionEnvironment;
}

/** The session as the screens see it: what is being set up, and what runs once it has been started. */
export class LiveSession {
	readonly roster = new Roster((clockMs) => this.#running?.effortAt(clockMs));
	#running = $state.raw<RunningSession>();
	#loaded = $state.raw<Loaded>();
	#loading: Promise<Loaded> | undefined;

	constructor(private readonly parts: LiveSessionParts) {}

	/** The first strap, where most sessions have no other. */
	get straps(): StrapChoice {
		return (this.roster.strapped[0] ?? this.roster.first).strap;
	}
	get stage(): Stage {
		return this.#running?.stage ?? 'setting up';
	}
	/** From Start until the next session is set up. */
	get running(): RunningSession | undefined {
		return this.#running;
	}
	/** What rings; absent until `load` is done. */
	get ringer(): Ringer | undefined {
		return this.#loaded?.environment.ringer;
	}

	/**
	 * Fetches what a running session needs; `begin` and `goOn` want it done. The page asks for it once the first
	 * screen stands and has nothing else to do, and awaits it at Start. Rejects where something cannot be fetched; the
	 * next call tries again.
	 */
	async load(): Promise<void> {
		this.#loading ??= this.#fetch();
		try {
			this.#loaded = await this.#loading;
		} catch (problem) {
			this.#loading = undefined;
			throw problem;
		}
	}

	/** A strap is on, so Start is near: `load`, and the sounds are made. */
	async prepare(): Promise<void> {
		await this.load();
		this.ringer?.prepare();
	}

	/** What Start does first: `load`, and the sound is woken, which browsers allow in the handler of a press. */
	async wake(): Promise<void> {
		if (!this.#loaded) await this.load();
		void this.ringer?.wake();
	}

	/**
	 * Starts a session: see `startSession`. As with `goOn`, whoever calls has made this tab the one that records; it is that
	 * until the session is kept or discarded.
	 *
	 * @param pressedMs when Start was pressed: elapsed zero, unless the clock is a fast one. What was fetched since would then
	 * have taken rounds, in which a simulated athlete stood and waited.
	 */
	begin(
		plan: Plan,
		athletes: readonly AthleteSnapshot[],
		bell: BellSettings,
		pressedMs = this.straps.clock.nowMs(),
		sharing?: Sharing
	): void {
		// The screens have said so before: this holds whichever of them asks.
		const barred = this.#whyBarred([...athletes, ...(sharing?.bare ?? [])], plan);
		if (barred !== undefined) throw new Error(barred);
		const { startSession, environment } = this.#needed;
		const originMs = this.roster.pace.speed === 1 ? pressedMs : this.straps.clock.nowMs();
		this.#run(startSession(environment, plan, athletes, bell, originMs, sharing));
	}

	/**
	 * Goes on with a session that was left unfinished: see `resumeSession`. Answers why not, where somebody who took part does
	 * not do its plan today; then nothing runs.
	 */
	goOn(start: SessionStart, history: readonly JournalEntry[], bell: BellSettings): string | undefined {
		const joined = history.flatMap((entry) => (entry.kind === 'join' ? entry.entrant : []));
		const athletes = [...start.corners, ...joined].map(({ athlete }) => athlete);
		const { resumeSession, planGoneOn, environment } = this.#needed;
		const barred = this.#whyBarred(athletes, planGoneOn(start, history));
		if (barred !== undefined) return barred;
		this.#run(resumeSession(environment, start, history, bell));
		return undefined;
	}

	/** In this order: a simulated strap that is brought up to the present asks how hard its athlete works. */
	#run(session: RunningSession): void {
		this.#running = session;
		session.begin();
	}

	#whyBarred(athletes: readonly AthleteSnapshot[], plan: Plan): string | undefined {
		for (const { athleteId } of athletes) {
			const why = this.#needed.environment.whyBarred?.(athleteId, plan);
			if (why !== undefined) return why;
		}
		return undefined;
	}

	/** False start: nothing of it stays. */
	async discard(): Promise<void> {
		const gone = this.#running?.discard();
		this.#running = undefined;
		await gone;
	}

	/** Back to setting up, with the same strap; a session that could not be kept is left: see `leave`. */
	reset(): void {
		void this.#running?.leave();
		this.#running = undefined;
	}

	async #fetch(): Promise<Loaded> {
		const { fetchOutside, tabs, newId = () => crypto.randomUUID(), wallNowMs = Date.now } = this.parts;
		const [{ startSession, resumeSession, planGoneOn, zoneNow }, outside] = await Promise.all([
			import('./start-session'),
			fetchOutside()
		]);
		// Asked for the first time it takes a slow laptop a tenth of a second, which Start need not wait for.
		zoneNow();
		const environment = { ...outside, roster: this.roster, tabs, newId, wallNowMs };
		return { startSession, resumeSession, planGoneOn, environment };
	}

	get #needed(): Loaded {
		if (!this.#loaded) throw new Error('Await load() before a session runs.');
		return this.#loaded;
	}
}
