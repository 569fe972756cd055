import { wornBy } from '$lib/record/corner-so-far';
import type { Strap, StrapErrorCode } from '$lib/gatt/strap';
import type { Entrant } from '$lib/record/journal';
import type { AthleteSnapshot } from '$lib/record/head';
import type { BeforeByActivity } from '$lib/review/known-before';
import type { Activity, Plan } from '$lib/rounds/plan';
import type { Recorder } from './recorder';
import { mostBoxers, mostCorners, type Roster, type RosterCorner } from './roster.svelte';
import { askStrapsBack } from './straps-back';

/** Reads what the athlete's sessions before tell of one of this plan. Nothing waits for it. */
export type ReadBefore = (athleteId: string, plan: Plan) => Promise<BeforeByActivity>;

/** Why an athlete does not do this plan today, in a sentence for any screen; undefined where nothing bars it. */
export type WhyBarred = (athleteId: string, plan: Plan) => string | undefined;

/** The session that runs. */
interface Running {
	/** Absent once it has ended. */
	recorder(): Recorder | undefined;
	/** Called after every change in its corners. */
	onChange(): void;
	whyBarred?: WhyBarred | undefined;
}

/** Who stands in which corner while a session runs: joining, leaving, and straps that change hands. */
export class SessionCorners {
	/** The strap that is worn in each corner of the recorder. */
	readonly #worn = new Map<number, RosterCorner>();
	#problem = $state.raw<{ code: StrapErrorCode; wearer?: string }>();

	constructor(
		private readonly roster: Roster,
		private readonly newId: () => string,
		private readonly readBefore: ReadBefore | undefined,
		private readonly running: Running
	) {}

	/** Why the last try to get a strap for a running session failed. */
	get problem(): StrapErrorCode | undefined {
		return this.#problem?.code;
	}
	/** The name of whoever wears the strap that was picked, where it is `worn already`. */
	get wearer(): string | undefined {
		return this.#problem?.wearer;
	}

	/** Forgets the session before: corners of the recorder and of the roster are one and the same, in order. */
	begin(recorder: Recorder): void {
		this.#worn.clear();
		this.#problem = undefined;
		recorder.straps.wearing.forEach((corner, i) => {
			const { athleteId } = recorder.cornerOf(corner)!.entrant.athlete;
			this.#worn.set(corner, this.roster.strapped[i] ?? this.roster.add(athleteId));
			void this.#learn(recorder, corner);
		});
	}

