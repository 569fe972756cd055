import { packReadings, type Reading } from './columns';
import { longestKeptMs } from './limits';
import { recordVersion } from './check';
import type { CornerEvent, StrapChange } from './head';
import type { SessionRecord } from './body';
import type { Entrant, JournalEntry, ReadingEntry, SessionStart } from './journal';
import type { Amendment } from '$lib/rounds/amendment';

/** What is known of one corner besides its readings. */
export interface CornerSoFar {
	readonly entrant: Entrant;
	/** 1, 2, ...: the lowest that was free when the athlete came, so that nobody's number changes. */
	readonly number: number;
	/** Absent for those who were there at Start. */
	readonly joinedMs?: number;
	leftMs?: number;
	readonly strapChanges: StrapChange[];
}

/** The strap that answers for a corner now, or did last. */
export const wornBy = ({ entrant, strapChanges }: CornerSoFar): Pick<StrapChange, 'strapName' | 'practice'> =>
	strapChanges.at(-1) ?? entrant;

interface CornerTaken {
	readings: Reading[];
	events: CornerEvent[];
}

/**
 * Makes records out of journal entries, pushed in the order in which they happened: live while a session
 * runs, and again from a journal that was left unfinished. Both give the same records.
 */
export class RecordBuilder {
	#start: SessionStart | undefined;
	#lastMs = 0;
	readonly #amendments: Amendment[] = [];
	readonly #corners = new Map<number, CornerSoFar>();
	readonly #taken = new Map<number, CornerTaken>();

	/** What the first entry said; undefined before it came. */
	get start(): SessionStart | undefined {
		return this.#start;
	}

	/** Every corner by the number that entries name it by, those that were left again included. */
	get corners(): ReadonlyMap<number, CornerSoFar> {
		return this.#corners;
	}

	/** The latest elapsed ms any entry spoke of, at least 0: how far an unfinished session is known to have come. */
	get lastMs(): number {
		return this.#lastMs;
	}

