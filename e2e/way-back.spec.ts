import type { Page } from '@playwright/test';
import { expect, test } from './fixtures';

/** Enters a blow of today on the card of whoever is chosen. */
async function enterBlow(page: Page) {
	await page.goto('/athletes/details/');
	await page.getByText('After a blow to the head', { exact: true }).click();
	await page.getByText('Enter a blow to the head', { exact: true }).click();
	await page.getByRole('button', { name: 'Enter the blow' }).click();
	await expect(page.getByText('Restricted', { exact: true })).toBeVisible();
}

test('after a blow to the head neither pads nor sparring nor a test at full effort starts, and no reason is told there', async ({
	page,
	corner
}) => {
	await enterBlow(page);
	const blow = page.getByRole('region', { name: /^Blow on / });
	await expect(blow.getByRole('button', { name: 'Open step 2A' })).toBeDisabled();
	await expect(blow).toContainText('Under 18 each step lasts longer');
	await blow.getByRole('button', { name: 'Clearance and corrections' }).click();
	await blow.getByLabel('Cleared by doctor').fill('Dr Aalto');
	await blow.getByLabel('Cleared on').fill('2020-01-01');
	await blow.getByRole('button', { name: 'Save the blow' }).click();
	await expect(blow.getByRole('alert')).toContainText('before the blow');

	// Whoever looks over a shoulder reads one word; the reason stands behind a press.
	await page.getByRole('link', { name: 'Overview', exact: true }).click();
	await expect(page.getByText(/\bblow\b|no sparring/i).filter({ visible: true })).toHaveCount(0);
	await page.getByText('Restricted', { exact: true }).click();
	await expect(page.getByText(/^After a blow to the head\. Open up to step 1: /)).toBeVisible();
	await expect(page.getByRole('link', { name: /^Do the test/ })).toHaveCount(0);
	await page.goto('/tests/');
	await corner.practise('60 times as fast');
	for (const test of [/Threshold run/, /Recovery check/]) {
		await page.getByRole('radio', { name: test }).check();
		await page.getByRole('checkbox', { name: /Read and understood/ }).check();
		await expect(page.getByText(/^Restricted today/)).toBeVisible();
		await expect(corner.button('Start')).toBeDisabled();
	}
	await page.getByRole('link', { name: 'Train', exact: true }).click();
	for (const plan of ['Elite and youth, 3 x 3', 'Pads, 4 x 3']) {
		await page.getByRole('combobox', { name: 'Plan' }).selectOption(plan);
		await expect(page.getByText(/^Restricted today/)).toBeVisible();
		await expect(corner.button('Start')).toBeDisabled();
	}
	await expect(page.getByRole('main')).not.toContainText(/blow/i);
	await page.getByRole('combobox', { name: 'Plan' }).selectOption('Bag, 6 x 3');
	await expect(corner.button('Start')).toBeEnabled();
});

test('whoever is held back after a blow neither joins sparring that runs nor is handed a strap in it', async ({
	page,
	corner,
	squad
}) => {
	await corner.open('skip');
	await squad.add(2, 'Odalys');
	await squad.place(2).getByRole('button', { name: 'Remove' }).click();
	await page.goto('/athletes/details/');
	const who = page.getByRole('combobox', { name: 'Athlete' });
	await who.selectOption('Odalys');
	await enterBlow(page);
	await who.selectOption('Me');
	await page.getByRole('link', { name: 'Train', exact: true }).click();
	await page.getByRole('combobox', { name: 'Plan' }).selectOption('Elite and youth, 3 x 3');
	await corner.practise();
	await corner.start();
	const { dialog } = await squad.open();
	await dialog.getByRole('combobox', { name: 'Somebody joins' }).selectOption('Odalys');
	await expect(dialog.getByRole('alert')).toHaveText('Restricted today. The athlete’s Details say why.');
	await expect(dialog.getByRole('button', { name: 'Pair strap' })).toBeDisabled();
	await expect(dialog.getByRole('button', { name: 'Use simulated strap' })).toBeDisabled();
	await expect(dialog.getByRole('button', { name: 'No strap' })).toBeDisabled();

	await dialog.getByRole('button', { name: 'Hand over', exact: true }).click();
	await dialog.getByRole('combobox', { name: 'Hand the strap of Me to' }).selectOption('Odalys');
	await dialog.getByRole('button', { name: 'Hand it over' }).click();
	await expect(dialog.getByRole('listitem').getByRole('alert')).toHaveText(
		'Restricted today. The athlete’s Details say why.'
	);
	await expect(dialog.getByRole('listitem')).toHaveCount(1);
});

test('over the share of the maximum that a step allows the live screen says so, and ring-side nothing of it', async ({
	page,
	context,
	corner
}) => {
	await page.goto('/athletes/details/');
	await page.getByLabel(/^Measured maximum/).fill('190');
	await page.getByLabel(/^Measured maximum/).blur();
	await page.getByText('After a blow to the head', { exact: true }).click();
	await page.getByText('Enter a blow to the head', { exact: true }).click();
	await page.getByLabel('Step that the doctor or coach has set').selectOption('2A');
	await page.getByRole('button', { name: 'Enter the blow' }).click();
	// Consensus of Amsterdam 2022: light endurance, to about 55 % of the maximum (the share from memory).
	await expect(page.getByRole('region', { name: /^Blow on / })).toContainText(
		'at or under 104 beats a minute'
	);
	await page.getByRole('link', { name: 'Train', exact: true }).click();
	await page.getByRole('combobox', { name: 'Plan' }).selectOption('Skipping, 5 x 2');
	await corner.practise('12 times as fast');
	await corner.start();
	const alarm = page.getByText('Over 104. Slow down.');
	await expect(alarm).toBeVisible();
	await page.screenshot({ path: 'test-results/too-fast.png' });
	const ringside = await context.newPage();
	await ringside.goto('/ringside/');
	await expect(ringside.getByRole('timer')).toBeVisible();
	await expect(ringside.getByText(/slow down|over 104/i)).toHaveCount(0);
});
