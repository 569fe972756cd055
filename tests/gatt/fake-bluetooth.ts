import type { Clock } from '$lib/time/clock';

type Answer = 'accept' | 'refuse' | 'hang';
type Offered = Record<string, { notify?: Answer | 'breaks'; read?: Answer; bytes?: number[] }>;

const failed = (name: string) => Promise.reject(new DOMException('as the fake was told', name));
const never = () => new Promise<never>(() => {});
const viewOf = (bytes: number[]) => new DataView(Uint8Array.from(bytes).buffer);

class FakeCharacteristic extends EventTarget {
	value: DataView | undefined;
	isSubscribed = false;
	readonly properties: { notify: boolean };

	constructor(
		private readonly link: { isUp: boolean },
		private readonly offered: Offered[string]
	) {
		super();
		this.properties = { notify: offered.notify !== undefined };
	}

	async startNotifications(): Promise<this> {
		const { notify } = this.offered;
		if (!this.link.isUp || notify === 'refuse') return failed('NetworkError');
		// What Chromium also says of a link that broke meanwhile ("GATT operation failed for unknown reason"), before it
		// tells of the break.
		if (notify === undefined || notify === 'breaks') return failed('NotSupportedError');
		if (notify === 'hang') return never();
		this.isSubscribed = true;
		return this;
	}

	async readValue(): Promise<DataView> {
		const { read } = this.offered;
		if (!this.link.isUp || read === 'refuse') return failed('NetworkError');
		if (read === 'hang') return never();
		this.emit(this.offered.bytes ?? []);
		return viewOf(this.offered.bytes ?? []);
	}

	emit(bytes: number[]): void {
		this.value = viewOf(bytes);
		this.dispatchEvent(new Event('characteristicvaluechanged'));
	}
}

/** What the browser's chooser finds: one device, whose radio the test holds in its hand. */
export class FakeRadio {
	name: string | undefined = 'Red corner';
	/** What requestDevice does. */
	chooser: 'pick' | DOMException = 'pick';
	isAdapterOn = true;
	connecting: Answer = 'accept';
	/** How getPrimaryService answers. */
	discovery: Answer = 'accept';
	services: Record<string, Offered> = {
		heart_rate: {
			heart_rate_measurement: { notify: 'accept' },
			body_sensor_location: { bytes: [1] }
		},
		battery_service: { battery_level: { bytes: [90] } }
	};
	readonly requests: RequestDeviceOptions[] = [];
	/** The clock's time of each call of connect(). */
	readonly triesMs: number[] = [];
	#waiting: (() => void)[] = [];
	/** Objects belong to one connection; those of an earlier one are dead. */
	#link = { isUp: false };
	#characteristics = new Map<string, FakeCharacteristic>();
	readonly device: EventTarget;
	readonly bluetooth: Bluetooth;

	constructor(clock: Clock) {
		const radio = this as FakeRadio;
		const device = new EventTarget();
		const gatt = {
			device,
			get connected() {
				return radio.isUp;
			},
			connect: () => {
				radio.triesMs.push(clock.nowMs());
				return radio.#connect(gatt);
			},
			disconnect: () => radio.drop(),
			getPrimaryService: (uuid: string) => radio.#service(uuid, device)
		};
		this.device = Object.defineProperties(device, {
			name: { get: () => radio.name },
			gatt: { value: gatt, configurable: true }
		});
		const bluetooth = {
			getAvailability: async () => radio.isAdapterOn,
			requestDevice: async (options: RequestDeviceOptions) => {
				radio.requests.push(options);
				if (radio.chooser !== 'pick') throw radio.chooser;
				return device;
			}
		};
		this.bluetooth = bluetooth as unknown as Bluetooth;
	}

	get isUp(): boolean {
		return this.#link.isUp;
	}

	async #connect<T>(gatt: T): Promise<T> {
		if (this.connecting === 'refuse') return failed('NetworkError');
		if (this.connecting === 'hang') await new Promise<void>((resolve) => this.#waiting.push(resolve));
		if (!this.isUp) {
			this.#link = { isUp: true };
			this.#characteristics = new Map();
		}
		return gatt;
	}

	async #service(uuid: string, device: EventTarget) {
		const link = this.#link;
		if (!link.isUp || this.discovery === 'refuse') return failed('NetworkError');
		if (this.discovery === 'hang') return never();
		const offered = this.services[uuid];
		if (!offered) return failed('NotFoundError');
		return {
			device,
			getCharacteristic: async (name: string) => {
				const characteristic = offered[name];
				if (!link.isUp) return failed('NetworkError');
				if (!characteristic) return failed('NotFoundError');
				const made = new FakeCharacteristic(link, characteristic);
				this.#characteristics.set(name, made);
				return made;
			}
		};
	}

	/** Whatever hangs in connect() comes through after all. */
	letThrough(): void {
		for (const resolve of this.#waiting.splice(0)) resolve();
	}

	/** A characteristic of the present connection, to be kept beyond its end. */
	characteristic(name = 'heart_rate_measurement'): FakeCharacteristic {
		const found = this.#characteristics.get(name);
		if (!found) throw new Error(`Nobody asked for ${name} on this connection.`);
		return found;
	}

	/** One notification, lost where nobody subscribed on this connection; answers whether it was delivered. */
	notify(bytes: number[], name = 'heart_rate_measurement'): boolean {
		const characteristic = this.#characteristics.get(name);
		if (!this.isUp || !characteristic?.isSubscribed) return false;
		characteristic.emit(bytes);
		return true;
	}

	/** Ends the connection, if there is one, and tells the page, as the browser does for either side's doing. */
	drop(): void {
		if (!this.#link.isUp) return;
		this.#link.isUp = false;
		this.tellDisconnected();
	}

	tellDisconnected(): void {
		this.device.dispatchEvent(new Event('gattserverdisconnected'));
	}
}
