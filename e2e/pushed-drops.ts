import { chromium } from '@playwright/test';
import { setTimeout as wait } from 'node:timers/promises';
import { Bluez } from './bluez';
import { chromiumArgs } from './chromium-args';
import { Corner } from './corner';
import { findChromium } from './find-chromium.js';
import { packet } from './packets';
import { parkMiller } from './park-miller';
import { expect, patienceMs } from './patience';
import { storedIn } from './stored';

export interface DropFigures {
	/** Pushed while the page was subscribed. */
	sent: number;
	/** Pushed, and never handed to the page by the browser, because the link broke in that moment. */
	notHandedOver: number;
	/** Handed to the page and not in the record, or there without having been. */
	missing: number;
	/** From the moment the strap could be reached again to the first new rate on the screen. */
	returnsMs: number[];
}

const numberIn = (bytes: readonly number[]) => bytes[2]! + 256 * bytes[3]!;

/**
 * One session in a real browser whose strap goes out of reach again and again, at times in the middle of a burst, and
 * refuses every connection until it is back, or leaves it unanswered. The clock is that of life.
 */
export async function dropAgainAndAgain(address: string, drops: number, seed: number): Promise<DropFigures> {
	const random = parkMiller(seed);
	const bluez = await Bluez.start();
	const browser = await chromium.launch({
		executablePath: findChromium(),
		args: chromiumArgs,
		env: bluez.environment
	});
	try {
		const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
		await bluez.serve(page);
		const corner = new Corner(page, bluez);
		const strap = bluez.addStrap({ address: '02:00:00:00:0B:62', name: 'Chest strap D' });
		await page.goto(address);
		await corner.answer('skip');
		await corner.plan({ Rounds: 1, 'Round, seconds': 3000, 'Get ready, seconds': 0 });
		await corner.pair(strap);
		await corner.start();
		let number = 0;
		// Each outage has a rate of its own, so that the screen tells a beat since the return from one before.
		let bpm = 100;
		const next = () => packet({ bpm, contact: true, energyKJ: number++ });
		strap.stream(next);
		await expect(corner.heartRate).toHaveText('100');

		const returnsMs: number[] = [];
		for (let drop = 1; drop <= drops; drop++) {
			await wait(500 + 2500 * random());
			const burst = random() < 0.5 ? Math.ceil(10 * random()) : 0;
			for (let i = 0; i < burst; i++) strap.notify(next());
			// The browser takes a while to hand a burst over: the link breaks before, within, or after that.
			await wait(100 * random());
			strap.move(random() < 0.5 ? 'refused' : 'unanswered');
			for (let i = 0; i < burst; i++) strap.notify(next());
			await wait(200 + 5000 * random());
			bpm = 100 + (drop % 100);
			strap.move('in reach');
			const backMs = Date.now();
			// Asked at every frame; an expectation would look again after up to a second only.
			const back = page.waitForFunction(
				(text) => document.querySelector('[aria-label="Heart rate"]')?.textContent?.trim() === text,
				String(bpm),
				{ timeout: patienceMs }
			);
			await back.catch(async (cause: unknown) => {
				const screen = await page.getByRole('main').innerText();
				throw new Error(`Not back from loss ${drop} of seed ${seed}. On the screen: ${screen}`, { cause });
			});
			returnsMs.push(Date.now() - backMs);
		}
		strap.silence();
		const last = numberIn(strap.sent.at(-1)!);
		const heard = async () => (await bluez.heard(strap)).map(({ bytes }) => numberIn(bytes));
		await expect.poll(async () => (await heard()).at(-1)).toBe(last);
		const handedOver = await heard();
		await corner.finish();

		const kept = (await storedIn(page)).records[0]?.numbers ?? [];
		const inOne = new Set(kept);
		return {
			sent: strap.sent.length,
			notHandedOver: strap.sent.length - handedOver.length,
			missing: handedOver.filter((one) => !inOne.has(one)).length + Math.abs(kept.length - handedOver.length),
			returnsMs
		};
	} finally {
		await browser.close();
		await bluez.off();
	}
}
