import { expect, test } from '../fixtures';
import { copyKept } from '../copies';
import { routes } from '../routes';
import { giveFolder, losePermission, putOn } from '../shared-gym';
import { longName, take } from './take';

const inDays = (days: number) => new Date(Date.now() + days * 86_400_000).toLocaleDateString('sv-SE');

test('every screen before there is anything to show', async ({ page, corner }) => {
	await corner.open();
	for (const route of [...routes, 'folder', 'report', 'ringside']) {
		await page.goto(`/${route}/`);
		await expect(page.getByRole('main')).not.toContainText(/One moment|Opening/);
		await take(page, `70-empty-${route}`);
	}
});

test('weeks of sessions', async ({ page }) => {
	await page.goto('/settings/');
	await page.getByRole('button', { name: 'Bring in the example gym' }).click();
	await expect(page.getByText(/The example gym is here/)).toBeVisible({ timeout: 60_000 });
	await page.goto('/athletes/');
	await expect(page.getByRole('heading', { name: 'Latest sessions' })).toBeVisible();
	await take(page, '71-gym-athlete');
	await page.goto('/athletes/tests/');
	await expect(page.getByRole('heading', { name: 'Recovery check' })).toBeVisible();
	await take(page, '71-gym-athlete-tests');
	await page.goto('/athletes/details/');
	await expect(page.getByRole('heading', { name: 'Add an athlete' })).toBeVisible();
	await take(page, '71-gym-athlete-details');
	await page.goto('/');
	await expect(page.locator('[inert]')).toHaveCount(0);
	await take(page, '72-gym-first-screen');
	await page.goto('/sessions/');
	await expect(page.getByRole('main').getByRole('listitem').first()).toBeVisible();
	await page.waitForTimeout(1500);
	await take(page, '73-gym-sessions', 'window');
	await page.goto('/athletes/progress/');
	await expect(page.getByRole('heading', { name: 'Weekly load' })).toBeVisible();
	await page.waitForTimeout(1500);
	await take(page, '74-gym-progress');
	await page.getByRole('combobox', { name: 'Plan' }).selectOption('Recovery check, 3 x 3');
	await page.waitForTimeout(500);
	await take(page, '75-gym-progress-checks');
	await page.getByRole('link', { name: 'Print or send it' }).click();
	await expect(page.getByRole('heading', { name: /^Weight/ })).toBeVisible();
	await page.waitForTimeout(800);
	await take(page, '76-gym-progress-report');
	for (const [name, kind] of [
		['77-gym-review-pads', /Pads/],
		['78-gym-review-threshold-run', /Threshold run/],
		['79-gym-review-resting', /Resting/],
		['80-gym-review-check', /Recovery check/]
	] as const) {
		await page.goto('/sessions/');
		const link = page.getByRole('link', { name: kind }).first();
		for (let tries = 0; tries < 10 && (await link.count()) === 0; tries++) {
			const older = page.getByRole('button', { name: /Show older/ });
			if (await older.count()) await older.click();
			await page.waitForTimeout(400);
		}
		await link.click();
		await page.waitForTimeout(1500);
		await take(page, name);
	}
	await page.getByText('Conditions and corrections').click();
	await page.getByRole('button', { name: '1-minute drop' }).first().click();
	await page.waitForTimeout(500);
	await take(page, '81-gym-review-context-open');
	await page.goto('/sessions/');
	await page.getByRole('link', { name: /Pads/ }).first().click();
	await page.getByRole('link', { name: 'Print or send' }).click();
	await expect(page.getByRole('article')).toBeVisible();
	await page.waitForTimeout(800);
	await take(page, '82-gym-session-report');
	await page.goto('/athletes/weight/');
	await page.waitForTimeout(800);
	await take(page, '83-gym-weight');
	await page.goto('/tests/');
	await take(page, '84-gym-measure-run');
	await page.getByRole('radio', { name: /Recovery check/ }).check();
	await take(page, '85-gym-measure-check');
	await page.getByRole('radio', { name: /Resting rate/ }).check();
	await take(page, '86-gym-measure-resting');
	await page.goto('/help/methods/');
	await page.waitForTimeout(800);
	await take(page, '87-methods');
});

test('cards with errors and long names', async ({ page }) => {
	await page.goto('/athletes/details/');
	await page.getByLabel('Name or alias', { exact: true }).fill(longName);
	await page.getByLabel('Name or alias', { exact: true }).press('Tab');
	await page.getByRole('spinbutton', { name: /^Year of birth/ }).fill('1800');
	await page.getByRole('spinbutton', { name: /^Year of birth/ }).press('Tab');
	await page.getByRole('spinbutton', { name: /^Weight, kg/ }).fill('900');
	await page.getByRole('spinbutton', { name: /^Weight, kg/ }).press('Tab');
	await take(page, '88-athlete-errors');
});

