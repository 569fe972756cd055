import type { StrapErrorCode } from '$lib/gatt/strap';
import type { Entrant } from '$lib/record/journal';
import type { AthleteSnapshot } from '$lib/record/head';
import type { KnownBefore } from '$lib/review/known-before';
import type { Plan } from '$lib/rounds/plan';
import { wornBy } from '$lib/record/record-builder';
import type { Recorder } from './recorder';
import { mostCorners, type Roster, type RosterCorner } from './roster.svelte';

/** Reads what the athlete's sessions before tell of one of this plan. Nothing waits for it. */
export type ReadBefore = (athleteId: string, plan: Plan) => Promise<KnownBefore>;

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
		recorder.present.forEach((corner, i) => {
			const { athleteId } = recorder.cornerOf(corner)!.entrant.athlete;
			this.#worn.set(corner, this.roster.corners[i] ?? this.roster.add(athleteId));
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
		const bare = recorder.present.filter((one) => isPractice(recorder, one) && !recorder.strapOf(one));
		await Promise.all([...new Set([corner, ...bare])].map((one) => this.#give(recorder, one, true)));
	}

	/** Why this athlete does not join what runs, in a sentence; undefined where nothing bars it. */
	whyNotJoin(athleteId: string): string | undefined {
		const recorder = this.running.recorder();
		return recorder && this.running.whyBarred?.(athleteId, recorder.session.plan);
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
		recorder.attach(corner, strap);
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

	/** The straps of two corners change places; the athletes stay where they are. */
	swap(one: number, other: number): void {
		const recorder = this.running.recorder();
		if (!recorder || one === other) return;
		recorder.swap(one, other);
		const [ofOne, ofOther] = [this.#worn.get(one), this.#worn.get(other)];
		if (ofOther) this.#wear(recorder, one, ofOther);
		if (ofOne) this.#wear(recorder, other, ofOne);
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
		if (!strap || this.running.recorder() !== recorder) return;
		recorder.attach(corner, strap);
		this.running.onChange();
	}
}

/** A guided measurement is one athlete's. */
export function canJoin(recorder: Recorder): boolean {
	return recorder.session.plan.kind === undefined && recorder.present.length < mostCorners;
}

function isPractice(recorder: Recorder, corner: number): boolean {
	const known = recorder.cornerOf(corner);
	return known !== undefined && wornBy(known).practice;
}
