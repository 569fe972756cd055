import { wornBy, isWearing } from '$lib/record/corner-so-far';
import type { Strap } from '$lib/gatt/strap';
import type { StrapChange } from '$lib/record/head';
import type { JournalEntry } from '$lib/record/journal';
import type { SessionLog } from './session-log';
import type { StrapLinks } from './strap-links';

/** So long a hand-over can be undone (own rule). */
export const undoMs = 30_000;

/** The last hand-over, at `ms` of elapsed time. */
export interface UndoableHandOver {
	from: number;
	to: number;
	ms: number;
}

/** The session that runs, brought to the present by `advance`, which answers elapsed ms. */
interface Running {
	advance(): number;
	readonly nowMs: number;
}

/** Who wears which strap while a session runs. Every change is an entry of the session, and moves the link with it. */
export class WornStraps {
	#last: UndoableHandOver | undefined;

	constructor(
		private readonly log: SessionLog,
		private readonly links: StrapLinks,
		private readonly running: Running
	) {}

	/** The strap that answers for a corner; absent while a resumed session waits for one. */
	of(corner: number): Strap | undefined {
		return this.links.strapOf(corner);
	}

	/** The corners that have a strap on, be it a silent one, in order. */
	get wearing(): readonly number[] {
		return this.log.live.wearing;
	}

	/** The hand-over that can still be undone at this moment. */
	get undoable(): UndoableHandOver | undefined {
		return this.#last && this.running.nowMs - this.#last.ms < undoMs ? this.#last : undefined;
	}

	/** From now on this strap answers for the corner. That it is another one than before, the record says. */
	attach(corner: number, strap: Strap): void {
		const known = this.log.corners.get(corner);
		if (!known) return;
		if (!isWearing(known)) return void this.#putOn(corner, strap);
		const worn = wornBy(known);
		if (worn.strapName === strap.name && worn.practice === strap.practice) this.links.set(corner, strap);
		else this.#change(corner, strap);
	}

	/** The straps of two corners change places: each answered for the wrong athlete until now. */
	swap(one: number, other: number): void {
		if (one === other || ![one, other].every((corner) => this.wearing.includes(corner))) return;
		const straps = [this.of(one), this.of(other)];
		this.running.advance();
		for (const [corner, strap] of [[one, straps[1]] as const, [other, straps[0]] as const]) {
			if (strap) this.#change(corner, strap, true);
			else this.links.cut(corner);
		}
	}

	/**
	 * The strap goes from one chest to another, in whatever phase. Answers false where it cannot: the one has no strap
	 * that answers, or the other has one.
	 */
	handOver(from: number, to: number): boolean {
		const strap = this.of(from);
		const isFree = this.log.live.present.includes(to) && !this.wearing.includes(to);
		if (!strap || !this.wearing.includes(from) || !isFree) return false;
		const ms = this.#putOn(to, strap, from);
		this.#last = { from, to, ms };
		return true;
	}

	/** The last hand-over never was: all that the strap has sent is its first wearer's. Answers whether that was possible. */
	undo(): boolean {
		const last = this.undoable;
		const strap = last && this.of(last.to);
		if (!strap) return false;
		const ms = this.running.advance();
		this.#last = undefined;
		this.log.note({ kind: 'hand over undone', corner: last.to, from: last.from, ms });
		this.links.giveBack(last.to, last.from, strap, ms);
		return true;
	}

	/** Whoever leaves takes their strap along: nothing of it is handed back. */
	cut(corner: number): void {
		this.#last = undefined;
		this.links.cut(corner);
	}

	#putOn(corner: number, strap: Strap, from?: number): number {
		const ms = this.running.advance();
		const { name: strapName, practice } = strap;
		const entry: JournalEntry = { kind: 'hand over', corner, ms, strapName, practice };
		this.log.note(from === undefined ? entry : { ...entry, from });
		this.#last = undefined;
		if (from !== undefined) this.links.cut(from);
		this.links.set(corner, strap, ms);
		return ms;
	}

	#change(corner: number, strap: Strap, isSwapped = false): void {
		const ms = this.running.advance();
		const { name: strapName, practice } = strap;
		const change: StrapChange = { ms, strapName, practice, ...(isSwapped && { swapped: true }) };
		this.log.note({ kind: 'strap', corner, change });
		this.#last = undefined;
		this.links.set(corner, strap, ms);
	}
}
