import { packReadings, type Reading } from './columns';
import { longestKeptMs } from './limits';
import { formOf, type CornerEvent } from './head';
import type { SessionRecord } from './body';
import { changePlaces, wasStrapped, wornSoFar, type CornerSoFar } from './corner-so-far';
import { inTime } from './entry-order';
import type { Entrant, JournalEntry, ReadingEntry, SessionStart } from './journal';
import type { Amendment } from '$lib/rounds/amendment';

type HandOverEntry = Extract<JournalEntry, { kind: 'hand over' }>;

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
	/** Those that were not undone. */
	readonly #handOvers: HandOverEntry[] = [];

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
				entry.start.corners.forEach((entrant, corner) => {
					const turns = entry.start.turns?.findIndex((of) => of.some(({ who }) => who === corner));
					const isFirst = entrant.strapName !== undefined && turns !== undefined && turns >= 0;
					this.#enter(corner, entrant, undefined, isFirst ? turns : undefined);
				});
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
			case 'hand over':
				this.#handOver(entry);
				this.#sawMs(entry.ms);
				break;
			case 'hand over undone':
				this.#undoHandOver(entry.corner, entry.from);
				this.#sawMs(entry.ms);
				break;
		}
	}

	/** What was heard in a corner so far, with the straps that it wore, in the order in which it came. */
	heardIn(corner: number): JournalEntry[] {
		return this.#heardIn(corner, this.#of(corner).readings);
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
			([index, corner]) =>
				wasStrapped(corner) && (corner.leftMs === undefined || this.#of(index).readings.length > 0)
		);
		const group = kept.map(([, { entrant }]) => entrant.recordId);
		return kept.map(([index, { entrant, joinedMs, leftMs = Infinity, strapChanges }]) => {
			const { readings, events } = this.#of(index);
			const amendments = this.#amendments.filter(({ atMs }) => atMs <= leftMs);
			const turn = start.turns?.flat().find(({ who }) => who === index)?.rounds;
			return {
				head: {
					version: formOf(start.plan, amendments, strapChanges),
					id: entrant.recordId,
					groupId: start.sessionId,
					startedAt: start.startedAt,
					zone: start.zone,
					endedMs: Math.max(0, Math.round(Math.min(endedMs, leftMs, longestKeptMs))),
					plan: start.plan,
					amendments,
					athlete: entrant.athlete,
					strapName: entrant.strapName ?? strapChanges[0]!.strapName,
					practice: entrant.practice || strapChanges.some(({ practice }) => practice),
					// A signal that is lost is noticed late.
					events: events.toSorted((one, other) => one.ms - other.ms),
					...(joinedMs !== undefined && { joinedMs }),
					...(leftMs < Infinity && { left: true }),
					...(strapChanges.length > 0 && { strapChanges: [...strapChanges] }),
					...(turn && { turn: [...turn] }),
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
		const heard = Array.from(this.#taken, ([corner, { readings, events }]): JournalEntry[] => [
			...this.#heardIn(corner, readings).filter((entry) => entry.kind !== 'strap' || !entry.change.handOver),
			...events.map((event): JournalEntry => ({ kind: 'event', corner, event }))
		]);
		return [
			...(this.#start ? [{ kind: 'start' as const, start: this.#start }] : []),
			...amendments,
			...inTime([...comings, ...heard.flat(), ...this.#handOvers], this.#corners)
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

	#handOver(entry: HandOverEntry): void {
		const { corner, from, ms, strapName, practice } = entry;
		const to = this.#corners.get(corner);
		const giver = from === undefined ? undefined : this.#corners.get(from);
		if (!to) return;
		this.#handOvers.push(entry);
		const change = { ms, strapName, practice };
		giver?.strapChanges.push({ ...change, handOver: 'given away' });
		to.strapChanges.push({ ...change, handOver: 'put on' });
		to.worn = wornSoFar(to);
		if (!giver) return;
		giver.worn = wornSoFar(giver);
		changePlaces(giver, to);
	}

	#undoHandOver(corner: number, from: number): void {
		const [to, giver] = [this.#corners.get(corner), this.#corners.get(from)];
		const changeMs = to?.strapChanges.at(-1)?.ms;
		if (!to || !giver || changeMs === undefined) return;
		this.#handOvers.pop();
		to.strapChanges.pop();
		giver.strapChanges.pop();
		for (const one of [to, giver]) one.worn = wornSoFar(one);
		changePlaces(giver, to);
		const [worn, all] = [this.#of(corner), this.#of(from)];
		const first = worn.readings.findIndex(({ ms }) => ms > changeMs);
		if (first !== -1) all.readings.push(...worn.readings.splice(first));
		// A sleep was noted with each who was there.
		const isOfStrap = ({ kind, ms }: CornerEvent) => kind !== 'slept' && ms >= changeMs;
		all.events.push(...worn.events.filter(isOfStrap));
		worn.events = worn.events.filter((event) => !isOfStrap(event));
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

	#enter(index: number, entrant: Entrant, joinedMs?: number, turns?: number): void {
		if (this.#corners.has(index)) return;
		const present = [...this.#corners.values()].filter(({ leftMs }) => leftMs === undefined);
		const taken = new Set(present.map(({ number }) => number));
		let number = 1;
		while (taken.has(number)) number++;
		const corner = { entrant, number, joinedMs, strapChanges: [], ...(turns !== undefined && { turns }) };
		this.#corners.set(index, { ...corner, worn: wornSoFar(corner) });
		this.#of(index);
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