test('weight and food', async ({ page }) => {
	await page.goto('/athletes/weight/');
	await page.getByLabel('Sex used by the formulas').selectOption('male');
	for (const [label, value] of [
		['Height, cm', '180'],
		['Year of birth', '1996']
	] as const)
		await page.getByLabel(label, { exact: true }).fill(value);
	await page.getByRole('button', { name: 'Save', exact: true }).click();
	await page.getByLabel('Body fat measured, %').fill('20');
	await page.getByRole('button', { name: 'Save body fat' }).click();
	await page.getByLabel('The day apart from training').selectOption('on your feet');
	for (let week = 0; week <= 8; week++) {
		await page.getByLabel('Day', { exact: true }).fill(inDays(-7 * (8 - week)));
		await page.getByLabel(/^Weight, /).fill(String(84 - week * 0.375));
		await page.getByLabel(/^Eaten, /).fill('1900');
		await page.getByRole('button', { name: 'Log it' }).click();
		await expect(page.getByLabel(/^Weight, /)).toHaveValue('');
	}
	const goal = async (kg: number, days: number) => {
		await page.getByLabel('Goal, kg').fill(String(kg));
		await page.getByLabel('By', { exact: true }).fill(inDays(days));
		await page.getByRole('button', { name: 'Check it' }).click();
	};
	await page.getByLabel('All training, every day').check();
	await page.getByLabel('All food, every day').check();
	await goal(79.5, 56);
	await expect(page.getByText('A reasonable plan:')).toBeVisible();
	await take(page, '89-weight-plan');
	await goal(76, 14);
	await expect(page.getByText('That is faster than is safe.')).toBeVisible();
	await take(page, '90-weight-refused');
	await page.getByRole('link', { name: 'Check', exact: true }).click();
	await page.getByLabel('Is pregnant').check();
	await page.getByRole('link', { name: 'Weight', exact: true }).click();
	await take(page, '91-weight-pregnant');
	await page.getByRole('checkbox', { name: /^No weight plan/ }).check();
	await take(page, '92-weight-off');
});

test('guided measurements', async ({ page, corner }) => {
	await page.goto('/tests/');
	await page.getByRole('spinbutton', { name: 'Warm-up, minutes' }).fill('0');
	await corner.practise();
	await page.getByRole('checkbox', { name: /Read and understood/ }).check();
	await corner.button('Start').click();
	await page.waitForTimeout(15_000);
	await take(page, '93-run-guided', 'window');
	await corner.holdFinish();
	await page.waitForTimeout(500);
	if (await corner.button('Finish hold').count()) await corner.holdFinish();
	await page.waitForURL(/review/);
	await page.waitForTimeout(1000);
	await take(page, '94-run-stopped-early');
	await page.goto('/tests/');
	await page.getByRole('radio', { name: /Resting rate/ }).check();
	await corner.practise('60 times as fast');
	await corner.button('Start').click();
	await page.waitForTimeout(2500);
	await page.screenshot({ path: 'test-results/tour/95-resting-guided-laptop-dark.png' });
	await page.waitForURL(/review/, { timeout: 60_000 });
	await page.waitForTimeout(1000);
	await take(page, '96-resting-result');
	await page.goto('/tests/');
	await page.getByRole('radio', { name: /Resting rate/ }).check();
	await corner.practise();
	await corner.button('Start').click();
	await page.waitForTimeout(8000);
	await take(page, '95-resting-guided', 'window');
});

