import type { Amendment } from '$lib/rounds/amendment';
import type { Entrant, JournalEntry } from '$lib/record/journal';
import { viewOf } from '$lib/session/live-view';
import { Recorder } from '$lib/session/recorder';
import { manualClock } from '$lib/time/manual-clock';
import { makeSink, makeStart, makeStrap } from '../session/builders';
import { chanceOf, type Chance } from './chance';
import { differencesOf, LiveLooks } from './live-looks';
import {
	packetOf,
	randomHabit,
	randomSession,
	type Happening,
	type RandomSession,
	type StrapHabit
} from './random-session';

export interface ComparisonFigures {
	sessions: number;
	/** Values that were final and compared. */
	compared: number;
	/** Sessions in which a live value was another than the record's. */
	different: number;
	faults: string[];
}

/** Plays sessions by chance, and holds what was shown live against the records kept of them. */
export async function compareLiveAndKept(sessions: number, seed: number): Promise<ComparisonFigures> {
	const figures: ComparisonFigures = { sessions, compared: 0, different: 0, faults: [] };
	for (let i = 0; i < sessions; i++) {
		const chance = chanceOf(seed * 100_003 + i);
		const session = randomSession(chance);
		const { compared, differences } = await new Run(session, chance).play();
		figures.compared += compared;
		if (differences.length === 0) continue;
		figures.different++;
		figures.faults.push(
			`Session ${i} of seed ${seed}: ${differences.slice(0, 3).join('; ')}. ${JSON.stringify(session)}`
		);
	}
	return figures;
}

interface Worn {
	strap: ReturnType<typeof makeStrap>;
	habit: StrapHabit;
	/** Elapsed ms of its next packet. */
	nextMs: number;
	sent: number;
	/** Packets that are still to come at once, after a silence. */
	burst: number;
}

const athleteOf = (name: string, thresholdBpm?: number): Entrant => ({
	recordId: `record-${name}`,
	athlete: {
		athleteId: `athlete-${name}`,
		name,
		thresholdBpm,
		measuredMaxBpm: 188,
		sex: 'male',
		ageYears: 27,
		weightKg: 70,
		restBpm: 55
	},
	strapName: `Strap ${name}`,
	practice: false
});

const withoutStrap = ({ strapName: _, ...entrant }: Entrant): Entrant => entrant;

/** Longer than any rest after the last bell. */
const closingMs = 200_000;

class Run {
	readonly #clock;
	readonly #looks = new LiveLooks();
	readonly #worn: Worn[] = [];
	readonly #steps;
	#sink = makeSink();
	#recorder: Recorder;
	#wallAheadMs = 0;
	#made = 0;

	constructor(
		private readonly session: RandomSession,
		private readonly chance: Chance
	) {
		this.#steps = [...session.steps];
		this.#clock = manualClock(session.originMs + session.loadedMs);
		this.#recorder = this.#newRecorder();
		session.straps.forEach((habit, corner) => {
			const worn = this.#wear(habit, -90_000, `Strap ${corner}`);
			const earlier = [];
			for (; worn.nextMs < session.loadedMs; this.#schedule(worn))
				earlier.push({ ms: Math.round(worn.nextMs), rrMs: [], ...packetOf(worn, this.chance) });
			this.#recorder.takeEarlier(corner, earlier);
			this.#recorder.straps.attach(corner, worn.strap.strap);
		});
	}

	async play(): Promise<{ compared: number; differences: string[] }> {
		const { isHidden, finishMs } = this.session;
		let lookMs = this.session.loadedMs;
		let endsMs = finishMs;
		for (;;) {
			const packet = this.#worn.reduce((one, other) => (other.nextMs < one.nextMs ? other : one));
			const stepMs = this.#steps[0]?.atMs ?? Infinity;
			const nextMs = Math.min(packet.nextMs, stepMs, lookMs, endsMs);
			await this.#goTo(nextMs);
			const { session } = this.#recorder;
			if (session.elapsedMs() >= session.endMs || nextMs > finishMs + closingMs) break;
			if (nextMs === endsMs) {
				this.#recorder.amend('finish');
				endsMs += closingMs + 1;
			} else if (nextMs === stepMs) this.#happens(this.#steps.shift()!.what, stepMs);
			else if (nextMs === packet.nextMs) this.#send(packet);
			else lookMs += isHidden ? 61_000 : 1000;
			if (!isHidden || nextMs === lookMs) this.#look();
		}
		this.#look();
		const endMs = Math.min(this.#recorder.session.endMs, this.#recorder.session.elapsedMs());
		const { records } = await this.#recorder.end(endMs);
		// A strap whose word on contact is open is shown as it says, and read afresh once that is known.
		const isOpen = this.#worn.some(({ habit }) => habit.contact === 'never' || habit.contact === 'late');
		return differencesOf(this.#recorder, records, isOpen ? undefined : this.#looks, endMs);
	}

	#send(worn: Worn): void {
		const { bpm, contact } = packetOf(worn, this.chance);
		worn.strap.send(this.#clock.nowMs(), bpm, { contact });
		this.#schedule(worn);
	}

	#newRecorder(history: readonly JournalEntry[] = [], originMs = this.session.originMs): Recorder {
		const { session } = this;
		const strapped = session.straps.map((_, i) => athleteOf(`${i}`, session.thresholdBpm));
		const bare = Array.from({ length: session.bare }, (_, i) =>
			withoutStrap(athleteOf(`B${i}`, session.thresholdBpm))
		);
		const corners = [...strapped, ...bare];
		return new Recorder(
			{
				start: makeStart({ plan: session.plan, corners }),
				clock: this.#clock,
				originMs,
				writeClock: this.#clock,
				sink: this.#sink.sink,
				wallNowMs: () => this.#clock.nowMs() + this.#wallAheadMs
			},
			history
		);
	}

	#wear(habit: StrapHabit, fromMs: number, name: string): Worn {
		const firstMs = Math.ceil(fromMs / 1000) * 1000 + habit.intoMs;
		const worn = { strap: makeStrap(name), habit, nextMs: firstMs, sent: 0, burst: 0 };
		this.#worn.push(worn);
		return worn;
	}

	#schedule(worn: Worn): void {
		const { chance } = this;
		const { intoMs, jitterMs, gapShare } = worn.habit;
		worn.sent++;
		if (worn.burst > 0) {
			worn.burst--;
			worn.nextMs += chance.below(4);
			return;
		}
		const isGap = chance.uniform() < gapShare;
		if (isGap) worn.burst = chance.below(9);
		const nextS = Math.floor((worn.nextMs - intoMs) / 1000) + 1 + (isGap ? chance.below(25) : 0);
		worn.nextMs = Math.max(worn.nextMs, nextS * 1000 + intoMs + chance.below(jitterMs + 1));
	}

