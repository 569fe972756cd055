import type { Page } from '@playwright/test';
import { expect, test } from './fixtures';
import { pressAsSoon } from './press-soon';
import { carry, filesOn, giveFolder, losePermission, putOn } from './shared-gym';

async function openFolder(page: Page): Promise<void> {
	await page.goto('/settings/folder/');
	await expect(page.getByRole('heading', { name: 'Shared folder' })).toBeVisible();
}
async function visit(page: Page): Promise<void> {
	await openFolder(page);
	await expect(page.getByText(/^Last visit .*\d\d:\d\d/)).toBeVisible();
}
const row = (page: Page, name: string) =>
	page.getByRole('table', { name: 'What came in and what went out last' }).getByRole('row', { name });
const switchFor = (page: Page, name: string) => page.getByRole('switch', { name });
const listed = (page: Page) => page.getByRole('main').getByRole('link', { name: /pads/ });

/** The one athlete of a first visit gets a name. */
async function nameMe(page: Page, name: string) {
	await page.goto('/athletes/details/');
	await page.getByLabel('Name or alias', { exact: true }).fill(name);
	await page.getByLabel('Name or alias', { exact: true }).press('Tab');
}

test('two laptops keep the same sessions through one folder, with notes and deletions both ways', async ({
	page,
	context,
	radio,
	corner,
	baseURL
}) => {
	await giveFolder(context);
	await nameMe(page, 'Odalys');
	await openFolder(page);
	await page.getByRole('button', { name: 'Choose a folder' }).click();
	await expect(page.getByText('Hall laptops')).toBeVisible();
	await expect(switchFor(page, 'Odalys')).not.toBeChecked();

	const strap = await radio.addStrap({ address: '02:00:00:00:00:81', name: 'Chest strap A' });
	await corner.boxOneRound(strap);

	await test.step('switched off, nothing is written', async () => {
		await corner.openSessions();
		await page.getByRole('link', { name: 'share a folder with other laptops' }).click();
		await expect(page.getByText(/^Last visit .*\d\d:\d\d/)).toBeVisible();
		expect(Object.keys(await filesOn(page))).toEqual([]);
	});
	await test.step('switched on, the session and the card are', async () => {
		await switchFor(page, 'Odalys').click();
		await expect(page.getByText('card and one session')).toBeVisible();
		await expect(row(page, 'Sessions')).toHaveText(/0\s*1$/);
		const names = Object.keys(await filesOn(page)).map((name) => name.split('.').at(-2));
		expect(names.sort()).toEqual(['athlete', 'session']);
	});
	await test.step('from then on a session is written as soon as it is finished, and not before', async () => {
		await page.getByRole('link', { name: 'Train', exact: true }).click();
		await corner.start();
		await expect(corner.heartRate).toHaveText('150');
		expect(Object.keys(await filesOn(page))).toHaveLength(2);
		await corner.finish();
		await expect.poll(async () => Object.keys(await filesOn(page)).length).toBe(3);
	});

	const other = await context.browser()!.newContext({ ...(baseURL && { baseURL }) });
	await giveFolder(other);
	const there = await other.newPage();
	await test.step('the other laptop takes them in', async () => {
		await openFolder(there);
		await carry(page, there);
		await there.getByRole('button', { name: 'Choose a folder' }).click();
		await expect(row(there, 'Sessions')).toHaveText(/2\s*0$/);
		await expect(switchFor(there, 'Odalys')).not.toBeChecked();
		await there.getByRole('link', { name: 'Sessions', exact: true }).click();
		await expect(listed(there)).toHaveCount(2);
	});
	await test.step('a title given there is shown here', async () => {
		await listed(there).first().click();
		await there.getByText('Conditions and corrections').click();
		await there.getByLabel('Title').fill('Odalys on the pads');
		await there.getByLabel('Title').press('Tab');
		await expect(there.getByText('Saved.')).toBeVisible();
		await visit(there);
		expect(Object.keys(await filesOn(there)).some((name) => name.endsWith('.edit.json'))).toBe(false);
		await switchFor(there, 'Odalys').click();
		await expect(row(there, 'Notes and corrections')).toHaveText(/0\s*1$/);
		await carry(there, page);
		await corner.openSessions();
		await expect(page.getByRole('link', { name: /Odalys on the pads/ })).toBeVisible();
	});
	await test.step('deleted there, it goes here, and can be brought back for both', async () => {
		await there.getByRole('link', { name: 'Sessions', exact: true }).click();
		await there.getByRole('link', { name: /Odalys on the pads/ }).click();
		await there.getByRole('button', { name: 'Delete', exact: true }).click();
		await there.getByRole('button', { name: 'Delete it' }).click();
		await expect(listed(there)).toHaveCount(1);
		await visit(there);
		await carry(there, page);
		await visit(page);
		await expect(row(page, 'Deletions')).toHaveText(/1\s*0$/);
		await page.getByRole('button', { name: 'Bring it back' }).click();
		await expect(row(page, 'Brought back')).toHaveText(/0\s*1$/);
		await carry(page, there);
		await there.getByRole('link', { name: 'Sessions', exact: true }).click();
		await expect(listed(there)).toHaveCount(2);
	});
	await other.close();
});

