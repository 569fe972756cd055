import { Pace } from './pace.svelte';
import { usualHandOverS } from '$lib/rounds/hand-overs';
import type { Athlete } from '$lib/record/athlete';
import type { SeatView } from './seat';
import { StrapChoice } from './strap-choice.svelte';
import { wearersOf } from './strap-memory';

/** As many straps as one coach can see at a glance, and as have a digit on the keys. */
export const mostCorners = 8;

/** As many as take part in one session, with a strap or without. */
export const mostBoxers = 30;

/** A corner before the first bell: who boxes there, and on which strap. */
export class RosterCorner {
	/** Whoever was chosen last boxes in the first corner, unless this says otherwise. */
	athleteId = $state<string>();
	/** Ids of the athletes who wore a strap of this name before, where there are several: whose is it today? */
	wearers = $state.raw<readonly string[]>([]);
	/** Boxes without a strap, or waits for the turn with that of `sharesWith`. */
	isBare = $state(false);
	/** Whose strap this athlete wears in turn. */
	sharesWith = $state.raw<RosterCorner>();
	/** In which rounds this athlete wears a strap that is shared, as it is typed. */
	rounds = $state('');

	constructor(
		readonly strap: StrapChoice,
		/** Tells the corners apart. */
		readonly id: number,
		/** Which of the simulated athletes the practice strap is on here. */
		readonly heart: number
	) {}
}

/** One to thirty corners on one clock, at most eight of them with a strap. */
export class Roster {
	readonly pace = new Pace(() => {
		for (const { strap } of this.#corners) strap.followClock();
	});
	#corners = $state.raw<readonly RosterCorner[]>([]);
	#made = 0;
	/** Time to hand a strap over, in seconds; what is typed is checked before Start. */
	handOverS = $state(usualHandOverS);

	/** @param effortAt how hard the simulated athletes work at a time of the clock; undefined before the first bell */
	constructor(private readonly effortAt: (clockMs: number) => number | undefined) {
		this.add();
	}

	get corners(): readonly RosterCorner[] {
		return this.#corners;
	}
	get first(): RosterCorner {
		return this.#corners[0]!;
	}
	get isFull(): boolean {
		return this.#corners.length >= mostBoxers;
	}
	/** Those who begin with a strap, in order. */
	get strapped(): readonly RosterCorner[] {
		return this.#corners.filter(({ isBare }) => !isBare);
	}
	/** One more strap is one too many. */
	get areStrapsOut(): boolean {
		return this.strapped.length > mostCorners;
	}
	/** A strap that beats at the pace of life is worn somewhere, so the pace is not to be chosen. */
	get hasRealStrap(): boolean {
		return this.#corners.some(({ strap }) => strap.view?.practice === false);
	}

	/** How many real straps hold a link at this moment. */
	get linkCount(): number {
		return this.#corners.filter(
			({ strap: { view } }) => view?.practice === false && view.state === 'connected'
		).length;
	}

	/** Whose corner each is; the first is that of whoever was chosen last, unless it says otherwise. */
	idsOf(chosenId: string): (string | undefined)[] {
		return this.#corners.map(({ athleteId }, i) => athleteId ?? (i === 0 ? chosenId : undefined));
	}

	/** Who is to box, each with what the strap there says; an athlete who is none of `athletes` is unknown. */
	boxersOf(
		athletes: readonly Athlete[],
		chosenId: string
	): { athlete: Athlete | undefined; seat: SeatView | undefined; isBare: boolean }[] {
		return this.idsOf(chosenId).map((id, i) => ({
			athlete: athletes.find((athlete) => athlete.id === id),
			seat: this.#corners[i]!.strap.view,
			isBare: this.#corners[i]!.isBare
		}));
	}

	/** The corner that wears the strap which this one was refused, be it in a session; undefined where none was. */
	holderFor({ strap: { holder } }: RosterCorner): RosterCorner | undefined {
		return holder && this.#corners.find(({ strap }) => strap.seat?.strap === holder);
	}

	/** The id of the athlete there, before the first bell. */
	holderIdFor(corner: RosterCorner, chosenId: string): string | undefined {
		const holder = this.holderFor(corner);
		return holder && this.idsOf(chosenId)[this.#corners.indexOf(holder)];
	}

	/**
	 * Whose strap is it that has just been paired here? Answers the athlete who wore one of this name before; where
	 * there are several, `wearers` asks.
	 */
	recognise(corner: RosterCorner, athletes: readonly Athlete[], chosenId: string): string | undefined {
		const { view } = corner.strap;
		const ids = this.idsOf(chosenId);
		// Whoever stands somewhere without a strap may still be called here.
		const elsewhere = this.#corners.flatMap((one, i) =>
			one === corner || !one.strap.view ? [] : (ids[i] ?? [])
		);
		const found = view && !view.practice ? wearersOf(view.strapName, athletes, elsewhere) : [];
		corner.wearers = found.length > 1 ? found.map(({ id }) => id) : [];
		return found.length === 1 ? found[0]!.id : undefined;
	}

	/** Puts an athlete into a corner; one who stands in another changes places with whoever was here. */
	place(corner: RosterCorner, id: string, chosenId: string): void {
		corner.wearers = [];
		const before = this.#corners[this.idsOf(chosenId).indexOf(id)];
		if (before && before !== corner) this.swap(before, corner, chosenId);
		else corner.athleteId = id;
	}

	/** Two athletes change places: each strap answers for the other from now on. */
	swap(one: RosterCorner, other: RosterCorner, chosenId: string): void {
		const ids = this.idsOf(chosenId);
		const [ofOne, ofOther] = [one, other].map((corner) => ids[this.#corners.indexOf(corner)]);
		one.athleteId = ofOther;
		other.athleteId = ofOne;
	}

	add(athleteId?: string): RosterCorner {
		const taken = new Set(this.strapped.map(({ heart }) => heart));
		let heart = 0;
		while (taken.has(heart) && heart < mostCorners - 1) heart++;
		const strap = new StrapChoice(this.effortAt, this.pace, heart);
		const corner = new RosterCorner(strap, this.#made++, heart);
		corner.athleteId = athleteId;
		this.#corners = [...this.#corners, corner];
		return corner;
	}

	/** Puts up those who stood in several corners the last time, once, before anybody else is put up. */
	putUp(ids: readonly string[]): void {
		if (ids.length < 2) return;
		this.first.athleteId = ids[0];
		for (const id of ids.slice(1)) this.add(id);
	}

	/** Whoever boxes in this corner begins without a strap: with none at all, or to wear that of another in turn. */
	goBare(corner: RosterCorner, sharesWith?: RosterCorner): void {
		this.#release(corner);
		corner.isBare = true;
		corner.sharesWith = sharesWith;
	}

	/** The corner waits for a strap of its own again. */
	wantStrap(corner: RosterCorner): void {
		corner.isBare = false;
		corner.sharesWith = undefined;
	}

	/** A strap that goes is shared with nobody. */
	#release(corner: RosterCorner): void {
		corner.strap.letGo();
		for (const one of this.#corners) if (one.sharesWith === corner) one.sharesWith = undefined;
	}

	/** Gives the corner's strap back. The last corner stays, empty. */
	remove(corner: RosterCorner): void {
		this.#release(corner);
		if (this.#corners.length > 1) this.#corners = this.#corners.filter((one) => one !== corner);
	}

	/** Gives every strap back; one corner is left. */
	clear(): void {
		for (const corner of this.#corners) corner.strap.letGo();
		this.#corners = this.#corners.slice(0, 1);
		this.wantStrap(this.first);
	}
}
