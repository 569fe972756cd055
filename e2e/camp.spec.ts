import type { Page } from '@playwright/test';
import { expect, test } from './fixtures';

async function fill(page: Page, label: string, value: string) {
	const field = page.getByLabel(label, { exact: true });
	await field.fill(value);
	await field.blur();
}

test('a camp from the bout that is entered to its weigh-in, with the clock moved', async ({
	page,
	corner
}) => {
	await page.clock.setFixedTime('2026-03-10T12:00:00');
	await page.goto('/athletes/weight/');
	const asked = page.getByRole('form', { name: /^Sex, year of birth and height give/ });
	await asked.getByLabel('Sex used by the formulas').selectOption('male');
	await fill(page, 'Height, cm', '180');
	await fill(page, 'Year of birth', '1996');
	await asked.getByRole('button', { name: 'Save' }).click();
	await expect(asked).toHaveCount(0);
	await page.getByLabel('The day apart from training').selectOption('on your feet');
	await page.getByLabel(/^Weight, /).fill('84');
	await page.getByRole('button', { name: 'Log it' }).click();
	await expect(page.getByLabel(/^Weight, /)).toHaveValue('');

	await page.getByRole('link', { name: 'Camp', exact: true }).click();
	const save = page.getByRole('button', { name: 'Save the bout' });
	const alert = page.getByRole('alert');
	await test.step('what cannot be is refused in words', async () => {
		for (const [label, wrong, right, words] of [
			['Day of the bout', '2026-03-09', '2026-05-05', 'day of the bout is over'],
			['Day of the weigh-in', '2026-05-06', '2026-05-05', 'weigh-in lies after the bout'],
			['Class limit, kg', '20', '81', 'limit of 20 kg cannot be']
		] as const) {
			await page.getByLabel(label).fill(wrong);
			await save.click();
			await expect(alert).toContainText(words);
			await page.getByLabel(label).fill(right);
		}
	});
	await page.getByLabel('Limits of all classes, kg').fill('75, 81, 86');
	await page.getByLabel('Hour of the weigh-in').fill('08:30');
	await page.getByLabel('Walk to the ring').fill('19:40');
	await page.getByLabel('Meals on the day').fill('13:00 rice and chicken');
	await page.getByLabel('Place').fill('Town hall');
	await save.click();

	await test.step('the weeks count down, with a plan only once body fat was measured', async () => {
		await expect(page.getByText('56 days to the bout on Tue 5 May, Town hall.')).toBeVisible();
		const weeks = page.getByRole('region', { name: 'The weeks to the bout' });
		await expect(weeks.getByRole('columnheader')).toHaveCount(9);
		await expect(weeks.getByText('Threshold run')).toHaveCount(2);
		const limit = page.getByRole('region', { name: 'Weight to the limit' });
		await expect(limit).toContainText('needs measured body fat');
		await page.getByLabel('Body fat measured, %').fill('20');
		await page.getByRole('button', { name: 'Save body fat' }).click();
		await expect(limit).toContainText('The limit of 81.0 kg can be made by Tue 5 May');
		await expect(weeks.getByRole('row', { name: /^Weight/ })).toContainText('to 81.0 kg');
		await expect(page.getByRole('region', { name: 'Taper' })).toContainText('28 days are unknown');
		await expect(page.getByRole('main')).not.toContainText(/water|sweat|salt/i);
		await weeks.getByRole('combobox', { name: /from 16 Mar/ }).selectOption('general');
		await expect(weeks.getByRole('button', { name: 'As proposed' })).toHaveCount(1);
	});

	await test.step('the limit that cannot be made safely says so first, and names the next class up', async () => {
		await page.getByRole('button', { name: 'Change the bout' }).click();
		await page.getByLabel('Class limit, kg').fill('75');
		await save.click();
		const limit = page.getByRole('region', { name: 'Weight to the limit' });
		await expect(limit.getByRole('paragraph').first()).toContainText('75.0 kg cannot be made safely');
		await expect(limit).toContainText('The next class up that can: to 81.0 kg.');
	});

	await page.clock.setFixedTime('2026-05-05T07:00:00');
	await page.reload();
	await expect(page.getByText('The bout is today, Town hall.')).toBeVisible();
	const day = page.getByRole('region', { name: /bout day$/ });
	await expect(day.getByRole('list', { name: 'The day by the clock' }).getByRole('listitem')).toHaveText([
		/08:30 Weigh-in/,
		/13:00 rice and chicken/,
		/19:40 Walk to the ring/
	]);
	await expect(day).toContainText('Ask the official first');
	await expect(day).toContainText('It begins Tue 5 May, 19:15, and ends at the walk.');

	await test.step('the warm-up clock ends at the walk, and the bout follows the bell of the hall', async () => {
		await page.clock.setFixedTime('2026-05-05T19:24:30');
		await expect(day.getByRole('timer')).toHaveText('15:30');
		await page.screenshot({ path: 'test-results/bout-day.png', fullPage: true });
		await page.setViewportSize({ width: 390, height: 844 });
		await page.screenshot({ path: 'test-results/bout-day-phone.png', fullPage: true });
		await page.setViewportSize({ width: 1366, height: 768 });
		await expect(day.getByRole('listitem').filter({ hasText: 'Rope and joints' })).toHaveAttribute(
			'aria-current',
			'step'
		);
		await page.clock.setFixedTime('2026-05-05T19:40:00');
		await expect(day).toContainText('Walk now.');
		await day.getByRole('button', { name: 'Box to the hall’s bell' }).click();
		await expect(page.getByRole('combobox', { name: 'Plan', exact: true })).toContainText('Bout, Town hall');
		await expect(page.getByText('sparring, to the bell of the hall.')).toBeVisible();
		await corner.practise();
		await corner.start();
		await expect(corner.clock).toContainText('Waiting for the first bell');
		const bell = page.getByRole('button', { name: 'Bell', exact: true });
		await bell.click();
		await expect(corner.clock).toContainText('Round 1');
	});
});
