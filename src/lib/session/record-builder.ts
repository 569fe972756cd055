import { packReadings } from './columns';
import { recordVersion } from './record';
import type { Reading } from './columns';
import type { JournalEntry, ReadingEntry, SessionStart } from './journal';
import type { CornerEvent, SessionRecord } from './record';
import type { Amendment } from '$lib/rounds/amendment';

interface CornerSoFar {
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

	/** What the first entry said; undefined before it came. */
	get start(): SessionStart | undefined {
		return this.#start;
	}

	/** The latest elapsed ms any entry spoke of, at least 0: how far an unfinished session is known to have come. */
	get lastMs(): number {
		return this.#lastMs;
	}

	/** Takes one entry more, at the same cost however many came before. A second start is ignored. */
	push(entry: JournalEntry): void {
		switch (entry.kind) {
			case 'start':
				this.#start ??= entry.start;
				break;
			case 'reading':
				this.#pushReading(entry);
				break;
			case 'amendment':
				this.#amendments.push(entry.amendment);
				this.#sawMs(entry.amendment.atMs);
				break;
			case 'event':
				this.#corner(entry.corner).events.push(entry.event);
				this.#sawMs(entry.event.ms);
				break;
		}
	}

	/**
	 * The records so far, one a corner, in the order of the start entry's corners; later pushes do not touch
	 * them. `endedMs` is elapsed time. Throws without a start entry, because an empty answer handed to a
	 * sink's `finish` would delete the journal and keep nothing.
	 */
	build(endedMs: number): SessionRecord[] {
		const start = this.#start;
		if (!start) throw new Error('No records without the start entry of their session.');
		return start.corners.map(({ recordId, athlete, strapName, practice }, i) => {
			const corner = this.#corner(i);
			return {
				head: {
					version: recordVersion,
					id: recordId,
					groupId: start.sessionId,
					startedAt: start.startedAt,
					zone: start.zone,
					endedMs: Math.max(0, Math.round(endedMs)),
					plan: start.plan,
					amendments: [...this.#amendments],
					athlete,
					strapName,
					practice,
					events: [...corner.events]
				},
				body: packReadings(corner.readings)
			};
		});
	}

	/** Everything pushed so far, as entries that build the same records; order holds within each kind and corner. */
	entries(): JournalEntry[] {
		const corners = Array.from(this.#corners, ([corner, { readings, events }]) => [
			...readings.map((reading): JournalEntry => ({ kind: 'reading', corner, ...reading })),
			...events.map((event): JournalEntry => ({ kind: 'event', corner, event }))
		]);
		const amendments = this.#amendments.map((amendment): JournalEntry => ({ kind: 'amendment', amendment }));
		return [
			...(this.#start ? [{ kind: 'start' as const, start: this.#start }] : []),
			...amendments,
			...corners.flat()
		];
	}

	#pushReading({ corner, ms, bpm, contact, energyKJ, rrMs }: ReadingEntry): void {
		const { readings } = this.#corner(corner);
		// Columns hold steps that cannot go back; adding 0 turns -0, which JSON does not know, into 0.
		const wholeMs = Math.max(Math.round(ms) + 0, readings.at(-1)?.ms ?? -Infinity);
		const reading: Reading = { ms: wholeMs, bpm, contact, rrMs };
		if (energyKJ !== undefined) reading.energyKJ = energyKJ;
		readings.push(reading);
		this.#sawMs(wholeMs);
	}

	#corner(index: number): CornerSoFar {
		let corner = this.#corners.get(index);
		if (!corner) this.#corners.set(index, (corner = { readings: [], events: [] }));
		return corner;
	}

	#sawMs(ms: number): void {
		this.#lastMs = Math.max(this.#lastMs, ms);
	}
}
