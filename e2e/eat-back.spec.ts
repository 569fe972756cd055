import type { Page } from '@playwright/test';
import type { Corner } from './corner';
import { expect, test } from './fixtures';
import { packet } from './packets';
import type { Radio } from './radio';

const year = new Date().getFullYear();
const roundS = 20;

/** The athlete's card: what an energy figure stands on. */
async function tellCard(page: Page, years: number) {
	await page.goto('/athletes/');
	await page.getByLabel('Sex used by the formulas').selectOption('male');
	for (const [label, value] of [
		['Year of birth', year - years],
		['Height, cm', 180],
		['Weight, kg', 75]
	] as const) {
		await page.getByLabel(label).fill(String(value));
		await page.getByLabel(label).blur();
	}
	await expect(page.getByText('Saved.')).toBeVisible();
}

/** Most of a round of 20 s at 160, with a strap on the emulated radio. */
async function boxRound(page: Page, radio: Radio, corner: Corner) {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:25', name: 'Chest strap A' });
	await page.goto('/');
	await corner.plan({ Rounds: 1, 'Round, seconds': roundS, 'Rest, seconds': 10, 'Get ready, seconds': 3 });
	await corner.pair(strap);
	await corner.start();
	strap.stream(() => packet({ bpm: 160 }));
	await expect(corner.clock).toContainText('Round 1 of 1');
	await expect(corner.timeLeft).toHaveText('0:03', { timeout: 40_000 });
}

test('what a session adds stands in its review, net, with its range, in either unit, and on Fuel', async ({
	page,
	radio,
	corner
}) => {
	await tellCard(page, 30);
	await boxRound(page, radio, corner);
	await expect(page.getByText(/so far \d+ to \d+ kJ/)).toBeVisible();
	await corner.finish();

	const [session] = await corner.saved();
	const back = page.getByRole('region', { name: 'Eat back' });
	// Keytel at 160, 75 kg, 30 years: 66.81 kJ/min; boxing takes 0.65 to 1.0 of it, the middle 0.825. Resting 1730
	// kcal a day. Every second with a reading counts; the few before the first packet may not.
	const minutes = session!.packets.length / 60;
	const perMinute = (share: number, factor: number) => (share * 66.81) / 4.184 - (1730 / 1440) * factor;
	const figures = (await back.locator('p').first().textContent())!.match(/\d+(?= kcal)/g)!.map(Number);
	const expected = [perMinute(0.825, 1.4), perMinute(0.65, 1.5), perMinute(1, 1.3)].map(
		(kcal) => kcal * minutes
	);
	// Shown in tens; five seconds more or less are another kcal.
	for (const [i, kcal] of expected.entries()) expect(Math.abs(figures[i]! - kcal)).toBeLessThan(7);
	await page.screenshot({ path: 'test-results/eat-back-wide.png', fullPage: true });
	await page.setViewportSize({ width: 390, height: 844 });
	await page.screenshot({ path: 'test-results/eat-back-phone.png', fullPage: true });
	await page.setViewportSize({ width: 1366, height: 768 });

	const review = page.url();
	await page.goto('/fuel/');
	await expect(page.getByRole('region', { name: 'Eat back' })).toContainText(`${figures[0]} kcal`);
	await page.getByLabel('Energy in').selectOption('kJ');
	await page.goto(review);
	await expect(back).toContainText(/\d+ kJ/);
	await expect(back).not.toContainText(/\d kcal [^,]/);

	// Sixteen: nothing is counted back.
	await page.goto('/athletes/');
	await page.getByLabel('Year of birth').fill(String(year - 16));
	await page.getByLabel('Year of birth').blur();
	await expect(page.getByText('Saved.')).toBeVisible();
	await page.goto(review);
	await expect(back).toContainText('never less because of it');
	await expect(back).not.toContainText(/\d+ k(J|cal)/);
});

test('switched off, weight and food are gone from the card, the live screen, the review and progress', async ({
	page,
	radio,
	corner
}) => {
	await tellCard(page, 30);
	await page.getByRole('checkbox', { name: 'Show weight and food' }).uncheck();
	await expect(page.getByLabel(/^Weight/)).toHaveCount(0);
	await expect(page.getByText(/energy/i)).toHaveCount(0);

	await boxRound(page, radio, corner);
	await expect(corner.heartRate).toHaveText('160');
	await expect(page.getByText(/kJ|kcal/)).toHaveCount(0);
	await corner.finish();
	await expect(page.getByRole('heading', { name: 'What the work was' })).toBeVisible();
	await expect(page.getByText(/kJ|kcal|energy|eat back|weight/i)).toHaveCount(0);
	await page.screenshot({ path: 'test-results/switched-off-review.png', fullPage: true });

	await page.getByRole('link', { name: 'Progress', exact: true }).click();
	await expect(page.getByRole('heading', { name: 'Drop at 60' })).toBeVisible();
	await expect(page.getByRole('heading', { name: 'Weight' })).toHaveCount(0);
	await expect(page.getByRole('link', { name: 'Fuel' })).toHaveCount(0);

	// Back again from the card, with everything that was known.
	await page.goto('/athletes/');
	await page.getByRole('checkbox', { name: 'Show weight and food' }).check();
	await expect(page.getByLabel('Weight, kg')).toHaveValue('75');
	await page.goto('/progress/');
	await expect(page.getByRole('heading', { name: 'Weight', exact: true })).toBeVisible();
});
