import { type CornerSoFar, isWearing } from '$lib/record/corner-so-far';
import type { Block, Plan } from '$lib/rounds/plan';
import type { Phase } from '$lib/rounds/timeline';
import { LiveCorner } from './live-corner';
import type { LiveGuided } from './live-guided';
import type { JournalEntry } from '$lib/record/journal';

/** What has become of the plan by now. */
export interface Unfolding {
	readonly timeline: readonly Phase[];
	readonly blocks: readonly Block[];
}

/** Everybody on one clock, moved on together in time and each by the packets of their own strap. */
export class LiveCorners {
	/** Everybody who boxed, those who left included: see `present`. */
	readonly all: LiveCorner[] = [];
	constructor(
		private readonly plan: Plan,
		private readonly known: ReadonlyMap<number, CornerSoFar>,
		private readonly session: Unfolding
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

	/** Those of them who have a strap on, be it a silent one. */
	get wearing(): readonly number[] {
		return this.present.filter((corner) => isWearing(this.known.get(corner)!));
	}

	advanceTo(ms: number): void {
		const { timeline } = this.session;
		// What was worn before was counted to its end when the strap went.
		for (const corner of this.wearing) this.all[corner]?.advance(ms, timeline);
	}

	/** What an entry does to the corners, once it is known of them. */
	take(entry: JournalEntry): void {
		const { timeline } = this.session;
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
				if (entry.change.handOver !== 'given away')
					this.all[entry.corner]?.changeStrap(entry.change.ms, timeline, entry.change.handOver === 'put on');
				break;
			case 'hand over':
				this.all[entry.corner]?.advance(entry.ms, timeline);
				this.all[entry.corner]?.changeStrap(entry.ms, timeline, true);
				if (entry.from === undefined) break;
				this.all[entry.from]?.advance(entry.ms, timeline);
				this.all[entry.from]?.cut();
				break;
			case 'hand over undone':
			case 'leave':
				this.all[entry.corner]?.advance(entry.ms, timeline);
				break;
			case 'event':
			case 'amendment':
				break;
		}
	}

	/** A corner is counted again, by all that was heard in it. */
	retell(corner: number, heard: readonly JournalEntry[], untilMs: number): void {
		const before = this.all[corner];
		if (!before) return;
		this.all[corner] = before.anew();
		for (const entry of heard) this.take(entry);
		this.all[corner].advance(untilMs, this.session.timeline);
	}

	#seat(corner: number): void {
		const known = this.known.get(corner);
		if (!known) return;
		this.all[corner] ??= new LiveCorner({
			athlete: known.entrant.athlete,
			worn: () => known.worn,
			kind: this.plan.kind,
			blocks: () => this.session.blocks
		});
	}
}
