import type { Page } from '@playwright/test';
import { createBroker, createClient, type DBusBroker, type MessageBus } from 'dbus-native';
import { BusObject } from './bus-object';
import { Chooser, type Choice } from './chooser';
import { PushingStrap } from './pushing-strap';

const root = '/org/bluez';
const adapterPath = `${root}/hci0`;

/** A packet as the page's own document was told it. */
export interface Heard {
	name: string;
	/** `performance.now()` of the page. */
	atMs: number;
	bytes: number[];
}

/**
 * What BlueZ tells of a computer's Bluetooth, played on a D-Bus of its own: Chromium for Linux speaks to it with all it has
 * for life. Unlike with the emulation of the DevTools protocol (`Radio`), packets are pushed, and links break as links do.
 * No Bluetooth hardware, no BlueZ and no bus of the system take part.
 */
export class Bluez {
	readonly straps: PushingStrap[] = [];
	readonly #adapter: BusObject;
	readonly #chooser = new Chooser((answer) => {
		answer.catch((error: unknown) => {
			if (!this.#off) this.#failure ??= error;
		});
	});
	#page: Page | undefined;
	#power: 'on' | 'off' | 'unplugged' = 'on';
	#failure: unknown;
	#off = false;

	private constructor(
		private readonly broker: DBusBroker,
		private readonly bus: MessageBus,
		private readonly busAddress: string
	) {
		this.#adapter = new BusObject(
			bus,
			adapterPath,
			'org.bluez.Adapter1',
			{
				Address: ['s', '02:00:00:00:0A:00'],
				AddressType: ['s', 'public'],
				Name: ['s', 'gym laptop'],
				Alias: ['s', 'gym laptop'],
				Class: ['u', 0],
				Powered: ['b', true],
				Discoverable: ['b', false],
				DiscoverableTimeout: ['u', 0],
				Pairable: ['b', false],
				PairableTimeout: ['u', 0],
				Discovering: ['b', false],
				UUIDs: ['as', []],
				Modalias: ['s', ''],
				Roles: ['as', ['central']]
			},
			{
				SetDiscoveryFilter: { in: { filter: 'a{sv}' }, handler: () => undefined },
				StartDiscovery: { handler: () => this.#scan() },
				StopDiscovery: { handler: () => this.#adapter.change({ Discovering: false }) }
			}
		);
	}

	/** A bus with a computer on it whose Bluetooth is on. */
	static async start(): Promise<Bluez> {
		if (process.platform !== 'linux') throw new Error('Chromium speaks to BlueZ on Linux only.');
		const broker = createBroker();
		const busAddress = await new Promise<string>((resolve, reject) => {
			broker.once('error', reject);
			broker.listen((error, address) => (error ? reject(error) : resolve(address)));
		});
		const bus = createClient({ busAddress });
		const bluez = new Bluez(broker, bus, busAddress);
		bus.exportObjectManager('/');
		const nothing = { handler: () => undefined };
		const agents = { RegisterAgent: { in: { agent: 'o', can: 's' }, ...nothing } };
		const defaults = { RequestDefaultAgent: { in: { agent: 'o' }, ...nothing } };
		new BusObject(bus, root, 'org.bluez.AgentManager1', {}, { ...agents, ...defaults }).appear();
		bluez.#adapter.appear();
		await bus.requestName('org.bluez', 0);
		return bluez;
	}

	/** What the browser is to be started with. */
	get environment(): Record<string, string> {
		return { ...definedOf(process.env), DBUS_SYSTEM_BUS_ADDRESS: this.busAddress };
	}

	/** Answers the choosers of this page and notes what its documents hear, from its next document on. */
	async serve(page: Page): Promise<void> {
		this.#page = page;
		await this.#chooser.serve(page);
		await page.addInitScript(() => {
			const heard: Heard[] = [];
			Object.assign(window, { heard });
			// The type package declares the interface, not the global.
			const { BluetoothRemoteGATTCharacteristic } = window as unknown as {
				BluetoothRemoteGATTCharacteristic: { prototype: BluetoothRemoteGATTCharacteristic };
			};
			const { prototype } = BluetoothRemoteGATTCharacteristic;
			const { startNotifications } = prototype;
			const note = ({ target }: Event) => {
				const { value, service } = target as BluetoothRemoteGATTCharacteristic;
				const bytes = Array.from(new Uint8Array(value!.buffer));
				heard.push({ name: service.device.name ?? '', atMs: performance.now(), bytes });
			};
			prototype.startNotifications = function () {
				// The same listener twice is one.
				this.addEventListener('characteristicvaluechanged', note);
				return startNotifications.call(this);
			};
		});
	}

	/** What the page's document has heard of this strap, oldest first. */
	async heard(strap: PushingStrap): Promise<Heard[]> {
		const all = await this.#served.evaluate(() => (window as unknown as { heard: Heard[] }).heard);
		return all.filter(({ name }) => name === strap.name);
	}

	addStrap({ address, name }: { address: string; name: string }): PushingStrap {
		const strap = new PushingStrap(this.bus, adapterPath, address, name);
		this.straps.push(strap);
		strap.appear();
		return strap;
	}

	choose(choice: Choice): Promise<void> {
		return this.#chooser.choose(choice);
	}

	async reload(): Promise<void> {
		await this.#served.reload();
	}

	/** Takes the computer's Bluetooth away, with every connection, or gives it back. */
	power(power: 'on' | 'off' | 'unplugged'): void {
		for (const strap of this.straps) strap.move(power === 'on' ? 'in reach' : 'refused');
		if (power === 'unplugged') {
			for (const strap of this.straps) strap.vanish();
			this.#adapter.vanish();
		} else if (this.#power === 'unplugged') {
			this.#adapter.become({ Powered: power === 'on', Discovering: false });
			this.#adapter.appear();
			for (const strap of this.straps) strap.appear();
		} else this.#adapter.change({ Powered: power === 'on', Discovering: false });
		this.#power = power;
	}

	/** Takes the bus away and reports what went wrong unseen. */
	async off(): Promise<void> {
		this.#off = true;
		for (const strap of this.straps) strap.silence();
		await this.bus.close();
		await new Promise<void>((resolve) => this.broker.close(resolve));
		if (this.#failure) throw this.#failure;
	}

	get #served(): Page {
		if (!this.#page) throw new Error('No page is served yet.');
		return this.#page;
	}

	#scan() {
		this.#adapter.change({ Discovering: true });
		setImmediate(() => this.straps.forEach((strap) => strap.advertise()));
	}
}

function definedOf(environment: NodeJS.ProcessEnv): Record<string, string> {
	const told = Object.entries(environment).filter((one): one is [string, string] => one[1] !== undefined);
	return Object.fromEntries(told);
}
