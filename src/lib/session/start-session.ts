import type { BellSettings } from '$lib/bell/settings';
import type { JournalEntry, SessionStart } from '$lib/record/journal';
import { believedMs } from '$lib/record/limits';
import type { AthleteSnapshot } from '$lib/record/head';
import { lastMsOf } from '$lib/review/unfinished';
import type { Plan } from '$lib/rounds/plan';
import { blocksAfter } from '$lib/rounds/timeline';
import { realClock } from '$lib/time/clock';
import { Recorder } from './recorder';
import { RunningSession, type SessionEnvironment } from './running-session.svelte';

/** Longer than this without the page, and going on begins in a pause: nobody boxed to a bell that was silent. */
const longestGapMs = 60_000;

/** Where the session takes place: its IANA name, as the computer has it. */
export const zoneNow = () => Intl.DateTimeFormat().resolvedOptions().timeZone;

/** Who takes part besides those who begin with a strap, and how straps are shared. */
export interface Sharing {
	bare: readonly AthleteSnapshot[];
	/** For each strap that is shared: who, by the place among all (those with a strap first), and in which rounds. */
	turns: NonNullable<SessionStart['turns']>;
}

export const nobodyShares: Sharing = { bare: [], turns: [] };

/**
 * Start was pressed at `originMs` of the straps' clock: that is elapsed zero. The athletes stand in the roster's
 * corners in order, and each needs a strap there; whoever shares one, or has none, comes behind them.
 */
export function startSession(
	environment: SessionEnvironment,
	plan: Plan,
	athletes: readonly AthleteSnapshot[],
	bell: BellSettings,
	originMs: number,
	{ bare, turns }: Sharing = nobodyShares
): RunningSession {
	const { roster, newId, wallNowMs } = environment;
	const places = athletes.map((athlete, i) => {
		const seat = roster.strapped[i]?.strap.seat;
		if (!seat) throw new Error('A corner needs a strap.');
		return { athlete, seat };
	});
	const start: SessionStart = {
		sessionId: newId(),
		startedAt: new Date(wallNowMs()).toISOString(),
		zone: zoneNow(),
		plan,
		corners: [
			...places.map(({ athlete, seat: { strap } }) => ({
				recordId: newId(),
				athlete,
				strapName: strap.name,
				practice: strap.practice
			})),
			...bare.map((athlete) => ({ recordId: newId(), athlete, practice: false }))
		],
		...(turns.length > 0 && { turns })
	};
	const recorder = recorderOf(environment, start, originMs);
	places.forEach(({ seat }, corner) => {
		const earlier = seat.readings.map(({ ms, measurement }) => ({
			ms: Math.round(ms - originMs),
			...measurement
		}));
		recorder.takeEarlier(corner, earlier);
		recorder.straps.attach(corner, seat.strap);
	});
	return new RunningSession(environment, recorder, bell);
}

/**
 * Goes on with a session that was left unfinished, at first without its straps: those that the browser still permits
 * come back by themselves. Time has run on meanwhile; after a long gap it begins in a pause. A practice session's clock
 * stood still while nobody looked.
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
	const [first, another] = recorder.straps.wearing;
	roster.first.athleteId =
		first === undefined || another === undefined
			? undefined
			: recorder.cornerOf(first)!.entrant.athlete.athleteId;
	if (!isPractice && goneMs > longestGapMs) recorder.amend('pause', lastMs);
	const running = new RunningSession(environment, recorder, bell);
	void running.corners.bringBack();
	return running;
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

/** The plan of a session that is gone on with, with the blocks that came while it ran: each of them is asked for. */
export function planGoneOn({ plan }: SessionStart, history: readonly JournalEntry[]): Plan {
	const amendments = history.flatMap((entry) => (entry.kind === 'amendment' ? entry.amendment : []));
	return { ...plan, blocks: blocksAfter(plan, amendments) };
}
