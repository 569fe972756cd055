import type { Plan } from '$lib/rounds/plan';
import type { Phase } from '$lib/rounds/timeline';
import type { Reading } from '$lib/record/columns';
import { LiveCorner } from './live-corner';
import type { LiveGuided } from './live-guided';
import type { JournalEntry } from '$lib/record/journal';
import type { CornerSoFar } from '$lib/record/record-builder';

/** Everybody on one clock, moved on together in time and each by the packets of their own strap. */
export class LiveCorners {
	/** Everybody who boxed, those who left included: see `present`. */
	readonly all: LiveCorner[] = [];
	/** Called when the over-threshold pulse of any corner is due. */
	pulseDue: (() => void) | undefined;

	constructor(
		private readonly plan: Plan,
		private readonly known: ReadonlyMap<number, CornerSoFar>,
		private readonly timeline: () => readonly Phase[]
	) {}

	/** What a guided measurement, which is of one athlete, comes to so far; absent in a session of rounds. */
	get guided(): LiveGuided | undefined {
		return this.all[0]?.guided;
	}

	/** The corners that have not left, in order. */
	get present(): readonly number[] {
		return [...this.known].flatMap(([corner, { leftMs }]) => (leftMs === undefined ? corner : []));
	}

	/** Takes in the athlete of a corner that is known by now. */
	seat(corner: number): void {
		const known = this.known.get(corner);
		if (!known) return;
		const live = new LiveCorner({
			athlete: known.entrant.athlete,
			joinedMs: known.joinedMs,
			kind: this.plan.kind
		});
		live.pulseDue = () => this.pulseDue?.();
		this.all[corner] = live;
	}

	/** Brings one corner up to the moment of its packet, then hands it the packet. */
	take(corner: number, reading: Reading): void {
		this.all[corner]?.advance(reading.ms, this.timeline());
		this.all[corner]?.push(reading);
	}

	/** Brings one corner up to the moment of its change, from which on another strap is heard. */
	changeStrap(corner: number, atMs: number): void {
		this.all[corner]?.advance(atMs, this.timeline());
		this.all[corner]?.changeStrap(atMs, this.timeline());
	}

	advanceTo(ms: number): void {
		const timeline = this.timeline();
		for (const [corner, { leftMs }] of this.known)
			if (leftMs === undefined) this.all[corner]?.advance(ms, timeline);
	}

	/** What an entry of an unfinished journal did to the corners. */
	replay(entry: JournalEntry): void {
		if (entry.kind === 'reading') this.take(entry.corner, entry);
		else if (entry.kind === 'join') this.seat(entry.corner);
		else if (entry.kind === 'leave') this.all[entry.corner]?.advance(entry.ms, this.timeline());
		else if (entry.kind === 'strap') this.changeStrap(entry.corner, entry.change.ms);
	}
}
