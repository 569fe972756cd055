import { defineConfig } from '@playwright/test';
import { chromiumArgs } from './e2e/chromium-args';
import { findStoryBrowser } from './e2e/find-chromium.js';
import { patienceMs } from './e2e/patience';

// Not the port of daily use: a Corner Minute that somebody is training with stays untouched. E2E_PORT lets two
// checkouts run their stories side by side.
const port = Number(process.env.E2E_PORT ?? 4361);

export default defineConfig({
	outputDir: 'test-results/stories',
	fullyParallel: true,
	// Two cores tell four stories side by side with a quarter less processor time than ten of them, and sooner. Those that
	// live at the pace of life, through rests and with a radio, do next to nothing but wait, so eight of them wait beside
	// those, from the beginning, that nobody waits for them at the end.
	workers: 12,
	projects: [
		{ name: 'waits', testDir: 'e2e/waits', workers: 8 },
		{ name: 'stories', testDir: 'e2e', testIgnore: 'waits/**', workers: 4 }
	],
	// On a desk a story that fails has failed. Where nobody watches, on a machine that others use as well, one second
	// attempt tells a slow minute from a fault; `.ci/run` names each story that needed it, and it is to be mended.
	retries: process.env.CI ? 1 : 0,
	forbidOnly: true,
	// The stories live through a real rest of 60 s, some of them through two, on a machine that may be slow.
	timeout: 480_000,
	expect: { timeout: patienceMs },
	reporter: [['list'], ['json', { outputFile: 'test-results/e2e.json' }]],
	use: {
		baseURL: `http://localhost:${port}`,
		viewport: { width: 1366, height: 768 },
		screenshot: 'only-on-failure',
		// As patient as an expectation: a press that finds nothing must not use up the story's whole time.
		actionTimeout: 60_000,
		// Tracing takes the processor time that the stories beside it need.
		trace: 'off',
		launchOptions: {
			// Undefined on a machine without a browser, where linters read this file all the same; whoever runs the
			// stories has asked `e2e/find-chromium.js` before.
			executablePath: findStoryBrowser(),
			args: chromiumArgs
		}
	},
	webServer: {
		command: `node src/start.js --no-build --port ${port}`,
		url: `http://localhost:${port}/`,
		// A server left over would show an older build.
		reuseExistingServer: false,
		timeout: 60_000,
		stdout: 'ignore',
		stderr: 'pipe'
	}
});
