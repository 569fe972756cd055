import type { CDPSession, Page } from '@playwright/test';
import { EmulatedStrap, type StrapFields } from './emulated-strap';

/**
 * The radio of one browser, emulated through the DevTools protocol. The chooser, the GATT client, discovery,
 * subscription and events under test are Chromium's own; only what would come through the air is played here.
 *
 * Two domains take part: BluetoothEmulation belongs to the whole browser, so that every story needs a browser
 * of its own; DeviceAccess, which answers choosers, belongs to a page.
 */
export class Radio {
	readonly straps: EmulatedStrap[] = [];
	#page: Page;
	#air: CDPSession;
	#choice: EmulatedStrap | 'cancel' | undefined;
	#answerChooser: () => void = () => undefined;
	#failure: unknown;
	#off = false;

	private constructor(page: Page, air: CDPSession) {
		this.#page = page;
		this.#air = air;
		air.on('BluetoothEmulation.gattOperationReceived', ({ address, type }) => {
			const strap = this.straps.find((one) => one.address === address);
			if (strap) this.#watch(strap.answerGatt(type));
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
			Object.assign(window, { subscribedByDeviceName: subscribed });
			characteristic.startNotifications = async function () {
				const answer = await startNotifications.call(this);
				subscribed.set(this.service.device.name ?? '', this);
				return answer;
			};
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

	/** What the user does in the next chooser, or in the one that is open. Holds for one chooser. */
	choose(choice: EmulatedStrap | 'cancel'): void {
		this.#choice = choice;
		this.#answerChooser();
	}

	/** Serves another page from now on: a tab that was opened after the first was closed. Then `restart`. */
	async moveTo(page: Page): Promise<void> {
		this.#page = page;
		const chooser = await page.context().newCDPSession(page);
		await chooser.send('DeviceAccess.enable');
		// The prompt is announced again whenever its list grows; answering one twice ends the browser.
		const answered = new Set<string>();
		chooser.on('DeviceAccess.deviceRequestPrompted', ({ id, devices }) => {
			this.#answerChooser = () => {
				const choice = this.#choice;
				if (choice === undefined || answered.has(id)) return;
				if (choice !== 'cancel' && !devices.some((device) => device.id === choice.address)) return;
				answered.add(id);
				this.#choice = undefined;
				this.#watch(
					choice === 'cancel'
						? chooser.send('DeviceAccess.cancelPrompt', { id })
						: chooser.send('DeviceAccess.selectPrompt', { id, deviceId: choice.address })
				);
			};
			this.#answerChooser();
		});
	}

	/** Reloads the page. The new document finds no adapter until the emulation has started anew. */
	async reload(): Promise<void> {
		for (const strap of this.straps) strap.disconnected();
		await this.#page.reload();
		await this.restart();
	}

	/** Brings the adapter back, with every strap in reach and none connected. */
	async restart(): Promise<void> {
		await this.#air.send('BluetoothEmulation.disable');
		await this.#powerUp();
		for (const strap of this.straps) await strap.advertise();
	}

	/**
	 * Takes the computer's Bluetooth away, with every connection, or gives it back. An adapter without power will
	 * not do: Chromium then still says that there is one (and so does the draft of Web Bluetooth).
	 */
	async power(state: 'on' | 'off'): Promise<void> {
		for (const strap of this.straps) {
			strap.refuse(state === 'off' ? Infinity : 0);
			if (state === 'off') await strap.drop();
		}
		await this.#air.send('BluetoothEmulation.setSimulatedCentralState', {
			state: state === 'on' ? 'powered-on' : 'absent'
		});
	}

	/** Ends the emulation and reports what went wrong in it unseen. */
	off(): void {
		this.#off = true;
		for (const strap of this.straps) strap.silence();
		if (this.#failure) throw this.#failure;
	}

	async #powerUp() {
		await this.#air.send('BluetoothEmulation.enable', { state: 'powered-on', leSupported: true });
	}

	#watch(answer: Promise<unknown>) {
		answer.catch((error: unknown) => {
			if (!this.#off) this.#failure ??= error;
		});
	}
}
