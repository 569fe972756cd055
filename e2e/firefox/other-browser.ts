import { accessSync, mkdtempSync, readdirSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect } from '@playwright/test';
import puppeteer, { type Browser, type Page } from 'puppeteer-core';
import { patienceMs } from '../patience';

const executable = process.env.FIREFOX ?? '/usr/bin/firefox-esr';

/**
 * A Firefox with a profile of its own, driven over WebDriver BiDi: no protocol of Chromium's. What it saves goes into a
 * folder without a question; what goes wrong in the page, and whoever is asked for anything, is noted.
 */
export class OtherBrowser {
	readonly errors: string[] = [];
	readonly asked = new Set<string>();

	private constructor(
		private readonly browser: Browser,
		private readonly saved: string,
		readonly page: Page
	) {
		page.on('console', (message) => {
			if (message.type() === 'error') this.errors.push(message.text());
		});
		page.on('pageerror', (error) => this.errors.push(error.message));
		page.on('request', (request) => {
			const { origin, protocol } = new URL(request.url());
			// What a page makes for itself (data:, blob:) goes nowhere.
			if (/^(https?|wss?):$/.test(protocol)) this.asked.add(origin);
		});
	}

	static async start(): Promise<OtherBrowser> {
		try {
			accessSync(executable);
		} catch {
			throw new Error(`There is no ${executable}: install firefox-esr, or name a Firefox in FIREFOX.`);
		}
		const saved = mkdtempSync(join(tmpdir(), 'corner-minute-firefox-'));
		const browser = await puppeteer.launch({
			browser: 'firefox',
			executablePath: executable,
			defaultViewport: { width: 1366, height: 768 },
			extraPrefsFirefox: { 'browser.download.folderList': 2, 'browser.download.dir': saved }
		});
		return new OtherBrowser(browser, saved, await browser.newPage());
	}

	async close(): Promise<void> {
		await this.browser.close();
	}

	/** Opens an address and waits until it has come alive. */
	async open(address: string): Promise<void> {
		await this.page.goto(address);
		await this.page.waitForSelector('#svelte-announcer');
	}

	async fill(name: string, value: string | number): Promise<void> {
		await this.page.locator(`::-p-aria([name="${name}"][role="spinbutton"])`).fill(String(value));
	}

	/** Waits until the page says this somewhere. */
	async says(words: string | RegExp): Promise<void> {
		await expect
			.poll(() => this.page.evaluate(() => document.body.innerText), { timeout: patienceMs })
			.toMatch(words);
	}

	/** The one file that was saved, once it is whole. */
	async file(): Promise<{ path: string; text: string }> {
		const names = () => readdirSync(this.saved);
		await expect.poll(names, { timeout: patienceMs }).toEqual([expect.stringMatching(/\.json$/)]);
		const path = join(this.saved, names()[0]!);
		await expect.poll(() => readFileSync(path, 'utf8').length, { timeout: patienceMs }).toBeGreaterThan(0);
		return { path, text: readFileSync(path, 'utf8') };
	}
}