test('files that come in and go out', async ({ page, context, corner }) => {
	await giveFolder(context);
	await page.goto('/settings/import/');
	const csv = (text: string) => ({ name: 'run.csv', mimeType: 'text/csv', buffer: Buffer.from(text) });
	await page.getByLabel('CSV file').setInputFiles(csv('time,bpm\n0,120\n1,fast\n2,121'));
	await expect(page.getByRole('alert')).toBeVisible();
	await take(page, '97-import-refused');
	const rateAt = (s: number) => (s < 300 ? 120 : s < 1500 ? 160 + 4 * Math.floor((s - 300) / 300) : 130);
	await page
		.getByLabel('CSV file')
		.setInputFiles(
			csv(['time,heart_rate', ...Array.from({ length: 1801 }, (_, s) => `${s},${rateAt(s)}`)].join('\n'))
		);
	await page.getByRole('slider').fill('300');
	await page.waitForTimeout(500);
	await take(page, '98-import-preview');
	await corner.open();
	await corner.plan({ Rounds: 2, 'Round, seconds': 60, 'Rest, seconds': 60, 'Get ready, seconds': 0 });
	await corner.practise('60 times as fast');
	await corner.start();
	await corner.inReview(60_000);
	await take(page, '99-review-practice-short');
	await corner.file('CSV');
	await take(page, '99-review-files', 'window');
	await page.keyboard.press('Escape');
	await copyKept(page, 60, 1);
	await corner.openSessions();
	await page.waitForTimeout(1500);
	await take(page, '100-sessions-many', 'window');
	await page.goto('/settings/backup/');
	const arriving = page.waitForEvent('download');
	await page.getByRole('button', { name: 'Save everything to a file' }).click();
	const path = await (await arriving).path();
	await page.waitForTimeout(500);
	await page
		.getByLabel('Backup file')
		.setInputFiles({ name: 'cut.json', mimeType: 'application/json', buffer: Buffer.from('{"x') });
	await expect(page.getByRole('alert')).toBeVisible();
	await take(page, '101-backup-made-and-refused');
	await page.goto('/sessions/');
	await page.getByRole('main').getByRole('listitem').first().getByRole('link').click();
	await page.getByRole('button', { name: 'Delete', exact: true }).click();
	await page
		.getByRole('button', { name: /^Delete/ })
		.last()
		.click();
	await page.waitForTimeout(800);
	await take(page, '102-deleted');
	await page.goto('/settings/backup/');
	await page.getByLabel('Backup file').setInputFiles(path);
	await page.waitForTimeout(1500);
	await take(page, '103-restore-preview');
	await page.goto('/settings/folder/');
	await page.getByRole('button', { name: 'Choose a folder' }).click();
	await page.waitForTimeout(1500);
	await putOn(page, { 'broken.session.txt': 'x', 'holiday.txt': 'hello' });
	await page.getByRole('button', { name: 'Read and write now' }).click();
	await page.waitForTimeout(1500);
	await take(page, '104-folder');
	await losePermission(context);
	await page.goto('/settings/folder/');
	await page.waitForTimeout(800);
	await take(page, '105-folder-asks');
});

test('the squad, the camp and the way back', async ({ page, corner }) => {
	await page.goto('/settings/');
	await page.getByRole('button', { name: 'Bring in the example gym' }).click();
	await expect(page.getByText(/The example gym is here/)).toBeVisible({ timeout: 120_000 });
	await page.goto('/squad/');
	await expect(page.getByRole('list', { name: 'Register' })).toBeVisible();
	await take(page, '110-squad-register');
	await page.getByRole('list', { name: 'Register' }).getByRole('button', { expanded: false }).first().click();
	await take(page, '111-squad-register-open');
	await page.goto('/squad/week/');
	await expect(page.getByRole('rowheader').first()).toBeVisible();
	await take(page, '112-squad-week');
	await page.goto('/squad/board/');
	await expect(page.getByRole('rowheader').first()).toBeVisible();
	await take(page, '113-squad-board');
	await page.goto('/squad/csv/');
	await take(page, '114-squad-csv');

	await page.goto('/athletes/camp/');
	await page.getByLabel('Day of the bout').fill(inDays(40));
	await page.getByLabel('Day of the weigh-in').fill(inDays(40));
	await page.getByLabel('Hour of the weigh-in').fill('08:30');
	await page.getByLabel('Walk to the ring').fill('19:40');
	await page.getByLabel('Class limit, kg').fill('60');
	await page.getByLabel('Limits of all classes, kg').fill('57, 60, 63.5');
	await page.getByLabel('Meals on the day').fill('13:00 rice and chicken');
	await page.getByLabel('Place').fill('Town hall');
	await take(page, '115-bout-form');
	await page.getByRole('button', { name: 'Save the bout' }).click();
	await expect(page.getByRole('region', { name: 'The weeks to the bout' })).toBeVisible();
	await take(page, '116-camp');
	await page.getByRole('button', { name: 'Bout day' }).click();
	await take(page, '117-bout-day');

	await page.goto('/athletes/details/');
	await page.getByText('After a blow to the head', { exact: true }).click();
	await page.getByText('Enter a blow to the head', { exact: true }).click();
	await page.getByLabel('Step that the doctor or coach has set').selectOption('2A');
	await take(page, '118-blow-form');
	await page.getByRole('button', { name: 'Enter the blow' }).click();
	await expect(page.getByRole('region', { name: /^Blow on / })).toBeVisible();
	await take(page, '119-way-back');
	await page.goto('/athletes/');
	await expect(page.getByText('Restricted', { exact: true })).toBeVisible();
	await take(page, '120-restricted-overview');
	await page.goto('/');
	await corner.practise();
	await page.getByRole('combobox', { name: 'Plan' }).selectOption('Pads, 4 x 3');
	await expect(page.getByText(/^Restricted today/)).toBeVisible();
	await take(page, '121-restricted-start');
});
