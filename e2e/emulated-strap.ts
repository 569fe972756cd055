import type { CDPSession, Page } from '@playwright/test';
import * as assigned from './assigned-numbers';
import { everySecond } from './every-second';

// HCI error 0x08, "connection timeout": what a strap out of reach looks like.
const connectionTimeout = 8;
const success = 0;

export interface StrapFields {
	/** Six bytes as 02:00:00:00:00:01; also how the chooser knows it. */
	address: string;
	name: string;
	batteryPercent?: number;
	/** Body Sensor Location as sent; 1 is the chest. */
	location?: number;
}

/** One packet that reached the page. */
export interface Delivered {
	/** `performance.now()` of the page, right after its listeners ran. */
	atMs: number;
	bytes: number[];
}

/** A strap on the emulated radio. */
export class EmulatedStrap {
	readonly address: string;
	readonly name: string;
	/** Everything the page has received, oldest first. */
	readonly delivered: Delivered[] = [];
	/** Connections that the page asked for, refused ones included. */
	attempts = 0;
	/** How long it lets a connection wait for its answer. */
	answersAfterMs = 0;
	#air: CDPSession;
	#page: () => Page;
	#values: { battery: number[]; location: number[] };
	#reads = new Map<string, () => number[]>();
	#packet: number[] = [];
	// One packet at a time: Chromium answers reads that overlap with one value.
	#turn: Promise<void> = Promise.resolve();
	#refusals = 0;
	#subscribed = false;
	#endStream: (() => void) | undefined;

	constructor(
		air: CDPSession,
		page: () => Page,
		{ address, name, batteryPercent = 90, location = 1 }: StrapFields
	) {
		this.address = address;
		this.name = name;
		this.#air = air;
		this.#page = page;
		this.#values = { battery: [batteryPercent], location: [location] };
	}

	/** True while the page listens to the measurement. */
	get subscribed(): boolean {
		return this.#subscribed;
	}

	/** Refuses the next `count` connections. */
	refuse(count: number): void {
		this.#refusals = count;
	}

	/** Delivers one packet to the page, malformed ones included, and answers once its listeners have run. */
	notify(bytes: number[]): Promise<void> {
		const turn = this.#turn.then(() => this.#deliver(bytes));
		this.#turn = turn.catch(() => undefined);
		return turn;
	}

	/**
	 * Sends a packet each second, as a strap does, until `silence`. Packets for which the page does not listen
	 * are lost, as in the air. `next` is asked right before each one, with the number of seconds so far.
	 */
	stream(next: (second: number) => number[]): void {
		void this.silence();
		this.#endStream = everySecond(async (second) => {
			const bytes = next(second);
			if (!this.#subscribed) return;
			// A failure counts only if the page was still there to listen when it came.
			await this.notify(bytes).catch((error: unknown) => {
				// A document that is left takes its connection with it, and the packet under way is lost.
				if (error instanceof Error && error.message.includes('context was destroyed')) this.disconnected();
				if (this.#subscribed && this.#endStream && !this.#page().isClosed()) throw error;
			});
		});
	}

	/** Resolves once nothing that was sent is on its way any more. */
	async silence(): Promise<void> {
		this.#endStream?.();
		this.#endStream = undefined;
		await this.#turn;
	}

	/** Breaks the connection, as a strap out of reach does: between two packets, never within one. */
	async drop(): Promise<void> {
		this.disconnected();
		await this.#tellReads('hold');
		await this.#air.send('BluetoothEmulation.simulateGATTDisconnection', { address: this.address });
		await this.#tellReads('letGo');
	}

	/** Notes that the page no longer listens. */
	disconnected(): void {
		this.#subscribed = false;
	}