	async #goTo(elapsedMs: number): Promise<void> {
		this.#clock.advanceTo(Math.max(this.#clock.nowMs(), this.#recorder.session.originMs + elapsedMs));
		// What is written is written at once.
		await Promise.resolve();
		await Promise.resolve();
	}

	#look(): void {
		const nowMs = this.#recorder.advance();
		const isByHeart = this.#recorder.session.phaseAt(nowMs)?.downToPercent !== undefined;
		if (isByHeart && viewOf(this.#recorder, nowMs).byHeart?.isDown) this.#recorder.amend('rest over');
		if (this.#recorder.sleptMs !== undefined) this.#recorder.amend('resume');
		this.#looks.take(this.#recorder);
	}

	#happens(what: Happening, atMs: number): void {
		const { chance } = this;
		const recorder = this.#recorder;
		const { present } = recorder;
		const corner = chance.pick(present);
		switch (what) {
			case 'swap':
				return recorder.straps.swap(corner, chance.pick(present));
			case 'join': {
				if (present.length > 2) return;
				const joined = recorder.join(athleteOf(`J${this.#made++}`, this.session.thresholdBpm));
				return recorder.straps.attach(joined, this.#another(atMs));
			}
			case 'join bare':
				if (present.length > 4) return;
				recorder.join(withoutStrap(athleteOf(`J${this.#made++}`, this.session.thresholdBpm)));
				return;
			case 'hand over': {
				const { wearing } = recorder.straps;
				const free = present.filter((one) => !wearing.includes(one));
				if (free.length > 0) recorder.straps.handOver(chance.pick(wearing), chance.pick(free));
				return;
			}
			case 'hand over undone':
				// What was seen of the wrong one's rests never was.
				if (recorder.straps.undo()) this.#looks.forget();
				return;
			case 'leave':
				return void recorder.leave(corner);
			case 'another strap':
				return recorder.straps.attach(corner, this.#another(atMs));
			case 'signal lost':
				return this.#worn[0]!.strap.become({ kind: 'lost', sinceMs: this.#clock.nowMs() - 700 });
			case 'signal back':
				return this.#worn[0]!.strap.become({ kind: 'connected' });
			case 'reload':
				return this.#reload();
			case 'sleep':
				this.#wallAheadMs += 7000;
				return;
			default:
				recorder.amend(what satisfies Amendment['kind']);
				if (what === 'pause') this.#steps.unshift({ atMs: atMs + 1 + chance.below(20_000), what: 'resume' });
		}
	}

	#another(atMs: number) {
		return this.#wear(randomHabit(this.chance), atMs, `Another ${this.#made++}`).strap.strap;
	}

	/** The page is loaded anew; whatever had not been written by then is gone for live and record alike. */
	#reload(): void {
		const history = this.#sink.entries.map((entry) => structuredClone(entry));
		const straps = new Map(
			this.#recorder.present.map((corner) => [corner, this.#recorder.straps.of(corner)])
		);
		if (history.length === 0) return;
		void this.#recorder.discard();
		this.#sink = makeSink();
		this.#sink.entries = history;
		this.#recorder = this.#newRecorder(history, this.#recorder.session.originMs);
		for (const corner of this.#recorder.present) {
			const strap = straps.get(corner);
			if (strap) this.#recorder.straps.attach(corner, strap);
		}
		this.#looks.forget();
	}
}
