import type { Locator, Page } from '@playwright/test';
import { expect, test } from './fixtures';
import { packet } from './packets';

/** What a picture of an element comes to, measured in the page: reading all its pixels over would take minutes. */
interface Ink {
	/** From the first to the last pixel that is written, not ground. */
	heightPx: number;
	widthPx: number;
	/** The strongest contrast to the ground (WCAG 2.2). */
	contrast: number;
	/** Changes between bright and dark of at least 3:1 along the row a little over the middle. */
	changes: number;
	/** Largest distance between the three parts of a colour, of 255: 0 is grey. */
	colourfulness: number;
}

async function inkOf(page: Page, element: Locator): Promise<Ink> {
	const picture = (await element.screenshot()).toString('base64');
	return page.evaluate(async (picture) => {
		const image = await createImageBitmap(
			new Blob([Uint8Array.from(atob(picture), (letter) => letter.charCodeAt(0))])
		);
		const { width, height } = image;
		const pen = new OffscreenCanvas(width, height).getContext('2d')!;
		pen.drawImage(image, 0, 0);
		const { data } = pen.getImageData(0, 0, width, height);
		// WCAG 2.2, "relative luminance" and "contrast ratio".
		const linear = (part: number) => {
			const c = part / 255;
			return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
		};
		const luminanceAt = (at: number) =>
			0.2126 * linear(data[at]!) + 0.7152 * linear(data[at + 1]!) + 0.0722 * linear(data[at + 2]!);
		const ratio = (one: number, other: number) =>
			(Math.max(one, other) + 0.05) / (Math.min(one, other) + 0.05);
		const ground = luminanceAt((width - 1) * 4);
		const rows = new Set<number>();
		const columns = new Set<number>();
		let contrast = 1;
		let colourfulness = 0;
		for (let at = 0; at < data.length; at += 4) {
			const here = ratio(luminanceAt(at), ground);
			contrast = Math.max(contrast, here);
			const parts = [data[at]!, data[at + 1]!, data[at + 2]!];
			colourfulness = Math.max(colourfulness, Math.max(...parts) - Math.min(...parts));
			if (here < 3) continue;
			rows.add(Math.floor(at / 4 / width));
			columns.add((at / 4) % width);
		}
		let changes = 0;
		const row = Math.round(height * 0.55);
		let last = luminanceAt(row * width * 4);
		for (let x = 1; x < width; x++) {
			const here = luminanceAt((row * width + x) * 4);
			if (ratio(here, last) < 3) continue;
			changes++;
			last = here;
		}
		const extent = (places: Set<number>) => Math.max(...places) - Math.min(...places) + 1;
		return { heightPx: extent(rows), widthPx: extent(columns), contrast, changes, colourfulness };
	}, picture);
}

const wide = [
	{ width: 1366, height: 640 },
	{ width: 1366, height: 768 },
	{ width: 1920, height: 1080 }
];
const upright = [
	{ width: 360, height: 740 },
	{ width: 390, height: 844 },
	{ width: 768, height: 1024 }
];
const plan = { Rounds: 12, 'Round, seconds': 180, 'Rest, seconds': 60, 'Get ready, seconds': 0 };

for (const theme of ['dark', 'light'] as const) {
	test(`the two main figures carry five metres, at work and at rest, in the ${theme} look`, async ({
		page,
		corner
	}) => {
		await corner.open();
		const look = theme === 'dark' ? 'Dark' : 'Light';
		await corner.setting((page) => page.getByRole('radio', { name: look, exact: true }).check());
		await corner.answer({ threshold: 170 });
		await corner.plan(plan);
		await corner.practise();
		await corner.start();
		await page.evaluate(() => document.fonts.ready.then(() => undefined));
		for (const phase of ['Round 1 of 12', 'Rest after round 1']) {
			await expect(corner.clock).toContainText(phase);
			await expect(corner.heartRate).toHaveText(/^\d+$/);
			for (const size of [...wide, ...upright]) {
				await page.setViewportSize(size);
				const where = `${phase}, ${size.width} x ${size.height}`;
				const figures = {
					time: await inkOf(page, corner.timeLeft),
					rate: await inkOf(page, corner.heartRate)
				};
				for (const { heightPx, contrast } of Object.values(figures)) {
					expect(contrast, `${where}: contrast`).toBeGreaterThanOrEqual(7);
					// The tallest ink is a digit: colon and digits stand on one line.
					if (wide.includes(size))
						expect(heightPx / size.height, `${where}: share of the height`).toBeGreaterThanOrEqual(0.2);
				}
				if (size.width < 700)
					expect(figures.time.widthPx / size.width, `${where}: share of the width`).toBeGreaterThan(0.8);
			}
			await corner.button('Next').click();
		}
	});
}

test('the live bar tells over the threshold from under it in grey', async ({ page, corner, radio }) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:91', name: 'Chest strap A' });
	let sentBpm = 130;
	await corner.open({ threshold: 150 }, plan);
	await corner.pair(strap);
	await corner.start();
	strap.stream(() => packet({ bpm: sentBpm }));
	await expect(corner.clock).toContainText('Round 1 of 12');
	const devtools = await page.context().newCDPSession(page);
	await devtools.send('Emulation.setEmulatedVisionDeficiency', { type: 'achromatopsia' });

	const changesAt = async (bpm: number) => {
		sentBpm = bpm;
		await expect(corner.heartRate).toHaveText(String(bpm));
		const { changes, colourfulness } = await inkOf(page, page.locator('.bar'));
		expect(colourfulness, 'the screen is seen in grey').toBeLessThan(8);
		return changes;
	};
	// Fill, ground and the post of the threshold: at most three edges and back. The hatch has one every 8 px.
	expect(await changesAt(130)).toBeLessThanOrEqual(4);
	expect(await changesAt(170)).toBeGreaterThan(12);
});
