import { livedIn } from '$lib/review/phase-times';
import type { Span } from '$lib/record/worn';
import type { Phase } from '$lib/rounds/timeline';

/** The phases with a strap on. Asked at every packet: they are gone through again only once some of them are others. */
export class LivedPhases {
	#known: { timeline: readonly Phase[]; worn: readonly Span[]; lived: readonly Phase[] } | undefined;

	/** @param worn the same list until that changes */
	constructor(private readonly worn: () => readonly Span[]) {}

	of(timeline: readonly Phase[]): readonly Phase[] {
		const worn = this.worn();
		if (this.#known?.timeline !== timeline || this.#known.worn !== worn)
			this.#known = { timeline, worn, lived: timeline.flatMap((phase) => livedIn(phase, worn) ?? []) };
		return this.#known.lived;
	}
}
