import type { Strap, StrapReading } from '$lib/gatt/strap';
import type { JournalEntry } from '$lib/record/journal';
import type { CornerEvent } from '$lib/record/head';
import type { SessionClock } from './session-clock';

interface Hearing {
	/** A packet of the corner's strap. What it says of a moment up to `fromMs` of elapsed time is none of the corner's. */
	onPacket(corner: number, packet: StrapReading, fromMs: number): void;
	onEvent(corner: number, event: CornerEvent): void;
	/** All that there was to hear at this moment has been heard, by a packet or a change of a strap's state. */
	onHeard(by: 'packet' | 'state'): void;
}

/** Which strap answers for which corner, and what each is heard to say. One strap's fault touches no other corner. */
export class StrapLinks {
	readonly #links = new Map<number, { strap: Strap; stop: () => void }>();
	/** Corners whose record says that the signal is lost. */
	readonly #lost: Set<number>;
	#isCatchingUp = false;

	/** @param history the journal of the session that is gone on with */
	constructor(
		private readonly session: SessionClock,
		history: readonly JournalEntry[],
		private readonly hearing: Hearing
	) {
		this.#lost = lostIn(history);
	}

	strapOf(corner: number): Strap | undefined {
		return this.#links.get(corner)?.strap;
	}

	/** After `fromMs` of elapsed time this strap answers for the corner, and the one before no longer. */
	set(corner: number, strap: Strap, fromMs = -Infinity): void {
		this.cut(corner);
		const { hearing, session } = this;
		let malformed = strap.malformedCount;
		const look = () => {
			const ms = Math.round(session.elapsedMs());
			for (; malformed < strap.malformedCount; malformed++)
				hearing.onEvent(corner, { kind: 'malformed packet', ms });
			const { state } = strap;
			const wasLost = this.#lost.has(corner);
			if (state.kind === 'lost' && !wasLost) {
				this.#lost.add(corner);
				// Silence is noticed late: the signal was lost when the last packet came.
				const lostMs = Math.max(fromMs, Math.round(session.elapsedAt(state.sinceMs)));
				hearing.onEvent(corner, { kind: 'signal lost', ms: lostMs });
				// One that is given back while it is lost has not come back.
			} else if (state.kind === 'connected' && wasLost) {
				this.#lost.delete(corner);
				hearing.onEvent(corner, { kind: 'signal back', ms });
			}
		};
		const stops = [
			strap.onReading((packet) => {
				hearing.onPacket(corner, packet, fromMs);
				// Nobody judges the present before all that is due by now has come.
				if (!this.#owesBy(session.elapsedMs(), strap) && !this.#isCatchingUp) hearing.onHeard('packet');
			}),
			strap.onChange(() => {
				look();
				hearing.onHeard('state');
			})
		];
		this.#links.set(corner, { strap, stop: () => stops.forEach((stop) => stop()) });
		look();
	}

	/** Brings in what is due by now and was not sent, since nobody was woken for it. Tells no change: the caller looks. */
	catchUp(): void {
		if (this.#isCatchingUp) return;
		this.#isCatchingUp = true;
		for (const { strap } of this.#links.values()) strap.catchUp();
		this.#isCatchingUp = false;
	}

	/** What was heard in `corner` of late was `from` all along, be it that the signal is lost; see `set`. */
	giveBack(corner: number, from: number, strap: Strap, fromMs: number): void {
		this.cut(corner);
		if (this.#lost.delete(corner)) this.#lost.add(from);
		this.set(from, strap, fromMs);
	}

	/** Whether more is due by a moment of elapsed time than has come. */
	oweBy(elapsedMs: number): boolean {
		return [...this.#links.values()].some(({ strap }) => this.#owesBy(elapsedMs, strap));
	}

	#owesBy(elapsedMs: number, { nextDueMs }: Strap): boolean {
		return this.session.elapsedAt(nextDueMs) <= elapsedMs;
	}

	/** Nothing answers for the corner any more. */
	cut(corner: number): void {
		this.#links.get(corner)?.stop();
		this.#links.delete(corner);
	}

	cutAll(): void {
		for (const corner of [...this.#links.keys()]) this.cut(corner);
	}
}

/** Corners whose signal was lost and not back at the end of a journal. */
function lostIn(history: readonly JournalEntry[]): Set<number> {
	const lost = new Set<number>();
	for (const entry of history) {
		if (entry.kind !== 'event') continue;
		if (entry.event.kind === 'signal lost') lost.add(entry.corner);
		if (entry.event.kind === 'signal back') lost.delete(entry.corner);
	}
	return lost;
}
