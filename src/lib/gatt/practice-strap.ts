import type { Clock } from '$lib/time/clock';
import { encodeHeartRateMeasurement } from './heart-rate-measurement';
import { simulatedHeart, type Beat, type PracticeAthlete } from './simulated-heart';
import { StrapBase } from './strap-base';
import { StrapError, type Strap } from './strap';

const packetMs = 1000;
/** A strap smooths: the rate it sends is the mean of the beats in this time. */
const smoothingMs = 3000;
/** Energy comes with one packet in ten, which the Heart Rate Service 1.0 calls typical. */
const packetsPerEnergy = 10;
const mostEnergyKJ = 65_535;

export interface PracticeOptions {
	/**
	 * The effort at a time of the clock: 0 rest, 1 fight pace, more in a burst. It is asked for times up to 8 s before
	 * `connect`: the heart answers late, and the first packet already has beats behind it.
	 */
	effortAt: (ms: number) => number;
	clock: Clock;
	/** The same seed and efforts give the same packets. */
	seed: number;
	name?: string;
	athlete?: Partial<PracticeAthlete>;
}

/**
 * A strap on a simulated athlete: real 0x2A37 bytes once a second of the clock, through the same decoder. It catches
 * up with the clock: each wake sends every packet due since the last one, each stamped with the time it was
 * due, so a fast clock or a throttled page loses none.
 */
export function practiceStrap(options: PracticeOptions): Strap {
	return new PracticeStrap(options);
}

class PracticeStrap extends StrapBase {
	readonly #options: PracticeOptions;
	#connecting: Promise<void> | undefined;
	#cancelWake = () => {};
	#packetUntil: (dueMs: number) => Uint8Array<ArrayBuffer> = () => new Uint8Array();
	#dueMs = Infinity;
	#isCatchingUp = false;

	constructor(options: PracticeOptions) {
		super(options.name ?? 'Simulated strap', true);
		this.#options = options;
	}

	connect(): Promise<void> {
		if (this.is('closed')) return Promise.reject(new StrapError('cancelled'));
		this.#connecting ??= this.#start();
		return this.#connecting;
	}

	protected release(): void {
		this.#dueMs = Infinity;
		this.#cancelWake();
	}

	async #start(): Promise<void> {
		this.become({ kind: 'looking' });
		// As with a real strap, whoever called goes on before it is there.
		await Promise.resolve();
		if (this.is('closed')) throw new StrapError('cancelled');
		this.become({ kind: 'connected' });
		this.learn({ batteryPercent: 100, location: 'chest' });
		this.#sendFrom(this.#options.clock.nowMs());
	}

	override get nextDueMs(): number {
		return this.#dueMs;
	}

	override catchUp(): void {
		// Whoever receives a packet may ask for what is due: it comes in its turn.
		if (this.#isCatchingUp) return;
		this.#isCatchingUp = true;
		const nowMs = this.#options.clock.nowMs();
		while (this.#dueMs <= nowMs) {
			const dueMs = this.#dueMs;
			this.#dueMs += packetMs;
			this.receive(dueMs, new DataView(this.#packetUntil(dueMs).buffer));
		}
		this.#isCatchingUp = false;
	}

	#sendFrom(startMs: number): void {
		this.#packetUntil = packetsOf({ ...this.#options, startMs });
		this.#dueMs = startMs + packetMs;
		const sleep = () => {
			if (!this.is('closed')) this.#cancelWake = this.#options.clock.wakeAt(this.#dueMs, wake);
		};
		const wake = () => {
			this.catchUp();
			sleep();
		};
		sleep();
	}
}

/** Answers the packet for each second in turn: the beats that fell in it and the smoothed rate at its end. */
function packetsOf({ startMs, ...heart }: PracticeOptions & { startMs: number }) {
	const { beatsUntil } = simulatedHeart({ ...heart, startMs: startMs - smoothingMs });
	let recent: Beat[] = beatsUntil(startMs);
	let packetCount = 0;
	let energyKJ = 0;
	return (dueMs: number): Uint8Array<ArrayBuffer> => {
		const fresh = beatsUntil(dueMs);
		recent = [...recent.filter(({ ms }) => ms > dueMs - smoothingMs), ...fresh];
		const bpm = Math.round((60_000 * recent.length) / recent.reduce((sum, { rrMs }) => sum + rrMs, 0));
		// The sensor's own rough reckoning, half a kilojoule a minute for every beat above 50.
		energyKJ = Math.min(mostEnergyKJ, energyKJ + (0.5 * Math.max(0, bpm - 50)) / 60);
		const energy = ++packetCount % packetsPerEnergy === 0 ? { energyKJ: Math.floor(energyKJ) } : {};
		return encodeHeartRateMeasurement({
			bpm,
			contact: 'contact',
			...energy,
			rrMs: fresh.map(({ rrMs }) => rrMs)
		});
	};
}
