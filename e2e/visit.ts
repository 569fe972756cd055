import type { Page } from '@playwright/test';
import { setTimeout as wait } from 'node:timers/promises';
import { Corner } from './corner';
import type { EmulatedStrap } from './emulated-strap';
import { MortalBrowser } from './mortal-browser';
import { packet } from './packets';
import { expect } from './patience';
import { Radio } from './radio';
import { Squad } from './squad';
import type { Deed } from './stored';

/** One session as it really went: what was sent and what the page itself says it received. */
export interface Truth {
	/** Each packet carries a number of its own, in the field for energy. */
	sent: Set<number>;
	/** `Date.now()` of the page as it received them. */
	arrivedMs: Map<number, number>;
	/** What was done in mid-session, and when the page had shown it done; begun and not yet shown where that is missing. */
	deeds: { deed: Deed; shownMs?: number }[];
	/** Who takes part, the one who wears the strap first. */
	boxers: string[];
	/** How many of the packets had arrived when this life of the browser began. */
	seenBefore: number;
	killed?: { atMs: number; isFinishing: boolean };
}

const plan = { Rounds: 1, 'Round, seconds': 3000, 'Get ready, seconds': 0 };

/** One life of a browser on a profile, from its start to its kill, with a strap on its emulated radio. */
export class Visit {
	readonly corner: Corner;
	readonly squad: Squad;
	#truth: Truth | undefined;
	#isOver = false;

	private constructor(
		private readonly browser: MortalBrowser,
		private readonly address: string,
		private readonly radio: Radio,
		private readonly strap: EmulatedStrap
	) {
		this.corner = new Corner(browser.page, radio);
		this.squad = new Squad(this.corner, radio);
	}

	static async begin(profile: string, address: string): Promise<Visit> {
		const browser = await MortalBrowser.start(profile);
		const { page } = browser;
		const radio = await Radio.on(page);
		const strap = await radio.addStrap({ address: '02:00:00:00:00:61', name: 'Chest strap K' });
		const visit = new Visit(browser, address, radio, strap);
		await visit.#listen();
		await page.goto(address);
		return visit;
	}

	get page(): Page {
		return this.browser.page;
	}

	/** Has the page say at once which packet arrived and when; all it said before its end is known here. */
	async #listen(): Promise<void> {
		await this.page.exposeFunction('packetArrived', (number: number, atMs: number) => {
			this.#truth?.arrivedMs.set(number, atMs);
		});
		await this.page.addInitScript(() => {
			const { BluetoothRemoteGATTCharacteristic, packetArrived } = window as unknown as {
				BluetoothRemoteGATTCharacteristic: { prototype: BluetoothRemoteGATTCharacteristic };
				packetArrived: (number: number, atMs: number) => void;
			};
			const { prototype } = BluetoothRemoteGATTCharacteristic;
			const start = prototype.startNotifications;
			prototype.startNotifications = function () {
				this.addEventListener('characteristicvaluechanged', () => {
					// Flags, rate, then the two bytes of energy that tell the packets of this strap apart.
					if (this.uuid.startsWith('00002a37') && this.value)
						packetArrived(this.value.getUint16(2, true), Date.now());
				});
				return start.call(this);
			};
		});
	}

	async startSession(): Promise<Truth> {
		if (this.page.url() !== this.address) {
			await this.page.goto(this.address);
			await this.radio.restart();
		}
		await this.corner.plan(plan);
		await this.corner.pair(this.strap);
		await this.corner.start();
		return { sent: new Set(), arrivedMs: new Map(), deeds: [], boxers: ['Me'], seenBefore: 0 };
	}

	/** Does it as somebody in the gym would, and notes when the page has shown it done. */
	async act(truth: Truth, deed: Deed): Promise<void> {
		const begun: Truth['deeds'][number] = { deed };
		truth.deeds.push(begun);
		await (deed === 'add block' ? this.#addBlock() : this.#inBoxers(truth, deed));
		begun.shownMs = Date.now();
	}

	async #addBlock(): Promise<void> {
		await (await this.corner.more('Add a block')).click();
		const dialog = this.page.getByRole('dialog', { name: 'Add a block' });
		await dialog.getByRole('button', { name: 'Add it' }).click();
		await expect(dialog).toHaveCount(0);
	}

	async #inBoxers({ boxers }: Truth, deed: 'join' | 'hand over'): Promise<void> {
		const { dialog, close } = await this.squad.open();
		if (deed === 'join') {
			const name = `Boxer ${boxers.length + 1}`;
			await this.squad.newcomer(dialog, 'Somebody joins', name);
			await dialog.getByRole('button', { name: 'No strap' }).click();
			await expect(dialog.getByRole('listitem').filter({ hasText: name })).toBeVisible();
			boxers.push(name);
		} else {
			const [from, to] = boxers;
			await dialog.getByRole('button', { name: 'Hand over', exact: true }).click();
			await dialog.getByRole('combobox', { name: `Hand the strap of ${from} to` }).selectOption(to!);
			await dialog.getByRole('button', { name: 'Hand it over' }).click();
			await expect(dialog.getByRole('button', { name: 'Hand it over' })).toHaveCount(0);
			boxers.push(boxers.shift()!);
		}
		await close();
	}

	async goOn(): Promise<void> {
		await this.#expectUnfinished();
		await this.corner.button('Go on').click();
		await expect(this.corner.clock).toContainText('Round 1 of ');
		await this.corner.pair(this.strap);
		await expect.poll(() => this.strap.subscribed).toBe(true);
	}

	async keep(): Promise<void> {
		await this.#expectUnfinished();
		await this.corner.button('Save it as it is').click();
		await this.corner.inReview();
	}

	async openReview(id: string): Promise<void> {
		await this.page.goto(`${this.address}review/#${id}`);
		await this.corner.inReview();
	}

	async toClosingMinute(): Promise<void> {
		await this.corner.holdFinish();
		await expect(this.corner.clock).toContainText('The last minute');
	}

	/** Sends packets until the kill. */
	stream(truth: Truth, gapMs: () => number): void {
		this.#truth = truth;
		const send = async () => {
			while (!this.#isOver) {
				const number = truth.sent.size;
				truth.sent.add(number);
				await this.strap.notify(packet({ bpm: 90 + (number % 90), contact: true, energyKJ: number }));
				await wait(gapMs());
			}
		};
		send().catch((error: unknown) => {
			if (!this.#isOver) throw error;
		});
	}

	kill(): Promise<number> {
		this.#isOver = true;
		this.radio.off();
		return this.browser.kill();
	}

	async #expectUnfinished(): Promise<void> {
		await expect(this.corner.unfinished).toContainText('A session was left unfinished');
		await expect(this.corner.unfinished).not.toContainText('wrong');
		await expect(this.corner.button('Go on')).toBeEnabled();
	}
}
