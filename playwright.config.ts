import { defineConfig } from '@playwright/test';
import { findChromium } from './e2e/find-chromium.js';

const executablePath = findChromium();
if (!executablePath) throw new Error('No Chromium found: `node e2e/find-chromium.js` says what to do.');

// Not the port of daily use: a Corner Minute that somebody is training with stays untouched. E2E_PORT lets two
// checkouts run their stories side by side.
const port = Number(process.env.E2E_PORT ?? 4361);

export default defineConfig({
	testDir: 'e2e',
	outputDir: 'test-results/stories',
	fullyParallel: true,
	workers: 2,
	// On a desk a story that fails has failed. Where nobody watches, on a machine that others use as well, one second
	// attempt tells a slow minute from a fault; `.ci/run` names each story that needed it, and it is to be mended.
	retries: process.env.CI ? 1 : 0,
	forbidOnly: true,
	// The stories live through a real rest of 60 s, some of them through two.
	timeout: 240_000,
	expect: { timeout: 10_000 },
	reporter: [['list'], ['json', { outputFile: 'test-results/e2e.json' }]],
	use: {
		baseURL: `http://localhost:${port}`,
		viewport: { width: 1366, height: 768 },
		screenshot: 'only-on-failure',
		// No film of every story: painting it takes the time that the real-time stories need.
		trace: { mode: 'retain-on-failure', screenshots: false },
		launchOptions: {
			executablePath,
			// Linux keeps Web Bluetooth off by default. Root, as in a container, cannot have Chromium's sandbox.
			args: [
				'--no-sandbox',
				'--enable-features=WebBluetooth',
				'--disable-background-networking',
				'--disable-component-update',
				'--disable-sync',
				'--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE localhost'
			]
		}
	},
	webServer: {
		command: `node src/start.js --port ${port}`,
		url: `http://localhost:${port}/`,
		// A server left over would show an older build.
		reuseExistingServer: false,
		timeout: 180_000,
		stdout: 'ignore',
		stderr: 'pipe'
	}
});