	/** Takes one entry more, at the same cost however many came before. A second start is ignored. */
	push(entry: JournalEntry): void {
		switch (entry.kind) {
			case 'start':
				if (this.#start) break;
				this.#start = entry.start;
				entry.start.corners.forEach((entrant, corner) => this.#enter(corner, entrant));
				break;
			case 'reading':
				this.#pushReading(entry);
				break;
			case 'amendment':
				this.#amendments.push(entry.amendment);
				this.#sawMs(entry.amendment.atMs);
				break;
			case 'event':
				this.#of(entry.corner).events.push(entry.event);
				this.#sawMs(entry.event.ms);
				break;
			case 'join':
				this.#enter(entry.corner, entry.entrant, Math.max(0, entry.ms));
				this.#sawMs(entry.ms);
				break;
			case 'leave': {
				const corner = this.#corners.get(entry.corner);
				if (corner) corner.leftMs ??= entry.ms;
				this.#sawMs(entry.ms);
				break;
			}
			case 'strap':
				this.#corners.get(entry.corner)?.strapChanges.push(entry.change);
				this.#sawMs(entry.change.ms);
				break;
		}
	}

	/**
	 * The records so far, one a corner, in the order of the corners; later pushes do not touch them. Whoever left
	 * before a single reading came has none. `endedMs` is elapsed time. Throws without a start entry, because an
	 * empty answer handed to a sink's `finish` would delete the journal and keep nothing.
	 */
	build(endedMs: number): SessionRecord[] {
		const start = this.#start;
		if (!start) throw new Error('No records without the start entry of their session.');
		const kept = [...this.#corners].filter(
			([index, { leftMs }]) => leftMs === undefined || this.#of(index).readings.length > 0
		);
		const group = kept.map(([, { entrant }]) => entrant.recordId);
		return kept.map(([index, { entrant, joinedMs, leftMs = Infinity, strapChanges }]) => {
			const { readings, events } = this.#of(index);
			return {
				head: {
					version: recordVersion,
					id: entrant.recordId,
					groupId: start.sessionId,
					startedAt: start.startedAt,
					zone: start.zone,
					endedMs: Math.max(0, Math.round(Math.min(endedMs, leftMs, longestKeptMs))),
					plan: start.plan,
					amendments: this.#amendments.filter(({ atMs }) => atMs <= leftMs),
					athlete: entrant.athlete,
					strapName: entrant.strapName,
					practice: entrant.practice || strapChanges.some(({ practice }) => practice),
					events: [...events],
					...(joinedMs !== undefined && { joinedMs }),
					...(leftMs < Infinity && { left: true }),
					...(strapChanges.length > 0 && { strapChanges: [...strapChanges] }),
					...(group.length > 1 && { group })
				},
				body: packReadings(readings)
			};
		});
	}

	/** Everything pushed so far, as entries that build the same records and replay to the same corners. */
	entries(): JournalEntry[] {
		const amendments = this.#amendments.map((amendment): JournalEntry => ({ kind: 'amendment', amendment }));
		const comings = [...this.#corners].flatMap(([corner, { entrant, joinedMs, leftMs }]): JournalEntry[] => [
			...(joinedMs === undefined ? [] : [{ kind: 'join' as const, corner, ms: joinedMs, entrant }]),
			...(leftMs === undefined ? [] : [{ kind: 'leave' as const, corner, ms: leftMs }])
		]);
		const corners = Array.from(this.#taken, ([corner, { readings, events }]): JournalEntry[] => [
			...this.#heardIn(corner, readings),
			...events.map((event): JournalEntry => ({ kind: 'event', corner, event }))
		]);
		return [
			...(this.#start ? [{ kind: 'start' as const, start: this.#start }] : []),
			...amendments,
			// Which number a corner has depends on who had left before.
			...comings.toSorted((one, other) => msOf(one) - msOf(other)),
			...corners.flat()
		];
	}

	/** The readings of a corner, each strap's behind the entry that says whose they are. */
	#heardIn(corner: number, readings: readonly Reading[]): JournalEntry[] {
		const changes = this.#corners.get(corner)?.strapChanges ?? [];
		const entries: JournalEntry[] = [];
		let next = 0;
		for (const reading of readings) {
			for (let change = changes[next]; change && change.ms < reading.ms; change = changes[++next])
				entries.push({ kind: 'strap', corner, change });
			entries.push({ kind: 'reading', corner, ...reading });
		}
		return [...entries, ...changes.slice(next).map((change) => ({ kind: 'strap' as const, corner, change }))];
	}

	#pushReading({ corner, ms, bpm, contact, energyKJ, rrMs }: ReadingEntry): void {
		const { readings } = this.#of(corner);
		// Columns hold steps that cannot go back; adding 0 turns -0, which JSON does not know, into 0.
		const wholeMs = Math.max(Math.round(ms) + 0, readings.at(-1)?.ms ?? -Infinity);
		const reading: Reading = { ms: wholeMs, bpm, contact, rrMs };
		if (energyKJ !== undefined) reading.energyKJ = energyKJ;
		readings.push(reading);
		this.#sawMs(wholeMs);
	}

	#enter(index: number, entrant: Entrant, joinedMs?: number): void {
		if (this.#corners.has(index)) return;
		const present = [...this.#corners.values()].filter(({ leftMs }) => leftMs === undefined);
		const taken = new Set(present.map(({ number }) => number));
		let number = 1;
		while (taken.has(number)) number++;
		this.#corners.set(index, { entrant, number, joinedMs, strapChanges: [] });
	}

	#of(index: number): CornerTaken {
		let taken = this.#taken.get(index);
		if (!taken) this.#taken.set(index, (taken = { readings: [], events: [] }));
		return taken;
	}

	#sawMs(ms: number): void {
		this.#lastMs = Math.max(this.#lastMs, ms);
	}
}

const msOf = (entry: JournalEntry) => ('ms' in entry ? entry.ms : 0);
