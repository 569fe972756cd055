import { expect, test } from './fixtures';
import { carry, filesOn, giveFolder } from './shared-gym';

test('the lock after a blow to the head reaches the other laptop, its reason once that is switched on, too', async ({
	page,
	context,
	baseURL
}) => {
	const written = async () => JSON.stringify(await filesOn(page));
	await giveFolder(context);
	await page.goto('/athletes/details/');
	await page.getByLabel('Name or alias', { exact: true }).fill('Odalys');
	await page.getByLabel('Name or alias', { exact: true }).press('Tab');
	await page.getByText('After a blow to the head', { exact: true }).click();
	await page.getByText('Enter a blow to the head', { exact: true }).click();
	const day = await page.getByLabel('Day of the blow').inputValue();
	await page.getByLabel('Step that the doctor or coach has set').selectOption('2A');
	await page.getByLabel('Cleared by doctor').fill('Dr Aalto');
	await page.getByLabel('Cleared on').fill(day);
	await page.getByRole('button', { name: 'Enter the blow' }).click();
	await expect(page.getByRole('region', { name: /^Blow on / })).toContainText('Cleared by Dr Aalto');

	const goesAlong = page.getByRole('checkbox', { name: 'Why Odalys is restricted goes along' });
	await test.step('switched on, the card is written without the reason', async () => {
		await page.goto('/settings/folder/');
		await page.getByRole('button', { name: 'Choose a folder' }).click();
		await expect(page.getByText(/^Last visit/)).toBeVisible();
		await expect(goesAlong).toHaveCount(0);
		await page.getByRole('switch', { name: 'Odalys' }).click();
		await expect(page.getByText('card', { exact: true })).toBeVisible();
		await expect(goesAlong).not.toBeChecked();
		expect(await written()).toContain('locks');
		expect(await written()).not.toMatch(/Aalto|blow/i);
	});

	const other = await context.browser()!.newContext({ ...(baseURL && { baseURL }) });
	await giveFolder(other);
	const there = await other.newPage();
	const lock = there.getByRole('region', { name: /^Locked since / });
	await test.step('the other laptop locks alike, and can change nothing there', async () => {
		await there.goto('/settings/folder/');
		await carry(page, there);
		await there.getByRole('button', { name: 'Choose a folder' }).click();
		await expect(there.getByRole('switch', { name: 'Odalys' })).toBeVisible();
		await there.goto('/athletes/details/');
		await there.getByRole('combobox', { name: 'Athlete' }).selectOption({ label: 'Odalys' });
		await there.getByText('Restricted', { exact: true }).click();
		await expect(lock).toContainText('the reason did not come along. Open up to step 2A: ');
		await expect(lock).toContainText('A doctor has cleared it.');
		await expect(lock.getByRole('button')).toHaveCount(0);
		await expect(there.getByRole('main')).not.toContainText('Aalto');
		await there.getByRole('link', { name: 'Train', exact: true }).click();
		await there.getByRole('button', { name: 'Use simulated strap' }).click();
		await there.getByRole('combobox', { name: 'Plan' }).selectOption('Elite and youth, 3 x 3');
		await expect(there.getByText(/^Restricted today/)).toBeVisible();
		await expect(there.getByRole('button', { name: 'Start', exact: true })).toBeDisabled();
	});

	await test.step('the reason follows by its own consent alone', async () => {
		await goesAlong.check();
		await expect.poll(written).toContain('Dr Aalto');
		await carry(page, there);
		await there.goto('/settings/folder/');
		await expect(there.getByText(/^Last visit .*\d\d:\d\d/)).toBeVisible();
		await there.goto('/athletes/details/');
		await there.getByText('Restricted', { exact: true }).click();
		await expect(there.getByRole('region', { name: /^Blow on / })).toContainText('Cleared by Dr Aalto');
		await expect(lock).toHaveCount(0);
	});

	await test.step('switched off, it goes out of the folder again', async () => {
		await goesAlong.uncheck();
		await expect.poll(written).not.toMatch(/Aalto|blow/i);
	});
	await other.close();
});
