import type { Clock } from '$lib/time/clock';
import { isAdapterOff } from './can-pair';
import { connectQueueOf } from './connect-queue';
import { nameOf } from './device-names';
import { pause, TimedOut, within } from './limited-wait';
import { readSensorDetails } from './sensor-details';
import { watchForSilence } from './silence-watch';
import { StrapBase } from './strap-base';
import { StrapError, type Strap } from './strap';

// The browser may wait for ever in connect() (Web Bluetooth draft, its note there); people do not.
const connectLimitMs = 8000;
const subscribeLimitMs = 8000;
// A first connection that fails at once is worth repeating: a strap just put on refuses now and then.
const firstTries = 3;
const shortestBackoffMs = 250;
const longestBackoffMs = 2000;

/**
 * Which strap each device is, until it is closed: the browser answers the same object for a device each time it is
 * picked (Web Bluetooth, "get the BluetoothDevice representing"), and two straps on one would count one heart twice.
 */
const holders = new WeakMap<BluetoothDevice, Strap>();

/** The strap that this device is already. */
export const holderOf = (device: BluetoothDevice): Strap | undefined => holders.get(device);

export function isNamed(error: unknown, name: string): boolean {
	return error instanceof DOMException && error.name === name;
}

/** Doubles from a quarter of a second to two seconds, and stays there. */
function backoffMs(failures: number): number {
	return Math.min(longestBackoffMs, shortestBackoffMs * 2 ** failures);
}

/**
 * Every try to connect has a signal of its own, which the connection made of it keeps. Once that is aborted nothing
 * that belongs to it is heard any more: late answers, packets, battery levels, the watch for silence.
 */
export class WebBluetoothStrap extends StrapBase {
	readonly #device: BluetoothDevice;
	readonly #bluetooth: Bluetooth;
	readonly #clock: Clock;
	readonly #life = new AbortController();
	#link = new AbortController();
	#connecting: Promise<void> | undefined;
	/** The last try had no answer. */
	#hasHung = false;

