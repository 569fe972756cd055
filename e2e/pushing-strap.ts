import type { MessageBus } from 'dbus-native';
import * as assigned from './assigned-numbers';
import { BusObject } from './bus-object';
import { everySecond } from './every-second';

const chest = 1;
const fullBattery = 90;

/** What becomes of a connection that is asked for: made, refused at once, or left unanswered until the strap is back. */
export type Reach = 'in reach' | 'refused' | 'unanswered';

/** As BlueZ says that a strap is out of reach. */
class OutOfReach extends Error {
	readonly dbusName = 'org.bluez.Error.Failed';
	constructor() {
		super('le-connection-abort-by-local');
	}
}

/** A strap as BlueZ tells of it. Its measurement is pushed: whoever subscribed is told each packet unasked. */
export class PushingStrap {
	/** Every packet that went out while the page was subscribed, oldest first. */
	readonly sent: number[][] = [];
	/** Connections that the browser asked for, refused ones included. */
	attempts = 0;
	readonly #device: BusObject;
	readonly #measurement: BusObject;
	/** What is there while it is connected, each after what it belongs to. */
	readonly #services: BusObject[];
	#reach: Reach = 'in reach';
	#isConnected = false;
	#isNotifying = false;
	#answerAll: (() => void)[] = [];
	#endStream: () => void = () => undefined;

	constructor(
		bus: MessageBus,
		adapterPath: string,
		readonly address: string,
		readonly name: string
	) {
		const path = `${adapterPath}/dev_${address.replaceAll(':', '_')}`;
		this.#device = new BusObject(
			bus,
			path,
			'org.bluez.Device1',
			{
				Address: ['s', address],
				AddressType: ['s', 'random'],
				Name: ['s', name],
				Alias: ['s', name],
				Adapter: ['o', adapterPath],
				UUIDs: ['as', [assigned.heartRate, assigned.battery]],
				RSSI: ['n', -50],
				Paired: ['b', false],
				Bonded: ['b', false],
				Trusted: ['b', false],
				Blocked: ['b', false],
				LegacyPairing: ['b', false],
				Connected: ['b', false],
				ServicesResolved: ['b', false]
			},
			{
				Connect: { handler: () => this.#connect() },
				Disconnect: { handler: () => this.#endLink() }
			}
		);

		const service = (at: string, UUID: string) =>
			new BusObject(bus, `${path}/${at}`, 'org.bluez.GattService1', {
				UUID: ['s', UUID],
				Device: ['o', path],
				Primary: ['b', true],
				Includes: ['ao', []]
			});
		const readable = (service: BusObject, at: string, UUID: string, value: number) =>
			new BusObject(
				bus,
				`${service.path}/${at}`,
				'org.bluez.GattCharacteristic1',
				{
					UUID: ['s', UUID],
					Service: ['o', service.path],
					Value: ['ay', [value]],
					Notifying: ['b', false],
					Flags: ['as', ['read']]
				},
				{ ReadValue: { in: { options: 'a{sv}' }, out: { value: 'ay' }, handler: () => [value] } }
			);
		const heart = service('service0010', assigned.heartRate);
		this.#measurement = new BusObject(
			bus,
			`${heart.path}/char0011`,
			'org.bluez.GattCharacteristic1',
			{
				UUID: ['s', assigned.heartRateMeasurement],
				Service: ['o', heart.path],
				Value: ['ay', []],
				Notifying: ['b', false],
				Flags: ['as', ['notify']]
			},
			{
				StartNotify: { handler: () => this.#notifying(true) },
				StopNotify: { handler: () => this.#notifying(false) }
			}
		);
		// Without it Chromium refuses to subscribe.
		const subscription = new BusObject(
			bus,
			`${this.#measurement.path}/desc0013`,
			'org.bluez.GattDescriptor1',
			{
				UUID: ['s', assigned.clientCharacteristicConfiguration],
				Characteristic: ['o', this.#measurement.path],
				Value: ['ay', []],
				Flags: ['as', ['read', 'write']]
			}
		);
		const power = service('service0020', assigned.battery);
		this.#services = [
			heart,
			this.#measurement,
			subscription,
			readable(heart, 'char0014', assigned.bodySensorLocation, chest),
			power,
			readable(power, 'char0021', assigned.batteryLevel, fullBattery)
		];
	}

	/** True while the page listens to the measurement. */
	get subscribed(): boolean {
		return this.#isNotifying;
	}

	/** Sends one packet, malformed ones included; lost, as in the air, where nobody has subscribed. */
	notify(bytes: number[]): void {
		if (!this.#isNotifying) return;
		this.sent.push(bytes);
		this.#measurement.change({ Value: bytes });
	}

	/** Sends a packet each second, as a strap does, until `silence`; `next` is asked right before each one. */
	stream(next: (second: number) => number[]): void {
		this.silence();
		this.#endStream = everySecond((second) => this.notify(next(second)));
	}

	silence(): void {
		this.#endStream();
	}

	/** Takes the strap out of reach, with its connection, or brings it back. */
	move(reach: Reach): void {
		this.#reach = reach;
		if (reach !== 'in reach') this.#endLink();
		for (const answer of this.#answerAll.splice(0)) answer();
	}

	/** Tells the bus of it, as of a strap that BlueZ has connected to before or has just heard. */
	appear(): void {
		this.#device.appear();
	}

	/** Its connection goes, and BlueZ knows nothing of it any more. */
	vanish(): void {
		this.#endLink();
		this.#device.vanish();
	}

	/** What a scan hears of it. */
	advertise(): void {
		if (this.#reach === 'in reach') this.#device.change({ RSSI: -50 });
	}

	async #connect() {
		this.attempts++;
		while (this.#reach === 'unanswered') await new Promise<void>((resolve) => this.#answerAll.push(resolve));
		if (this.#reach === 'refused') throw new OutOfReach();
		if (this.#isConnected) return;
		this.#isConnected = true;
		// BlueZ is connected before it answers, and finds the services afterwards.
		this.#device.change({ Connected: true });
		setImmediate(() => this.#discover());
	}

	#discover() {
		if (!this.#isConnected) return;
		for (const one of this.#services) one.appear();
		this.#device.change({ ServicesResolved: true });
	}

	#endLink() {
		if (!this.#isConnected) return;
		this.#isConnected = this.#isNotifying = false;
		this.#measurement.become({ Notifying: false });
		this.#device.change({ Connected: false, ServicesResolved: false });
		for (const one of this.#services.toReversed()) one.vanish();
	}

	#notifying(isOn: boolean) {
		this.#isNotifying = isOn;
		this.#measurement.change({ Notifying: isOn });
	}
}
