import type { CDPSession, Page } from '@playwright/test';
import { Chooser, type Choice } from './chooser';
import { EmulatedStrap, type StrapFields } from './emulated-strap';

/**
 * The radio of one browser, emulated through the DevTools protocol. The chooser, the GATT client, discovery,
 * subscription and events under test are Chromium's own; only what would come through the air is played here.
 *
 * Two domains take part: BluetoothEmulation belongs to the whole browser, so that one story at a time may have it;
 * DeviceAccess, which answers choosers (`Chooser`), belongs to a page.
 */
export class Radio {
	readonly straps: EmulatedStrap[] = [];
	/** The most connections that were asked for and not answered yet, at any time. */
	mostConnecting = 0;
	#connecting = 0;
	#page: Page;
	#air: CDPSession;
	#chooser = new Chooser((answer) => this.#watch(answer));
	#failure: unknown;
	#off = false;

	private constructor(page: Page, air: CDPSession) {
		this.#page = page;
		this.#air = air;
		air.on('BluetoothEmulation.gattOperationReceived', ({ address, type }) => {
			const strap = this.straps.find((one) => one.address === address);
			if (strap) this.#watch(type === 'connection' ? this.#connect(strap) : strap.answerGatt(type));
		});
		air.on('BluetoothEmulation.characteristicOperationReceived', ({ characteristicId, type }) => {
			const strap = this.straps.find((one) => one.has(characteristicId));
			if (strap) this.#watch(strap.answerCharacteristic(characteristicId, type));
		});
	}

	/** Turns the radio on for the browser of `page`; call it before the page asks for Bluetooth. */
	static async on(page: Page): Promise<Radio> {
		const browser = page.context().browser();
		if (!browser) throw new Error('The radio needs a page of a launched browser.');
		// The protocol cannot push a notification. A read, however, makes Chromium fire the same genuine
		// `characteristicvaluechanged`, so each subscribed characteristic is remembered to be read later.
		await page.context().addInitScript(() => {
			// The type package declares the interface, not the global; a page that is no secure context has none.
			const { BluetoothRemoteGATTCharacteristic } = window as unknown as {
				BluetoothRemoteGATTCharacteristic?: { prototype: BluetoothRemoteGATTCharacteristic };
			};
			if (!BluetoothRemoteGATTCharacteristic) return;
			const characteristic = BluetoothRemoteGATTCharacteristic.prototype;
			const startNotifications = characteristic.startNotifications;
			const subscribed = new Map<string, BluetoothRemoteGATTCharacteristic>();
			// After a reload Chromium tells a permitted device without its name, under the same id.
			const nameOf = ({ id, name }: BluetoothDevice) => {
				if (name) sessionStorage.setItem(`radio/${id}`, name);
				return name || (sessionStorage.getItem(`radio/${id}`) ?? '');
			};
			Object.assign(window, { subscribedByDeviceName: subscribed });
			characteristic.startNotifications = async function () {
				const answer = await startNotifications.call(this);
				subscribed.set(nameOf(this.service.device), this);
				return answer;
			};
			// A link that breaks while a read is unanswered costs the page the browser's Bluetooth for good: the
			// emulation drops the answer, and Chromium closes the page's line to it (even `getAvailability` hangs from
			// then on). No radio does that, so the break waits for the reads under way, and new ones wait for the break:
			// they then fail as in life, because the link is gone.
			const { readValue } = characteristic;
			const underWay = new Set<Promise<DataView>>();
			let held: Promise<void> | undefined;
			let letGo: () => void = () => undefined;
			characteristic.readValue = async function () {
				while (held) await held;
				const reading = readValue.call(this);
				underWay.add(reading);
				return reading.finally(() => underWay.delete(reading));
			};
			const emulatedReads = {
				async hold() {
					held = new Promise((resolve) => (letGo = resolve));
					const late = new Promise<never>((_, reject) => {
						setTimeout(() => reject(new Error('The emulated radio left a read unanswered.')), 10_000);
					});
					await Promise.race([Promise.allSettled(underWay), late]);
				},
				letGo() {
					held = undefined;
					letGo();
				}
			};
			Object.assign(window, { emulatedReads });
		});
		const radio = new Radio(page, await browser.newBrowserCDPSession());
		await radio.#powerUp();
		await radio.moveTo(page);
		return radio;
	}

