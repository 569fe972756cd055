import type { Plan } from '$lib/rounds/plan';
import type { Phase } from '$lib/rounds/timeline';
import { LiveCorner } from './live-corner';
import type { LiveGuided } from './live-guided';
import type { JournalEntry } from '$lib/record/journal';
import type { CornerSoFar } from '$lib/record/record-builder';

/** Everybody on one clock, moved on together in time and each by the packets of their own strap. */
export class LiveCorners {
	/** Everybody who boxed, those who left included: see `present`. */
	readonly all: LiveCorner[] = [];
	constructor(
		private readonly plan: Plan,
		private readonly known: ReadonlyMap<number, CornerSoFar>,
		private readonly timeline: () => readonly Phase[]
	) {}

	/** What a guided measurement, which is of one athlete, comes to so far; absent in a session of rounds. */
	get guided(): LiveGuided | undefined {
		return this.all[0]?.guided;
	}

	/** Elapsed ms at which the over-threshold pulse of any corner was due last; -Infinity before the first. */
	get pulseMs(): number {
		return this.all.reduce((lastMs, { pulseMs }) => Math.max(lastMs, pulseMs), -Infinity);
	}

	/** The corners that have not left, in order. */
	get present(): readonly number[] {
		return [...this.known].flatMap(([corner, { leftMs }]) => (leftMs === undefined ? corner : []));
	}

	advanceTo(ms: number): void {
		const timeline = this.timeline();
		for (const [corner, { leftMs }] of this.known)
			if (leftMs === undefined) this.all[corner]?.advance(ms, timeline);
	}

	/** What an entry does to the corners, once it is known of them. */
	take(entry: JournalEntry): void {
		const timeline = this.timeline();
		switch (entry.kind) {
			case 'start':
				entry.start.corners.forEach((_, corner) => this.#seat(corner));
				break;
			case 'join':
				this.#seat(entry.corner);
				break;
			case 'reading':
				// The corner is brought up to the moment of its packet, then handed the packet.
				this.all[entry.corner]?.advance(entry.ms, timeline);
				this.all[entry.corner]?.push(entry);
				break;
			case 'strap':
				this.all[entry.corner]?.advance(entry.change.ms, timeline);
				this.all[entry.corner]?.changeStrap(entry.change.ms, timeline);
				break;
			case 'leave':
				this.all[entry.corner]?.advance(entry.ms, timeline);
				break;
			case 'event':
			case 'amendment':
				break;
		}
	}

	#seat(corner: number): void {
		const known = this.known.get(corner);
		if (!known) return;
		this.all[corner] ??= new LiveCorner({
			athlete: known.entrant.athlete,
			joinedMs: known.joinedMs,
			kind: this.plan.kind
		});
	}
}