test('plans of one’s own come to the other laptop, and the screen says how many', async ({
	page,
	context,
	baseURL
}) => {
	await giveFolder(context);
	await nameMe(page, 'Odalys');
	await page.goto('/plans/');
	const ready = page.getByRole('listitem', { name: 'Sprints, 8 x 0.5', exact: true });
	await ready.getByText(/^More/).click();
	await ready.getByRole('button', { name: 'Copy to your plans', exact: true }).click();
	await expect(page.getByText('Kept as “Sprints, 8 x 0.5”.')).toBeVisible();
	await openFolder(page);
	await page.getByRole('button', { name: 'Choose a folder' }).click();
	await expect(
		page.getByText('Nothing yet: there was nothing new, neither here nor in the folder.')
	).toBeVisible();
	await switchFor(page, 'Odalys').click();
	await expect(row(page, 'Plans')).toHaveText(/0\s*1$/);

	const other = await context.browser()!.newContext({ ...(baseURL && { baseURL }) });
	await giveFolder(other);
	const there = await other.newPage();
	await openFolder(there);
	await carry(page, there);
	await there.getByRole('button', { name: 'Choose a folder' }).click();
	await expect(row(there, 'Plans')).toHaveText(/1\s*0$/);
	await there.goto('/plans/');
	const own = there.getByRole('region', { name: 'Your plans', exact: true }).getByRole('listitem');
	await expect(own).toHaveCount(1);
	await expect(own).toHaveAccessibleName('Sprints, 8 x 0.5');
	await other.close();
});

test('permission that is lost is asked for again with one click, and what is wrong in the folder is named', async ({
	page,
	context
}) => {
	await giveFolder(context);
	await openFolder(page);
	await page.getByRole('button', { name: 'Choose a folder' }).click();
	await expect(page.getByText(/^Last visit/)).toBeVisible();
	await putOn(page, {
		'towels.txt': 'six',
		'a.session.json': '{"format":"corner-minute session","version":1,"head":{',
		'a.20260302T183000000Z.m1.athlete.json': '{"__proto__":{"name":"Me"},"sha256":"00"}\n'
	});
	await losePermission(context);
	await page.goto('/sessions/');
	await page.getByRole('link', { name: 'allow it again' }).click();
	await expect(page.getByText(/wants your word again/)).toBeVisible();
	await expect(page.getByText('towels.txt')).toHaveCount(0);
	await page.getByRole('button', { name: 'Allow it again' }).click();
	await expect(page.getByText('towels.txt')).toBeVisible();
	const problems = page.getByRole('listitem').filter({ hasText: 'not whole' });
	await expect(problems).toHaveCount(2);
	await page.getByRole('link', { name: 'Sessions', exact: true }).click();
	await expect(page.getByText('No session yet.')).toBeVisible();
	expect(Object.keys(await filesOn(page))).toHaveLength(3);
});