	async advertise(): Promise<void> {
		this.disconnected();
		await this.#air.send('BluetoothEmulation.simulatePreconnectedPeripheral', {
			address: this.address,
			name: this.name,
			manufacturerData: [],
			knownServiceUuids: [assigned.heartRate, assigned.battery]
		});
	}

	has(characteristicId: string): boolean {
		return this.#reads.has(characteristicId);
	}

	async answerGatt(type: 'connection' | 'discovery'): Promise<void> {
		let code = success;
		if (type === 'connection') {
			this.attempts++;
			if (this.answersAfterMs > 0) await new Promise((resolve) => setTimeout(resolve, this.answersAfterMs));
			if (this.#refusals > 0) {
				this.#refusals--;
				code = connectionTimeout;
			}
		}
		// Services live from one discovery to the end of the connection, and are added while it is waiting.
		if (type === 'discovery') await this.#offerServices();
		await this.#air.send('BluetoothEmulation.simulateGATTOperationResponse', {
			address: this.address,
			type,
			code
		});
	}

	async answerCharacteristic(
		characteristicId: string,
		type: 'read' | 'write' | 'subscribe-to-notifications' | 'unsubscribe-from-notifications'
	): Promise<void> {
		const bytes = type === 'read' ? this.#reads.get(characteristicId)?.() : undefined;
		await this.#air.send('BluetoothEmulation.simulateCharacteristicOperationResponse', {
			characteristicId,
			type,
			code: success,
			...(bytes && { data: Buffer.from(bytes).toString('base64') })
		});
		if (type === 'subscribe-to-notifications') this.#subscribed = true;
		if (type === 'unsubscribe-from-notifications') this.#subscribed = false;
	}

	async #deliver(bytes: number[]) {
		this.#packet = bytes;
		const atMs = await this.#page().evaluate(async (name) => {
			const { subscribedByDeviceName } = window as unknown as {
				subscribedByDeviceName: Map<string, BluetoothRemoteGATTCharacteristic>;
			};
			const characteristic = subscribedByDeviceName.get(name);
			if (!characteristic?.service.device.gatt?.connected) return undefined;
			// A read that is under way when the connection breaks is never answered: lost, as in the air.
			const over = new AbortController();
			const left = new Promise<undefined>((resolve) => {
				characteristic.service.device.addEventListener('gattserverdisconnected', () => resolve(undefined), {
					signal: over.signal
				});
			});
			const atMs = await Promise.race([characteristic.readValue().then(() => performance.now()), left]);
			over.abort();
			return atMs;
		}, this.name);
		if (atMs === undefined) {
			this.disconnected();
			throw new Error(`The page does not listen to ${this.name}.`);
		}
		this.delivered.push({ atMs, bytes });
	}

	#tellReads(act: 'hold' | 'letGo'): Promise<void | undefined> {
		return this.#page().evaluate((act) => {
			const { emulatedReads } = window as unknown as {
				// A browser that has opened no page yet reads nothing.
				emulatedReads?: Record<'hold' | 'letGo', () => void | Promise<void>>;
			};
			return emulatedReads?.[act]();
		}, act);
	}

	async #offerServices() {
		this.#reads.clear();
		const service = async (serviceUuid: string) => {
			const answer = await this.#air.send('BluetoothEmulation.addService', {
				address: this.address,
				serviceUuid
			});
			return answer.serviceId;
		};
		const characteristic = async (
			serviceId: string,
			characteristicUuid: string,
			properties: { read?: boolean; notify?: boolean },
			read: () => number[]
		) => {
			const { characteristicId } = await this.#air.send('BluetoothEmulation.addCharacteristic', {
				serviceId,
				characteristicUuid,
				properties
			});
			this.#reads.set(characteristicId, read);
			return characteristicId;
		};
		const heart = await service(assigned.heartRate);
		const measurement = await characteristic(
			heart,
			assigned.heartRateMeasurement,
			{ notify: true, read: true },
			() => this.#packet
		);
		await this.#air.send('BluetoothEmulation.addDescriptor', {
			characteristicId: measurement,
			descriptorUuid: assigned.clientCharacteristicConfiguration
		});
		await characteristic(heart, assigned.bodySensorLocation, { read: true }, () => this.#values.location);
		const power = await service(assigned.battery);
		await characteristic(power, assigned.batteryLevel, { read: true }, () => this.#values.battery);
	}
}