	/**
	 * Gives corners of a running session their straps again; call in a user's gesture. One press brings a real
	 * strap back, and all practice straps together.
	 */
	async pairAgain(corner: number): Promise<void> {
		const recorder = this.running.recorder();
		if (!recorder) return;
		if (!isPractice(recorder, corner)) return this.#give(recorder, corner, false);
		const bare = recorder.straps.wearing.filter(
			(one) => isPractice(recorder, one) && !recorder.straps.of(one)
		);
		await Promise.all([...new Set([corner, ...bare])].map((one) => this.#give(recorder, one, true)));
	}

	/** Brings straps back without a press, where the browser lets it: see `askStrapsBack`. Who is not back pairs by hand. */
	async bringBack(): Promise<void> {
		const recorder = this.running.recorder();
		if (!recorder) return;
		await askStrapsBack(recorder, this.roster.pace.clock, async (waiting, strap) => {
			const place = this.#worn.get(waiting);
			if (!place) return strap.close();
			const back = await place.strap.takeBack(strap);
			// The places of two corners may have changed meanwhile.
			const corner = [...this.#worn].find(([, one]) => one === place)?.[0];
			if (corner !== undefined) this.#attach(recorder, corner, back);
		});
	}

	/** Why this athlete does not join what runs, in a sentence; undefined where nothing bars it. */
	whyNotJoin(athleteId: string): string | undefined {
		const recorder = this.running.recorder();
		if (!recorder) return undefined;
		const { plan, blocks } = recorder.session;
		return this.running.whyBarred?.(athleteId, { ...plan, blocks });
	}

	/** Why somebody who is there does not do this today; undefined where nothing bars anybody. */
	whyNotDo(activity: Activity): string | undefined {
		const { recorder, whyBarred } = this.running;
		const running = recorder();
		for (const corner of running?.present ?? []) {
			const { athleteId } = running!.corners[corner]!.athlete;
			const why = whyBarred?.(athleteId, { ...running!.session.plan, activity });
			if (why !== undefined) return why;
		}
		return undefined;
	}

	/** An athlete joins, once their strap is there; call in a user's gesture. Answers whether they are in. */
	async join(athlete: AthleteSnapshot, practice: boolean): Promise<boolean> {
		const recorder = this.running.recorder();
		if (!recorder || !canJoin(recorder) || this.whyNotJoin(athlete.athleteId)) return false;
		const place = this.roster.add(athlete.athleteId);
		const strap = await (practice ? place.strap.practise('keep clock') : place.strap.pair(true));
		this.#problem = this.#problemAt(recorder, place);
		// The session may have ended while the chooser was open.
		if (!strap || this.running.recorder() !== recorder) {
			this.roster.remove(place);
			return false;
		}
		const entrant: Entrant = {
			recordId: this.newId(),
			athlete,
			strapName: strap.name,
			practice: strap.practice
		};
		const corner = recorder.join(entrant);
		this.#worn.set(corner, place);
		recorder.straps.attach(corner, strap);
		void this.#learn(recorder, corner);
		this.running.onChange();
		return true;
	}

	/** An athlete leaves; their strap is given back. */
	leave(corner: number): void {
		if (!this.running.recorder()?.leave(corner)) return;
		const place = this.#worn.get(corner);
		this.#worn.delete(corner);
		if (place) this.roster.remove(place);
		this.running.onChange();
	}

	/** Somebody takes part without a strap. Answers their corner; undefined where they are not in. */
	joinBare(athlete: AthleteSnapshot): number | undefined {
		const recorder = this.running.recorder();
		if (!recorder || !hasRoom(recorder) || this.whyNotJoin(athlete.athleteId)) return undefined;
		const corner = recorder.join({ recordId: this.newId(), athlete, practice: false });
		this.running.onChange();
		return corner;
	}

	/**
	 * A strap goes from one chest to another. Answers why not, in a sentence, where whoever is to wear it does not do today what
	 * runs.
	 */
	handOver(from: number, to: number): string | undefined {
		const recorder = this.running.recorder();
		const athlete = recorder?.corners[to]?.athlete;
		if (!recorder || !athlete) return undefined;
		const why = this.whyNotJoin(athlete.athleteId);
		if (why !== undefined) return why;
		if (recorder.straps.handOver(from, to)) this.#carry(recorder, from, to);
		return undefined;
	}

	/** The last hand-over never was. */
	undoHandOver(): void {
		const recorder = this.running.recorder();
		const last = recorder?.straps.undoable;
		if (recorder && last && recorder.straps.undo()) this.#carry(recorder, last.to, last.from);
	}

	/** Gives somebody who has none a strap of their own; call in a user's gesture. */
	async strapFor(corner: number, practice: boolean): Promise<void> {
		const recorder = this.running.recorder();
		const athlete = recorder?.corners[corner]?.athlete;
		if (!recorder || !athlete || !mayWear(recorder) || this.whyNotJoin(athlete.athleteId)) return;
		const place = this.roster.add(athlete.athleteId);
		this.#worn.set(corner, place);
		await this.#give(recorder, corner, practice);
		if (recorder.straps.of(corner)) return void this.#learn(recorder, corner);
		this.#worn.delete(corner);
		this.roster.remove(place);
	}

	/** The straps of two corners change places; the athletes stay where they are. */
	swap(one: number, other: number): void {
		const recorder = this.running.recorder();
		if (!recorder || one === other) return;
		recorder.straps.swap(one, other);
		const [ofOne, ofOther] = [this.#worn.get(one), this.#worn.get(other)];
		if (ofOther) this.#wear(recorder, one, ofOther);
		if (ofOne) this.#wear(recorder, other, ofOne);
		this.running.onChange();
	}

	/** The link and the place on the screen go with the strap. */
	#carry(recorder: Recorder, from: number, to: number): void {
		const place = this.#worn.get(from);
		this.#worn.delete(from);
		if (place) this.#worn.set(to, place);
		void this.#learn(recorder, to);
		this.running.onChange();
	}

	/** What the athlete's own sessions tell, for their own heart alone: a simulated one is another's. */
	async #learn(recorder: Recorder, corner: number): Promise<void> {
		if (!this.readBefore || isPractice(recorder, corner)) return;
		const { athleteId } = recorder.cornerOf(corner)!.entrant.athlete;
		// Without it the rests are forecast as anybody's.
		const before = await this.readBefore(athleteId, recorder.session.plan).catch(() => undefined);
		// No entry of the session: nothing that is kept hangs on it.
		if (before) recorder.corners[corner]?.know(before);
	}

	#wear(recorder: Recorder, corner: number, place: RosterCorner): void {
		this.#worn.set(corner, place);
		place.athleteId = recorder.cornerOf(corner)?.entrant.athlete.athleteId;
	}

	#problemAt(recorder: Recorder, place: RosterCorner) {
		const code = place.strap.error;
		const holder = this.roster.holderFor(place);
		const corner = [...this.#worn].find(([, one]) => one === holder)?.[0];
		const wearer = corner === undefined ? undefined : recorder.cornerOf(corner)?.entrant.athlete.name;
		return code && { code, wearer };
	}

	async #give(recorder: Recorder, corner: number, practice: boolean): Promise<void> {
		const place = this.#worn.get(corner);
		const strap = await (practice ? place?.strap.practise('keep clock') : place?.strap.pair(true));
		this.#problem = place && this.#problemAt(recorder, place);
		this.#attach(recorder, corner, strap);
	}

	#attach(recorder: Recorder, corner: number, strap: Strap | undefined): void {
		if (!strap || this.running.recorder() !== recorder) return;
		recorder.straps.attach(corner, strap);
		this.running.onChange();
	}
}

/** A guided measurement is one athlete's. */
export function canJoin(recorder: Recorder): boolean {
	return hasRoom(recorder) && mayWear(recorder);
}

/** One more may have a strap on. */
const mayWear = (recorder: Recorder) => recorder.straps.wearing.length < mostCorners;

/** One more may take part, with a strap or without. */
const hasRoom = (recorder: Recorder) =>
	recorder.session.plan.kind === undefined && recorder.present.length < mostBoxers;

function isPractice(recorder: Recorder, corner: number): boolean {
	const known = recorder.cornerOf(corner);
	return known !== undefined && wornBy(known).practice;
}