	/** Puts a strap within reach. */
	async addStrap(fields: StrapFields): Promise<EmulatedStrap> {
		const strap = new EmulatedStrap(this.#air, () => this.#page, fields);
		this.straps.push(strap);
		await strap.advertise();
		return strap;
	}

	/**
	 * What the user does in the next chooser, or in the one that is open. Holds for one chooser; the promise is kept
	 * once that one is answered, which on a busy machine comes well after the press that opened it.
	 */
	choose(choice: Choice): Promise<void> {
		return this.#chooser.choose(choice);
	}

	/** Serves another page from now on: a tab that was opened after the first was closed. Then `restart`. */
	async moveTo(page: Page): Promise<void> {
		this.#page = page;
		await this.#chooser.serve(page);
	}

	/** Reloads the page. The new document finds no adapter until the emulation has started anew. */
	async reload(): Promise<void> {
		for (const strap of this.straps) strap.disconnected();
		await this.#page.reload();
		await this.restart();
	}

	/**
	 * Brings the adapter back, with every strap in reach and none connected. A document that was left takes the
	 * adapter along whenever the browser gets round to ending it, unless the new one has taken hold of it by then:
	 * so it is brought back until the page has found it.
	 */
	async restart(): Promise<void> {
		for (let tries = 0; tries < 20; tries++) {
			await this.#air.send('BluetoothEmulation.disable');
			await this.#powerUp();
			for (const strap of this.straps) await strap.advertise();
			if ((await this.found()) === 'adapter') return;
		}
		throw new Error('The emulated adapter does not come back to the page.');
	}

	/** What the browser answers the page that asks for Bluetooth; nothing once the emulation is stuck. */
	found(): Promise<'adapter' | 'no adapter' | 'no answer'> {
		return this.#page.evaluate((limitMs) => {
			const late = new Promise<'no answer'>((resolve) => setTimeout(() => resolve('no answer'), limitMs));
			const asked = navigator.bluetooth.getAvailability();
			return Promise.race([late, asked.then((is) => (is ? 'adapter' : 'no adapter'))]);
		}, 3000);
	}

	/**
	 * Takes the computer's Bluetooth away, with every connection, or gives it back. Of an adapter without power
	 * Chromium still says that there is one (and so does the draft of Web Bluetooth), of one that is unplugged not.
	 */
	async power(state: 'on' | 'off' | 'unplugged'): Promise<void> {
		for (const strap of this.straps) {
			strap.refuse(state === 'on' ? 0 : Infinity);
			if (state !== 'on') await strap.drop();
		}
		const states = { on: 'powered-on', off: 'powered-off', unplugged: 'absent' } as const;
		await this.#air.send('BluetoothEmulation.setSimulatedCentralState', { state: states[state] });
	}

	/** Ends the emulation and reports what went wrong in it unseen. */
	off(): void {
		this.#off = true;
		for (const strap of this.straps) void strap.silence();
		if (this.#failure) throw this.#failure;
	}

	/** Leaves the browser as it was, for the story that comes after. */
	async leave(): Promise<void> {
		await this.#air.detach();
	}

	async #connect(strap: EmulatedStrap) {
		this.mostConnecting = Math.max(this.mostConnecting, ++this.#connecting);
		await strap.answerGatt('connection').finally(() => this.#connecting--);
	}

	async #powerUp() {
		await this.#air.send('BluetoothEmulation.enable', { state: 'powered-on', leSupported: true });
	}

	#watch(answer: Promise<unknown>) {
		answer.catch((error: unknown) => {
			if (!this.#off && !isOvertaken(error)) this.#failure ??= error;
		});
	}
}

/**
 * On a slow machine an answer may come when nobody waits for it any more, because the page was left and took the
 * adapter along. What the page then makes of it is for the story to see.
 */
function isOvertaken(error: unknown): boolean {
	return error instanceof Error && error.message.includes('BluetoothEmulation not enabled');
}
