import { defineConfig } from '@playwright/test';
import stories from '../../playwright.config';

/** `npm run firefox`: the page in a browser of another make, by hand and only where Debian's firefox-esr is installed. */
export default defineConfig({
	...stories,
	projects: undefined,
	testDir: '.',
	testMatch: '*.firefox.ts',
	outputDir: '../../test-results/firefox',
	reporter: 'list',
	retries: 0,
	webServer: { ...(stories.webServer as object), cwd: '../..' } as typeof stories.webServer
});
