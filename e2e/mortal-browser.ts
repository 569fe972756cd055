import { chromium, type Browser, type Page } from '@playwright/test';
import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { chromiumArgs } from './chromium-args';
import { findChromium } from './find-chromium.js';

/**
 * A Chromium in a process group of its own, on a profile that outlives it, so that all of it can be killed at
 * once and another be started on what lies on the disk. Playwright's own launch would close it in good order.
 */
export class MortalBrowser {
	private constructor(
		private readonly process: ChildProcess,
		private readonly browser: Browser,
		readonly page: Page
	) {}

	static async start(profile: string): Promise<MortalBrowser> {
		const executable = findChromium();
		if (!executable) throw new Error('No Chromium found: `node e2e/find-chromium.js` says what to do.');
		const child = spawn(
			executable,
			[
				'--headless=new',
				...chromiumArgs,
				'--no-first-run',
				'--window-size=1366,768',
				'--remote-debugging-port=0',
				`--user-data-dir=${profile}`,
				'about:blank'
			],
			{ detached: true, stdio: ['ignore', 'ignore', 'pipe'] }
		);
		const browser = await chromium.connectOverCDP(await endpointOf(child));
		const [context] = browser.contexts();
		const page = context?.pages()[0];
		if (!page) throw new Error('The browser came up without a page.');
		return new MortalBrowser(child, browser, page);
	}

	/** Ends every process of it without warning; answers `Date.now()` right before. */
	async kill(): Promise<number> {
		const gone = once(this.process, 'exit');
		const atMs = Date.now();
		// A negative id stands for the whole group.
		process.kill(-this.process.pid!, 'SIGKILL');
		await gone;
		await this.browser.close();
		return atMs;
	}
}

/** What Chromium says on stderr once it can be spoken to. */
function endpointOf({ stderr }: ChildProcess): Promise<string> {
	return new Promise((resolve, reject) => {
		let said = '';
		const timer = setTimeout(() => reject(new Error(`Chromium did not come up: ${said}`)), 60_000);
		stderr!.on('data', (text) => {
			said += String(text);
			const endpoint = /DevTools listening on (ws:\S+)/.exec(said)?.[1];
			if (!endpoint) return;
			clearTimeout(timer);
			resolve(endpoint);
		});
	});
}
