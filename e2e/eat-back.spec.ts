import { readFile } from 'node:fs/promises';
import type { Page } from '@playwright/test';
import type { Corner } from './corner';
import { expect, test } from './fixtures';
import { packet } from './packets';
import type { Radio } from './radio';

const year = new Date().getFullYear();
const roundS = 20;

/** The athlete's card: what an energy figure stands on. */
async function tellCard(page: Page, years: number) {
	await page.goto('/athletes/details/');
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

/** An hour at 150 with a real strap, today, prepared as a backup of this browser and restored from it. */
async function restoreHour(page: Page) {
	await page.goto('/settings/backup/');
	const arriving = page.waitForEvent('download');
	await page.getByRole('button', { name: 'Save everything to a file' }).click();
	const backup = JSON.parse(await readFile(await (await arriving).path(), 'utf8')) as {
		entries: [string, { id?: string; name?: string }][];
	};
	const owner = backup.entries.find(([key]) => key.startsWith('athlete/'))![1];
	const packets = 3601;
	const every = (value: number) => Array.from({ length: packets }, () => value);
	const id = 'hour-on-the-pads';
	const hour = {
		head: {
			...{ version: 1, id, groupId: id, startedAt: new Date().toISOString(), zone: 'Europe/Lisbon' },
			endedMs: 3_600_000,
			plan: {
				...{ name: 'Pads, a long hour', activity: 'pads', roundCount: 15, roundS: 180, restS: 60 },
				...{ warmUpS: 0, getReadyS: 10, coolDownS: 0, endWarningS: 10, startWarningS: 10 }
			},
			amendments: [],
			athlete: {
				...{ athleteId: owner.id, name: owner.name, sex: 'male', ageYears: 30 },
				...{ heightCm: 180, weightKg: 75 }
			},
			...{ strapName: 'Chest strap A', practice: false, events: [] }
		}
	};
	const body = {
		...{ version: 1, firstMs: 0, stepMs: { uint16: every(1000).with(0, 0) }, bpm: { uint8: every(150) } },
		...{ flags: { uint8: every(3) }, rrCount: { uint8: every(0) }, rr1024: { uint16: [] } },
		energyKJ: { uint16: [] }
	};
	const entries = [...backup.entries, [`head/${id}`, hour], [`body/${id}`, body]];
	await page.getByLabel('Backup file').setInputFiles({
		name: 'prepared.json',
		mimeType: 'application/json',
		buffer: Buffer.from(JSON.stringify({ ...backup, entries }))
	});
	await page.getByRole('button', { name: 'Restore it' }).click();
	await expect(page.getByRole('status').filter({ hasText: 'Restored:' })).toBeVisible();
	return `/review/#${id}`;
}

test('what a session adds stands in its review, net, with its range, in either unit, and on Weight', async ({
	page
}) => {
	await tellCard(page, 30);
	const review = await restoreHour(page);
	const openReview = async () => {
		await page.goto(review);
		await page.getByText('More: energy and load').click();
	};
	await openReview();
	const back = page.getByRole('region', { name: 'Eat back' });
	// Keytel at 150, 75 kg, 30 years: 60.4991 kJ/min, in an hour 867.6 kcal; pads take 0.8 to 1.3 of it.
	// Less 1730 / 24 kcal of resting times 1.5 and 1.3: from 585.9 to 1034.1, and the high end counts.
	await expect(back).toContainText('1,030 kcal');
	await expect(back).toContainText('590 kcal to 1,030 kcal');
	// 1034.1 / 105 = 9.8 bananas, / 205 = 5.0 cups.
	await expect(back).toContainText('about 10 medium bananas, or 5 cups of cooked rice');
	await expect(back).toContainText('FoodData Central');
	await page.screenshot({ path: 'test-results/eat-back-wide.png', fullPage: true });
	await page.setViewportSize({ width: 390, height: 844 });
	await page.screenshot({ path: 'test-results/eat-back-phone.png', fullPage: true });
	await page.setViewportSize({ width: 1366, height: 768 });

	await page.goto('/athletes/weight/');
	await expect(back).toContainText('1,030 kcal');
	// Nothing twice: 1730 x 1.4 of the day and 1034.1.
	await expect(page.getByLabel("Today's budget")).toContainText('3,460 kcal');
	await page.screenshot({ path: 'test-results/eat-back-fuel.png', fullPage: true });
	await page.getByLabel('Energy in').selectOption('kJ');
	await expect(page.getByText('Saved.', { exact: true })).toBeVisible();
	await expect(back).toContainText('4,330 kJ');
	await openReview();
	// 1034.1 x 4.184; the food is the same.
	await expect(back).toContainText('4,330 kJ');
	await expect(back).toContainText('about 10 medium bananas');

	// Sixteen: nothing is counted back.
	await page.goto('/athletes/details/');
	await page.getByLabel('Year of birth').fill(String(year - 16));
	await page.getByLabel('Year of birth').blur();
	await expect(page.getByText('Saved.')).toBeVisible();
	await openReview();
	await expect(back).toContainText('never less because of it');
	await expect(back).not.toContainText(/\d+ k(J|cal)/);
	await page.goto('/athletes/weight/');
	await expect(back).toContainText('never less because of it');
});

/** Most of a round of 20 s at 160, with a strap on the emulated radio. */
async function boxRound(page: Page, radio: Radio, corner: Corner) {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:25', name: 'Chest strap A' });
	await page.goto('/');
	await corner.plan({ Rounds: 1, 'Round, seconds': roundS, 'Rest, seconds': 10, 'Get ready, seconds': 3 });
	await corner.pair(strap);
	await corner.start();
	strap.stream(() => packet({ bpm: 160 }));
	await expect(corner.clock).toContainText('Round 1 of 1');
	await corner.clockDownTo('0:03');
	return strap;
}

test('switched off, weight and food are gone from the card, the live screen, the review and progress', async ({
	page,
	radio,
	corner
}) => {
	await tellCard(page, 30);
	await page.getByRole('checkbox', { name: /^No weight plan/ }).check();
	await expect(page.getByLabel(/^Weight/)).toHaveCount(0);
	await expect(page.getByText(/energy/i)).toHaveCount(0);

	const strap = await boxRound(page, radio, corner);
	await expect(corner.heartRate).toHaveText('160');
	await expect(page.getByText(/kJ|kcal/)).toHaveCount(0);
	await corner.finish();
	await strap.silence();
	await expect(page.getByRole('heading', { name: 'Intensity' })).toBeVisible();
	await expect(page.getByText(/kJ|kcal|energy|eat back|weight/i)).toHaveCount(0);
	await page.screenshot({ path: 'test-results/switched-off-review.png', fullPage: true });

	await page.getByRole('link', { name: 'Me', exact: true }).click();
	await page.getByRole('link', { name: 'Progress', exact: true }).click();
	await expect(page.getByRole('heading', { name: '1-minute drop' })).toBeVisible();
	await expect(page.getByRole('heading', { name: 'Weight' })).toHaveCount(0);
	await expect(page.getByRole('link', { name: 'Weight' })).toHaveCount(0);

	// Back again from the card, with everything that was known.
	await page.goto('/athletes/details/');
	await page.getByRole('checkbox', { name: /^No weight plan/ }).uncheck();
	await expect(page.getByLabel('Weight, kg')).toHaveValue('75');
	await page.goto('/athletes/progress/');
	await expect(page.getByRole('heading', { name: 'Weight', exact: true })).toBeVisible();
});
