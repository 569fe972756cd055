import { chanceOf, type Chance } from './chance';
import { athlete, makeStart, shortPlan } from '../session/builders';
import { freshStore } from '../store/fresh-store';
import { pass } from '../gatt/strap-bench';
import { connected, type Bench } from '../gatt/web-bluetooth-bench';
import { encodeHeartRateMeasurement } from '$lib/gatt/heart-rate-measurement';
import { unpackReadings } from '$lib/record/columns';
import { viewOf } from '$lib/session/live-view';
import { Recorder } from '$lib/session/recorder';
import { openJournal } from '$lib/store/journal';
import { readSession } from '$lib/store/sessions';

/** How the way back is barred while the strap is away. */
const bars = [
	'every try is refused',
	'tries hang until the strap returns',
	'the services cannot be found',
	'the subscription is refused',
	'the link breaks during each discovery',
	'the link stays up in silence',
	'tries hang and never answer'
] as const;
type Bar = (typeof bars)[number];

export interface DisconnectionFigures {
	losses: number;
	delivered: number;
	/** Delivered and not in the record, or there at another moment, twice, or out of nowhere. */
	missing: number;
	/** The largest difference between the clock shown and the plan's arithmetic. */
	clockErrorMs: number;
	/** Looks at the screen that showed a rate whose packet was more than three seconds old. */
	oldBeats: number;
	/** From the strap's return to its first packet on the screen; those after a try that never answers apart. */
	returnsMs: number[];
	returnsAfterDeadTryMs: number[];
}

const roundMs = 180_000;
const restMs = 60_000;
const plan = { ...shortPlan, roundCount: 60, roundS: roundMs / 1000, restS: restMs / 1000, getReadyS: 0 };
const stepMs = 50;

/**
 * One session of up to four hours on a clock moved by hand, over the page's own strap, recorder and store and a
 * radio that fails in every way it knows. The strap sends once a second whenever it is there.
 */
export async function loseTheStrap(losses: number, seed: number): Promise<DisconnectionFigures> {
	const bench = await connected();
	const run = new Run(bench, chanceOf(seed));
	for (let loss = 0; loss < losses; loss++) await run.loseOnce();
	return run.finish(losses);
}

