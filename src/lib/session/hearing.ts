import type { Phase } from '$lib/rounds/timeline';
import type { LiveRound } from './counted';
import type { RestView } from './live-rest';
import type { PackedCorner, PackedRest, PackedRound, Slice, LiveSnapshot, Word } from './telling';

/** Puts together what a `Teller` says, in the order in which it was said. */
export class Hearer {
	#nextNr: number | undefined;
	#timeline: readonly Phase[] = [];
	#rounds = new Map<number, readonly LiveRound[]>();

	/**
	 * Answers the session where the word was the last of a telling, nothing where more of it is to come, and `missed` where
	 * a word before it was not heard: then everything must be told anew.
	 */
	hear({ nr, isAnew, slices, head }: Word): LiveSnapshot | 'missed' | undefined {
		if (isAnew) {
			this.#timeline = [];
			this.#rounds = new Map();
		} else if (nr !== this.#nextNr) return 'missed';
		this.#nextNr = nr + 1;
		for (const slice of slices) this.#take(slice);
		if (!head) return undefined;
		const corners = head.view.corners.map((corner) =>
			unpacked(corner, this.#rounds.get(corner.corner) ?? [])
		);
		return { view: { ...head.view, corners }, timeline: this.#timeline, speed: head.speed };
	}

	/** Nothing that was heard counts any more. */
	forget(): void {
		this.#nextNr = undefined;
	}

	#take(slice: Slice): void {
		if (slice.of === 'timeline') {
			this.#timeline = [...this.#timeline.slice(0, slice.from), ...slice.items];
			return;
		}
		const before = this.#rounds.get(slice.of)?.slice(0, slice.from) ?? [];
		this.#rounds.set(slice.of, [...before, ...slice.items.map(unpackedRound)]);
	}
}

const unpackedRest = (rest: PackedRest): RestView => ({
	...rest,
	points: rest.points.map((bpm, i) => ({ s: i + 1, bpm }))
});
const unpackedRound = ({ rest, ...round }: PackedRound): LiveRound => ({
	...round,
	...(rest && { rest: unpackedRest(rest) })
});

function unpacked({ rest, lastRest, ...corner }: PackedCorner, rounds: readonly LiveRound[]) {
	const full = (one: PackedRest | number | undefined) =>
		typeof one === 'number' ? rounds[one]?.rest : one && unpackedRest(one);
	return { ...corner, rest: full(rest), lastRest: full(lastRest), rounds };
}
