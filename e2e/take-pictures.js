// `npm run pictures`: takes README's pictures from the running page, with the practice strap.
import { chromium } from '@playwright/test';
import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { findChromium } from './find-chromium.js';

const port = process.env.E2E_PORT ?? '4361';
const address = `http://localhost:${port}/`;
const folder = fileURLToPath(new URL('pictures/', import.meta.url));

const server = spawn(process.execPath, ['src/start.js', '--port', port], {
	stdio: ['ignore', 'pipe', 'inherit']
});
await new Promise((resolve, reject) => {
	server.stdout.on('data', (text) => String(text).includes('ready') && resolve(undefined));
	server.once('exit', () => reject(new Error(`The page could not be served on port ${port}.`)));
});

const browser = await chromium.launch({ executablePath: findChromium(), args: ['--no-sandbox'] });
try {
	const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
	/** @param {string} name @param {boolean} [fullPage] */
	const take = (name, fullPage = false) => page.screenshot({ path: `${folder}${name}.png`, fullPage });
	await page.goto(address);
	await page.getByLabel('Threshold, beats a minute').fill('168');
	await page.getByRole('button', { name: 'Save', exact: true }).click();
	await page.getByRole('combobox', { name: 'Plan' }).selectOption('Elite and youth, 3 x 3');
	await page.getByRole('combobox', { name: 'Simulation speed' }).selectOption('12 times as fast');
	await page.getByRole('button', { name: 'Use simulated strap' }).click();
	await page.getByText('Steady for ten seconds').waitFor();
	await page.getByRole('button', { name: 'Start', exact: true }).click();
	await page.getByText('Round 2 of 3').waitFor({ timeout: 60_000 });
	await page
		.getByRole('timer')
		.getByText(/0:[1-3]\d/)
		.waitFor({ timeout: 60_000 });
	await take('live-work');
	await page.evaluate(() => (document.documentElement.dataset.theme = 'light'));
	await take('live-work-light');
	await page.evaluate(() => (document.documentElement.dataset.theme = 'dark'));
	await page.getByText('Rest after round 2').waitFor();
	await page
		.getByRole('timer')
		.getByText(/0:[12]\d/)
		.waitFor();
	await take('live-rest');
	await page.waitForURL(/review/, { timeout: 90_000 });
	await page.getByText('The rests, laid over each other').waitFor();
	await page.waitForTimeout(1000);
	await take('review', true);
} finally {
	await browser.close();
	server.kill();
}