test('older years are looked through at the first visit, once a week and when asked for, and a problem says where', async ({
	page,
	context
}) => {
	await giveFolder(context);
	await openFolder(page);
	const cut = '{"format":"corner-minute session","version":1,"head":{';
	await putOn(page, { 'files/2018/a.session.json': cut, 'files/2019/b.session.json': cut });
	await page.getByRole('button', { name: 'Choose a folder' }).click();
	await expect(page.getByText('files/2018/a.session.json')).toBeVisible();
	const everyYear = page.getByRole('button', { name: 'Look into all years now' });
	await expect(everyYear).toHaveCount(0);
	await putOn(page, { 'files/2019/c.session.json': cut });
	await visit(page);
	await expect(
		page.getByText('Older files, from 2018 to 2019, are looked through once a week.')
	).toBeVisible();
	await expect(page.getByText('files/2019/c.session.json')).toHaveCount(0);
	await everyYear.click();
	await expect(page.getByText('files/2019/c.session.json')).toBeVisible();
	await expect(everyYear).toHaveCount(0);
});

test('two cards of one person become one', async ({ page }) => {
	await page.goto('/athletes/details/');
	for (const name of ['Odalys', 'O. Renwick']) {
		await page.getByLabel('Name or alias of the new athlete').fill(name);
		await page.getByRole('button', { name: 'Add', exact: true }).click();
		await expect(page.getByText(`${name} was added and is chosen.`)).toBeVisible();
	}
	await page.getByLabel('Other card of O. Renwick').selectOption('Odalys');
	await page.getByRole('button', { name: 'Merge it into this card' }).click();
	await expect(page.getByText(/Odalys becomes O. Renwick: 0 sessions/)).toBeVisible();
	await page.getByRole('button', { name: 'Make them one' }).click();
	await expect(page.getByText('Odalys is now O. Renwick.')).toBeVisible();
	await expect(
		page.getByRole('combobox', { name: 'Athlete' }).getByRole('option', { name: 'Odalys' })
	).toHaveCount(0);
});

test('a browser that hands out no folders offers backup files', async ({ page }) => {
	await page.addInitScript(() => Object.assign(window, { showDirectoryPicker: undefined }));
	await openFolder(page);
	await expect(page.getByText('Not in this browser')).toBeVisible();
	await page.getByRole('link', { name: 'Backup files' }).click();
	await expect(page.getByRole('heading', { name: 'Backup', exact: true })).toBeVisible();
});

test('a visit to many new files shows how far it is, and one that is called off goes on the next time', async ({
	page,
	context
}) => {
	await giveFolder(context);
	await openFolder(page);
	// What is in them is not sound, so each is opened, told of and left alone.
	const names = Array.from({ length: 90 }, (_, i) => `unsound-${i}.session.json`);
	await putOn(page, Object.fromEntries(names.map((name) => [name, '{}'])));
	const stopped = await pressAsSoon(page, 'Stop for now');
	await page.getByRole('button', { name: 'Choose a folder' }).click();
	expect(await stopped()).toBe('Reading new files: 20 of 90.');
	await expect(
		page.getByText('Stopped. What was taken over stays, and the next visit goes on with the rest.')
	).toBeVisible();
	await page.getByRole('button', { name: 'Read and write now' }).click();
	await expect(page.getByText(/^Last visit .*\d\d:\d\d/)).toBeVisible();
	await expect(page.getByText('Not taken in: 90 files')).toBeVisible();
	// Not those that were read before the visit was called off.
	await expect(
		page.getByText(/90 files of this page in the folder, (69|70) of them new and read/)
	).toBeVisible();
});

test('what another window deletes can be brought back here at once', async ({ page, corner }) => {
	await corner.begin(
		'skip',
		{ Rounds: 1, 'Round, seconds': 60, 'Rest, seconds': 10, 'Get ready, seconds': 0 },
		'60 times as fast'
	);
	await corner.inReview();
	const review = page.url();
	await page.goto('/settings/folder/');
	const back = page.getByRole('button', { name: 'Bring it back' });
	await expect(page.getByRole('heading', { name: 'The folder' })).toBeVisible();
	await expect(back).toHaveCount(0);

	const second = await page.context().newPage();
	await second.goto(review);
	await second.getByRole('button', { name: 'Delete', exact: true }).click();
	await second.getByRole('button', { name: 'Delete it' }).click();
	await expect(listed(second)).toHaveCount(0);
	await back.click();
	await expect(back).toHaveCount(0);
	await expect(listed(second)).toHaveCount(1);
});
