import { expect, test } from './fixtures';

test('the list says whose each session is once there are two athletes, and shows those of one', async ({
	page,
	corner,
	squad
}) => {
	const rows = page.getByRole('main').getByRole('listitem');
	const whose = page.getByRole('combobox', { name: 'Athlete' });
	await corner.open();
	await corner.plan({ Rounds: 1, 'Round, seconds': 60, 'Rest, seconds': 10, 'Get ready, seconds': 0 });
	await corner.practise('60 times as fast');
	await corner.start();
	await corner.inReview();
	await corner.openSessions();
	await expect(rows).toHaveCount(1);
	await expect(rows).not.toContainText('Me');
	await expect(whose).toHaveCount(0);

	await page.getByRole('link', { name: 'Train', exact: true }).click();
	await squad.add(2, 'Odalys');
	await squad.practise(2);
	await corner.start();
	await corner.inReview();
	await corner.openSessions();
	await expect(rows).toHaveCount(3);
	await expect(rows.filter({ hasText: /\bMe ·/ })).toHaveCount(2);
	await expect(rows.filter({ hasText: /Odalys ·/ })).toHaveCount(1);

	await whose.selectOption('Odalys');
	await expect(rows).toHaveCount(1);
	await expect(rows).toContainText('Odalys');
	await rows.getByRole('link').click();
	await expect(page).toHaveURL(/\/review\/#/);
	await page.goBack();
	await expect(whose.getByRole('option', { name: 'Odalys' })).toHaveJSProperty('selected', true);
	await expect(rows).toHaveCount(1);

	// A card that is renamed is the name from then on, whatever was noted on the day.
	await page.getByRole('link', { name: /^Athletes?$/ }).click();
	// The list that is being left has a choice of the same name.
	const name = page.locator('#who');
	await expect(name).toHaveText(/./);
	await page.getByRole('combobox', { name: 'Athlete' }).selectOption('Odalys');
	await expect(name).toHaveText('Odalys');
	await page.getByRole('link', { name: 'Details', exact: true }).click();
	await page.getByLabel('Name or alias', { exact: true }).fill('Ody');
	await page.getByLabel('Name or alias', { exact: true }).press('Tab');
	await corner.openSessions();
	await expect(rows.filter({ hasText: /Ody ·/ })).toHaveCount(1);
	await whose.selectOption('Me');
	await expect(rows).toHaveCount(2);

	// Words, activity and tests narrow further; all of it outlives the way to a session and back.
	await whose.selectOption('all');
	await page.getByRole('searchbox', { name: 'Search' }).fill('ody');
	await expect(rows).toHaveCount(1);
	await page.getByRole('combobox', { name: 'Activity' }).selectOption('skipping');
	await expect(page.getByText('No session fits.')).toBeVisible();
	await page.getByRole('combobox', { name: 'Activity' }).selectOption('pads');
	await rows.getByRole('link').click();
	await expect(page).toHaveURL(/\/review\/#/);
	await page.goBack();
	await expect(page.getByRole('searchbox', { name: 'Search' })).toHaveValue('ody');
	await expect(rows).toHaveCount(1);
	await page.getByRole('checkbox', { name: 'Tests only' }).check();
	await page.getByRole('button', { name: 'Show all' }).click();
	await expect(rows).toHaveCount(3);
	await expect(page.getByRole('heading', { name: /^Week of Mon \d/ })).toHaveCount(1);
});
