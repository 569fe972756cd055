import puppeteer, { type Browser, type Page } from 'puppeteer-core';
import { findChromium } from './find-chromium.js';
import { holdMouse } from './hold-mouse';

/**
 * A browser in which a tab behind another one is really hidden and throttled, as on a user's laptop. Playwright keeps
 * every page visible, and either driver leaves timers alone unless told otherwise.
 */
export function launchHiding(args: string[]): Promise<Browser> {
	return puppeteer.launch({
		// Without windows a browser has no tab that is behind another.
		executablePath: findChromium() ?? '',
		args,
		defaultViewport: { width: 1366, height: 768 },
		// With these a tab behind another one would not be throttled, and nothing would be proved by it.
		ignoreDefaultArgs: [
			'--disable-background-timer-throttling',
			'--disable-backgrounding-occluded-windows',
			'--disable-renderer-backgrounding'
		]
	});
}

/** Puts another tab before this one. */
export async function hide(page: Page): Promise<void> {
	const other = await page.browser().newPage();
	await other.bringToFront();
}

/** What a story does to the strap of `offerStrap`. */
interface PlayedStrap {
	/** Connections are refused while this is false. */
	isInReach: boolean;
	drop(): void;
	/** Delivers one packet; answers whether the page listens. */
	send(bytes: number[]): boolean;
}

/**
 * Puts a strap into the next document's chooser that the story plays in the page, where no emulated radio reaches:
 * `played` in the page's window. Its tries to connect are the page's own, on the page's own timers.
 */
export function offerStrap(page: Page): Promise<unknown> {
	return page.evaluateOnNewDocument(() => {
		let isUp = false;
		let isHeard = false;
		const gone = () => Promise.reject(new DOMException('out of reach', 'NetworkError'));
		const device = new EventTarget();
		const measurement = new EventTarget();
		Object.assign(measurement, {
			properties: { notify: true },
			startNotifications: () => (isUp ? Promise.resolve((isHeard = true)) : gone())
		});
		const heartRate = { device, getCharacteristic: () => Promise.resolve(measurement) };
		const notOffered = () => Promise.reject(new DOMException('not offered', 'NotFoundError'));
		const disconnect = () => {
			if (!isUp) return;
			isUp = isHeard = false;
			device.dispatchEvent(new Event('gattserverdisconnected'));
		};
		const gatt = {
			device,
			get connected() {
				return isUp;
			},
			connect: () => (played.isInReach ? Promise.resolve(((isUp = true), gatt)) : gone()),
			disconnect,
			getPrimaryService: (name: string) =>
				name !== 'heart_rate' ? notOffered() : isUp ? Promise.resolve(heartRate) : gone()
		};
		Object.assign(device, { name: 'Played strap', gatt });
		const played: PlayedStrap = {
			isInReach: true,
			drop: disconnect,
			send(bytes) {
				if (!isHeard) return false;
				Object.assign(measurement, { value: new DataView(Uint8Array.from(bytes).buffer) });
				return measurement.dispatchEvent(new Event('characteristicvaluechanged'));
			}
		};
		const bluetooth = {
			getAvailability: () => Promise.resolve(true),
			requestDevice: () => Promise.resolve(device)
		};
		Object.defineProperty(navigator, 'bluetooth', { value: bluetooth });
		Object.assign(window, { played });
	});
}

/** Acts on the strap of `offerStrap`. */
export function withStrap<T>(page: Page, act: (strap: PlayedStrap) => T): Promise<Awaited<T>> {
	return page.evaluate(`(${act.toString()})(window.played)`) as Promise<Awaited<T>>;
}

/** Presses the button of this name, or what else has the role. */
export async function press(page: Page, name: string, role = 'button'): Promise<void> {
	await named(page, name, role).click();
}

/** As Finish wants it, which a short press does not end. */
export async function hold(page: Page, name: string): Promise<void> {
	const button = await named(page, name, 'button').waitHandle();
	await button.hover();
	await holdMouse(page);
}

const named = (page: Page, name: string, role: string) =>
	page.locator(`::-p-aria([name="${name}"][role="${role}"])`);

/** Starts a session of this plan on the practice strap, at the pace of life. */
export async function startPractice(page: Page, address: string, plan: object): Promise<void> {
	await page.goto(address);
	await waitForSettings(page);
	await keepPlan(page, plan);
	await page.reload();
	await waitForSettings(page);
	await page.select('select:has(option[value="60"])', '1');
	await press(page, 'Use simulated strap');
	await page.waitForSelector('button.chief:not([disabled])');
	await press(page, 'Start');
	await page.waitForSelector('[role="timer"]');
}

/** The built page shows its first screen before there is a database: it takes no press until that has been read. */
export async function waitForSettings(page: Page): Promise<void> {
	await page.waitForFunction(
		() => document.querySelector('button.chief') && !document.querySelector('[inert]')
	);
}

function keepPlan(page: Page, plan: object): Promise<void> {
	return page.evaluate(
		(plan) =>
			new Promise<void>((resolve, reject) => {
				const opening = indexedDB.open('corner-minute');
				opening.onerror = () => reject(new Error('The database could not be opened.'));
				opening.onsuccess = () => {
					const writing = opening.result.transaction('entries', 'readwrite');
					writing.objectStore('entries').put(plan, 'setting/lastPlan');
					writing.objectStore('entries').put(true, 'setting/firstQuestionsAsked');
					writing.oncomplete = () => {
						opening.result.close();
						resolve();
					};
				};
			}),
		plan
	);
}
