import type { Page } from '@playwright/test';
import { test } from '../fixtures';

/** Longer than any room that a name has. */
export const longName = 'Odalys Maria Ferreira-Lindqvist the younger of two';

const sizes = {
	laptop: { width: 1366, height: 768 },
	phone: { width: 390, height: 844 },
	television: { width: 1920, height: 1080 }
};

/**
 * Takes the screen as it stands, at each size and in both looks, into `test-results/tour/`. The whole page, or, of
 * what fills the window and no more, the window.
 */
export async function take(page: Page, name: string, what: 'page' | 'window' = 'page'): Promise<void> {
	await test.step(name, async () => {
		const devtools = await page.context().newCDPSession(page);
		for (const [size, { width, height }] of Object.entries(sizes)) {
			await page.setViewportSize({ width, height });
			// A finger has no keys and does not hover: some words are left out for it.
			await devtools.send('Emulation.setTouchEmulationEnabled', { enabled: size === 'phone' });
			for (const look of ['dark', 'light']) {
				await page.evaluate((look) => (document.documentElement.dataset.theme = look), look);
				// The pictures follow the look a frame later, those of the library another.
				await page.evaluate(
					() => new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve, 120)))
				);
				await page.screenshot({
					path: `test-results/tour/${name}-${size}-${look}.png`,
					fullPage: what === 'page'
				});
			}
		}
		await page.setViewportSize(sizes.laptop);
		await devtools.send('Emulation.setTouchEmulationEnabled', { enabled: false });
		await page.evaluate(() => (document.documentElement.dataset.theme = 'dark'));
		await devtools.detach();
	});
}

/** Takes the window as it stands as those see it who lack a kind of cone, or all of them. */
export async function takeForColourVision(page: Page, name: string): Promise<void> {
	const devtools = await page.context().newCDPSession(page);
	for (const type of ['protanopia', 'deuteranopia', 'tritanopia', 'achromatopsia'] as const) {
		await devtools.send('Emulation.setEmulatedVisionDeficiency', { type });
		await page.screenshot({ path: `test-results/tour/${name}-${type}.png` });
	}
	await devtools.send('Emulation.setEmulatedVisionDeficiency', { type: 'none' });
	await devtools.detach();
}
