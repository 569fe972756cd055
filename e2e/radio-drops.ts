import { chromium } from '@playwright/test';
import { setTimeout as wait } from 'node:timers/promises';
import { Corner } from './corner';
import { findChromium } from './find-chromium.js';
import { packet } from './packets';
import { parkMiller } from './park-miller';
import { expect, patienceMs } from './patience';
import { Radio } from './radio';
import { storedIn } from './stored';

export interface DropFigures {
	drops: number;
	delivered: number;
	/** Delivered to the page and not in the record. */
	missing: number;
	/** From the moment the strap could be reached again to the first new rate on the screen. */
	returnsMs: number[];
}

const farTooMany = 1_000_000;

/**
 * One session in a real browser whose strap goes out of reach again and again, and refuses every connection until
 * it is back. The clock is that of life.
 */
export async function dropAgainAndAgain(address: string, drops: number, seed: number): Promise<DropFigures> {
	const random = parkMiller(seed);
	const browser = await chromium.launch({
		executablePath: findChromium(),
		args: ['--no-sandbox', '--enable-features=WebBluetooth']
	});
	try {
		const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
		const radio = await Radio.on(page);
		const corner = new Corner(page, radio);
		const strap = await radio.addStrap({ address: '02:00:00:00:00:62', name: 'Chest strap D' });
		await page.goto(address);
		await corner.answer('skip');
		await corner.plan({ Rounds: 1, 'Round, seconds': 3000, 'Get ready, seconds': 0 });
		await corner.pair(strap);
		await corner.start();
		let number = 0;
		// Each outage has a rate of its own, so that the screen tells a beat since the return from one before.
		let bpm = 100;
		strap.stream(() => packet({ bpm, contact: true, energyKJ: number++ }));
		await expect(corner.heartRate).toHaveText('100');

		const returnsMs: number[] = [];
		for (let drop = 1; drop <= drops; drop++) {
			await wait(500 + 2500 * random());
			strap.refuse(farTooMany);
			await strap.drop();
			await wait(200 + 5000 * random());
			bpm = 100 + (drop % 100);
			strap.refuse(0);
			const backMs = Date.now();
			// Asked at every frame; an expectation would look again after up to a second only.
			const back = page.waitForFunction(
				(text) => document.querySelector('[aria-label="Heart rate"]')?.textContent?.trim() === text,
				String(bpm),
				{ timeout: patienceMs }
			);
			await back.catch(async (cause: unknown) => {
				// Whose fault it is: without an answer from the browser's Bluetooth no page could come back.
				const answer = `asked for Bluetooth, the browser answers the page: ${await radio.found()}`;
				const screen = await page.getByRole('main').innerText();
				throw new Error(`Not back from loss ${drop} of seed ${seed}; ${answer}. On the screen: ${screen}`, {
					cause
				});
			});
			returnsMs.push(Date.now() - backMs);
		}
		strap.silence();
		// It waits for a packet that is still on its way.
		await strap.notify(packet({ bpm, contact: true, energyKJ: number++ }));
		await corner.finish();
		const kept = new Set((await storedIn(page)).records[0]?.numbers);
		const missing = strap.delivered.filter(({ bytes }) => !kept.has(bytes[2]! + 256 * bytes[3]!)).length;
		radio.off();
		return { drops, delivered: strap.delivered.length, missing, returnsMs };
	} finally {
		await browser.close();
	}
}
