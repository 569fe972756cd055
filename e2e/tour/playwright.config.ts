import { defineConfig } from '@playwright/test';
import stories from '../../playwright.config';

/** `npm run tour`: no test, but every screen in every state as a picture, to be looked at. */
export default defineConfig({
	...stories,
	projects: undefined,
	testDir: '.',
	testMatch: '*.tour.ts',
	outputDir: '../../test-results/tour-traces',
	reporter: 'list',
	retries: 0,
	timeout: 600_000,
	use: { ...stories.use, trace: 'off' },
	webServer: { ...(stories.webServer as object), cwd: '../..' } as typeof stories.webServer
});