	/** Takes the place of the strap that holds the device, which is to be closed. */
	constructor(device: BluetoothDevice, bluetooth: Bluetooth, clock: Clock) {
		super(nameOf(device), false);
		holders.set(device, this);
		this.#device = device;
		this.#bluetooth = bluetooth;
		this.#clock = clock;
		const { signal } = this.#life;
		device.addEventListener('gattserverdisconnected', () => this.#onDisconnected(), { signal });
	}

	connect(): Promise<void> {
		if (this.is('closed')) return Promise.reject(new StrapError('cancelled'));
		if (this.is('connected') || this.is('lost')) return Promise.resolve();
		this.#connecting ??= this.#connectFirst().finally(() => (this.#connecting = undefined));
		return this.#connecting;
	}

	protected release(): void {
		this.#life.abort();
		this.#link.abort();
		if (holders.get(this.#device) === this) holders.delete(this.#device);
		this.#device.gatt?.disconnect();
	}

	async #connectFirst(): Promise<void> {
		this.become({ kind: 'looking' });
		for (let failures = 1; ; failures++) {
			const failure = await this.#tryOnce();
			if (!failure) return;
			// Seconds of silence mean out of range or taken; repeating them only keeps the user waiting.
			const { cause } = failure;
			if (cause instanceof StrapError || cause instanceof TimedOut || failures === firstTries) {
				return this.#giveUp(cause);
			}
			await pause(this.#clock, backoffMs(failures - 1), this.#life.signal);
			if (this.is('closed')) return this.#giveUp(cause);
		}
	}

	async #giveUp(cause: unknown): Promise<never> {
		const adapterOff = await isAdapterOff(this.#bluetooth);
		if (this.is('closed')) throw new StrapError('cancelled', { cause });
		this.become({ kind: 'idle' });
		if (cause instanceof StrapError) throw cause;
		throw new StrapError(adapterOff ? 'adapter off' : 'unreachable', { cause });
	}

	/** Goes on without a gesture until it succeeds or the strap is closed; never throws. */
	async #reconnect(): Promise<void> {
		for (let failures = 0; ; failures++) {
			await pause(this.#clock, backoffMs(failures), this.#life.signal);
			if (this.is('closed') || !(await this.#tryOnce())) return;
			void this.#askAdapter();
		}
	}

	/** A lost strap says whether Bluetooth itself is off: what to do about it is another thing then. */
	async #askAdapter(): Promise<void> {
		const isOff = await isAdapterOff(this.#bluetooth);
		const { state } = this;
		if (state.kind !== 'lost' || isOff === (state.isAdapterOff ?? false)) return;
		this.become({ kind: 'lost', sinceMs: state.sinceMs, ...(isOff && { isAdapterOff: true }) });
	}

	/** Answers what went wrong, or nothing once the strap is connected. Never throws. */
	async #tryOnce(): Promise<{ cause: unknown } | undefined> {
		const link = new AbortController();
		this.#link = link;
		try {
			const heartRate = await this.#open(link.signal);
			// Asked last of all: nobody else is told of a strap that leaves, or is closed, before it counts as connected.
			if (!heartRate.device.gatt?.connected) throw new DOMException('The strap left again.', 'NetworkError');
			this.#hasHung = false;
			this.become({ kind: 'connected' });
			void readSensorDetails(heartRate, {
				clock: this.#clock,
				signal: link.signal,
				learn: (details) => this.learn(details)
			});
			return undefined;
		} catch (cause) {
			this.#hasHung = cause instanceof TimedOut;
			link.abort();
			this.#hangUp();
			return { cause };
		}
	}

	async #open(link: AbortSignal): Promise<BluetoothRemoteGATTService> {
		const { gatt } = this.#device;
		if (!gatt) throw new StrapError('unreachable');
		await connectQueueOf(this.#bluetooth).run({
			clock: this.#clock,
			limitMs: connectLimitMs,
			hasHung: this.#hasHung,
			signal: link,
			connect: () => this.#connectGatt(gatt),
			hangUp: () => this.#hangUp()
		});
		const subscribed = Promise.race([this.#subscribe(gatt, link), this.#leaving(gatt, link)]);
		return within(this.#clock, subscribeLimitMs, link, subscribed);
	}

	#connectGatt(gatt: BluetoothRemoteGATTServer): Promise<unknown> {
		const connecting = gatt.connect();
		// A connection that comes when nobody waits for it any more must not hold the strap.
		connecting.then(
			() => {
				if (this.is('closed') || this.is('idle')) this.#hangUp();
			},
			() => undefined
		);
		return connecting;
	}

	/** A strap that has taken this one's place keeps the connection of their device. */
	#hangUp(): void {
		if ((holders.get(this.#device) ?? this) === this) this.#device.gatt?.disconnect();
	}

	/** Rejects when the strap leaves: what was asked of it by then may never be answered. */
	#leaving(gatt: BluetoothRemoteGATTServer, signal: AbortSignal): Promise<never> {
		return new Promise((_, reject) => {
			const onLeft = () => {
				if (!gatt.connected) reject(new DOMException('The strap left again.', 'NetworkError'));
			};
			this.#device.addEventListener('gattserverdisconnected', onLeft, { signal });
		});
	}

	/** Services and characteristics of an earlier connection are dead: they are found anew each time. */
	async #subscribe(gatt: BluetoothRemoteGATTServer, link: AbortSignal): Promise<BluetoothRemoteGATTService> {
		const { heartRate, measurement } = await this.#find(gatt);
		link.throwIfAborted();
		const watch = watchForSilence(this.#clock, link, (sinceMs) => this.#onSilent(sinceMs));
		const onPacket = () => {
			const ms = this.#clock.nowMs();
			watch.heard(ms);
			if (measurement.value) this.receive(ms, measurement.value);
		};
		measurement.addEventListener('characteristicvaluechanged', onPacket, { signal: link });
		await measurement.startNotifications();
		return heartRate;
	}

	/** Judges the device by what it offers: a subscription fails under one name whatever the cause, a lost link too. */
	async #find(gatt: BluetoothRemoteGATTServer) {
		try {
			const heartRate = await gatt.getPrimaryService('heart_rate');
			const measurement = await heartRate.getCharacteristic('heart_rate_measurement');
			if (!measurement.properties.notify) throw new DOMException('It cannot notify.', 'NotFoundError');
			return { heartRate, measurement };
		} catch (cause) {
			if (!isNamed(cause, 'NotFoundError')) throw cause;
			throw new StrapError('not a heart-rate strap', { cause });
		}
	}

	#onDisconnected(): void {
		// A try under way hears of it from its own answers. An event that comes twice finds the strap lost already,
		// one that comes late finds it connected anew.
		if (this.is('connected') && !this.#device.gatt?.connected) this.#lose(this.#clock.nowMs());
	}

	#onSilent(sinceMs: number): void {
		this.#lose(sinceMs);
		this.#device.gatt?.disconnect();
	}

	#lose(sinceMs: number): void {
		this.#link.abort();
		this.become({ kind: 'lost', sinceMs });
		void this.#askAdapter();
		void this.#reconnect();
	}
}