class Run {
	readonly #store = freshStore();
	readonly #recorder: Recorder;
	readonly #originMs: number;
	/** Elapsed ms of each packet that the page was handed, by the number it carries. */
	readonly #delivered = new Map<number, number>();
	readonly #figures = {
		clockErrorMs: 0,
		oldBeats: 0,
		returnsMs: [] as number[],
		returnsAfterDeadTryMs: [] as number[]
	};
	#number = 0;
	#nextMs: number;
	#isSending = true;
	#lastBpm: number | undefined;

	constructor(
		private readonly bench: Bench,
		private readonly chance: Chance
	) {
		const { clock, strap } = bench;
		this.#originMs = clock.nowMs();
		this.#nextMs = this.#originMs;
		const start = makeStart({
			plan,
			corners: [{ recordId: 'record-1', athlete, strapName: strap.name, practice: false }]
		});
		const sink = openJournal(this.#store, start.sessionId);
		this.#recorder = new Recorder({ start, clock, originMs: this.#originMs, writeClock: clock, sink });
		this.#recorder.straps.attach(0, strap);
	}

	async loseOnce(): Promise<void> {
		const { radio, clock } = this.bench;
		await this.#live(5000 + 30_000 * this.chance.uniform());
		const bar = this.chance.pick(bars);
		const dead = radio.characteristic();
		const { notify } = radio.services['heart_rate']!['heart_rate_measurement']!;
		this.#isSending = false;
		this.#bar(bar);
		const backMs = clock.nowMs() + 500 + 40_000 * this.chance.uniform();
		while (clock.nowMs() < backMs) {
			await this.#live(Math.min(backMs - clock.nowMs(), 300 + 2000 * this.chance.uniform()));
			if (bar === 'the link breaks during each discovery') radio.drop();
		}

		radio.connecting = 'accept';
		radio.discovery = 'accept';
		radio.services['heart_rate']!['heart_rate_measurement'] = { notify };
		if (bar !== 'tries hang and never answer') radio.letThrough();
		if (bar === 'the link breaks during each discovery') radio.drop();
		this.#isSending = true;
		const returnedMs = clock.nowMs();
		this.#lastBpm = undefined;
		while (this.#lastBpm === undefined || this.#shownBpm() !== this.#lastBpm) {
			await this.#live(stepMs);
			if (clock.nowMs() - returnedMs > 120_000) throw new Error(`The strap did not come back: ${bar}.`);
		}
		const tookMs = clock.nowMs() - returnedMs;
		const isDead = bar === 'tries hang and never answer';
		(isDead ? this.#figures.returnsAfterDeadTryMs : this.#figures.returnsMs).push(tookMs);
		// An object of the connection before has nothing more to say, unless that connection never broke.
		if (bar !== 'the link stays up in silence') dead.emit(this.#packet(0xffff));
	}

	async finish(losses: number): Promise<DisconnectionFigures> {
		await this.#live(5000);
		await this.#recorder.end(this.#recorder.session.elapsedMs());
		const reading = await readSession(this.#store, 'record-1');
		if (reading.status !== 'found') throw new Error(reading.problem);
		const readings = unpackReadings(reading.record.body);
		const kept = new Map(readings.map(({ energyKJ, ms }) => [energyKJ ?? -1, ms]));
		const missing = [...this.#delivered].filter(([number, ms]) => kept.get(number) !== ms).length;
		return {
			losses,
			delivered: this.#delivered.size,
			missing: missing + Math.abs(readings.length - this.#delivered.size),
			...this.#figures
		};
	}

	#bar(bar: Bar): void {
		const { radio } = this.bench;
		switch (bar) {
			case 'every try is refused':
				radio.connecting = 'refuse';
				break;
			case 'tries hang until the strap returns':
			case 'tries hang and never answer':
				radio.connecting = 'hang';
				break;
			case 'the services cannot be found':
				radio.discovery = 'refuse';
				break;
			case 'the subscription is refused':
				radio.services['heart_rate']!['heart_rate_measurement'] = { notify: 'refuse' };
				break;
			case 'the link breaks during each discovery':
				radio.discovery = 'hang';
				break;
			case 'the link stays up in silence':
				return;
		}
		radio.drop();
	}

	/** Lets time pass, with a packet a second from a strap that is there, and looks at the screen all the while. */
	async #live(ms: number): Promise<void> {
		const { clock, radio } = this.bench;
		const endMs = clock.nowMs() + ms;
		while (clock.nowMs() < endMs) {
			await pass(clock, Math.min(stepMs, endMs - clock.nowMs()), stepMs);
			if (clock.nowMs() >= this.#nextMs) {
				this.#nextMs += 1000;
				const number = this.#number++;
				const bytes = this.#packet(number);
				if (this.#isSending && radio.notify(bytes)) {
					this.#delivered.set(number, Math.round(clock.nowMs() - this.#originMs));
					this.#lastBpm = bytes[1];
				}
			}
			this.#look();
		}
	}

	#packet(number: number): number[] {
		const measurement = {
			bpm: 100 + (number % 80),
			contact: 'contact',
			energyKJ: number,
			rrMs: [500]
		} as const;
		return Array.from(encodeHeartRateMeasurement({ ...measurement, rrMs: [500] }));
	}

	#shownBpm(): number | undefined {
		return viewOf(this.#recorder, this.#recorder.advance()).corners[0]?.signal.bpm;
	}

	#look(): void {
		// Elapsed time is whole milliseconds, as the stamps of the packets are.
		const elapsedMs = Math.round(this.bench.clock.nowMs() - this.#originMs);
		const view = viewOf(this.#recorder, this.#recorder.advance());
		const inCycleMs = elapsedMs % (roundMs + restMs);
		const leftMs = inCycleMs < roundMs ? roundMs - inCycleMs : roundMs + restMs - inCycleMs;
		this.#figures.clockErrorMs = Math.max(this.#figures.clockErrorMs, Math.abs(view.remainingMs - leftMs));
		const lastMs = [...this.#delivered.values()].at(-1) ?? 0;
		if (view.corners[0]?.signal.bpm !== undefined && elapsedMs - lastMs > 3000) this.#figures.oldBeats++;
	}
}
