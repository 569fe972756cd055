import type { BrowserContext, Page } from '@playwright/test';
import { expect, test } from './fixtures';
import { carry, filesOn, giveFolder } from './shared-gym';

const names = [
	'Ada',
	'Bruno',
	'Cleo',
	'Dario',
	'Edda',
	'Falk',
	'Gitte',
	'Hugo',
	'Ines',
	'Joel',
	'Kaja',
	'Lars',
	'Mina',
	'Nils',
	'Oda',
	'Piet',
	'Quint',
	'Rosa',
	'Sven',
	'Tilda'
];

/** The one athlete of a first visit gets the first name, the others are added. */
async function addAll(page: Page, names: readonly string[]) {
	await page.goto('/athletes/details/');
	await page.getByLabel('Name or alias', { exact: true }).fill(names[0]!);
	await page.getByLabel('Name or alias', { exact: true }).press('Tab');
	await expect(page.getByText('Saved.')).toBeVisible();
	for (const name of names.slice(1)) {
		await page.getByLabel('Name or alias of the new athlete').fill(name);
		await page.getByRole('button', { name: 'Add', exact: true }).click();
		await expect(page.getByText(`${name} was added and is chosen.`)).toBeVisible();
	}
	await page.getByRole('combobox', { name: 'Athlete', exact: true }).selectOption(names[0]!);
	await expect(page.getByRole('heading', { level: 1 })).toHaveText(names[0]!);
}
const effortOf = (page: Page, name: string) => page.getByRole('button', { name: new RegExp(`^${name}: `) });
const rowOf = (page: Page, name: string) =>
	page
		.getByRole('list', { name: 'Register' })
		.getByRole('listitem')
		.filter({ has: effortOf(page, name) });

test('a coach enters twenty athletes, one of them with a strap, by keyboard in fifty presses', async ({
	page,
	radio,
	corner
}) => {
	await addAll(page, names);
	const strap = await radio.addStrap({ address: '02:00:00:00:00:91', name: 'Chest strap R' });
	await corner.boxOneRound(strap);

	await page.getByRole('link', { name: 'Register of that day' }).click();
	await expect(effortOf(page, 'Ada')).toHaveText('–');
	await expect(rowOf(page, 'Ada')).toContainText('strap');
	await expect(rowOf(page, 'Bruno')).toContainText('nothing entered');

	let presses = 0;
	const press = async (key: string) => {
		presses++;
		await page.keyboard.press(key);
	};
	const minutes = page.getByRole('spinbutton', { name: 'Minutes' });
	await minutes.click();
	await page.keyboard.press('ControlOrMeta+A');
	presses += 2;
	for (const key of ['6', '0']) await press(key);
	// Over the group and the rows' names stands one stop: the effort whose turn it is.
	await effortOf(page, 'Ada').click();
	presses++;
	// Ada's is the session's; Cleo's is 10, Dario rests, of Edda nobody knows, Falk was there and will be asked.
	for (const key of ['7', '6', '1', '0', 'r', 'ArrowDown', 't']) await press(key);
	// A 1 before another digit stays a 1.
	for (const key of ['1', '5']) await press(key);
	for (let row = 8; row < names.length; row++) await press('6');
	expect(presses).toBeLessThanOrEqual(50);

	for (const [name, effort] of Object.entries({
		Ada: '7',
		Bruno: '6',
		Cleo: '10',
		Dario: 'rest',
		Edda: '',
		Falk: '–',
		Gitte: '1',
		Hugo: '5',
		Ines: '6',
		Tilda: '6'
	}))
		await expect(effortOf(page, name), name).toHaveText(effort);
	await expect(rowOf(page, 'Bruno')).toContainText('pads, 60 min');
	await expect(rowOf(page, 'Ada')).not.toContainText('60 min');

	// All of it is kept: the session's effort with the session, the others' in their days.
	await page.reload();
	await expect(effortOf(page, 'Cleo')).toHaveText('10');
	await expect(effortOf(page, 'Ada')).toHaveText('7');
	await expect(effortOf(page, 'Edda')).toHaveText('');
	await expect(page.getByRole('region', { name: 'Effort owed' })).toContainText('Falk');

	await page.getByRole('navigation', { name: 'Squad' }).getByRole('link', { name: 'Board' }).click();
	const board = page.getByRole('region', { name: 'Board' });
	await expect(board.getByRole('rowheader').first()).toHaveText('Edda');
	await expect(board.getByRole('row', { name: /^Falk/ })).toContainText('effort owed');
	await expect(board.getByRole('row', { name: /^Bruno/ })).toContainText(/at least 360\.|: 360\./);
	await page.getByRole('navigation', { name: 'Squad' }).getByRole('link', { name: 'Week' }).click();
	await expect(page.getByRole('row', { name: /^Dario/ })).toContainText('rest');
	await page.screenshot({ path: 'test-results/squad-week.png', fullPage: true });
});

test.describe('on a phone', () => {
	test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

	test('five athletes are entered by thumb, one touch each', async ({ page }) => {
		await addAll(page, names.slice(0, 5));
		await page.goto('/squad/');
		const pad = page.getByRole('region', { name: /^Effort of/ });
		for (const [name, button] of [
			['Ada', 'Effort 7'],
			['Bruno', 'Effort 10'],
			['Cleo', 'Rest'],
			['Dario', 'Skip'],
			['Edda', 'There']
		]) {
			await expect(pad).toContainText(name!);
			// Nothing has to be scrolled to: pad and row are both in sight.
			await expect(pad.getByRole('button', { name: button!, exact: true })).toBeInViewport({ ratio: 1 });
			await pad.getByRole('button', { name: button!, exact: true }).tap();
		}
		for (const [name, effort] of Object.entries({
			Ada: '7',
			Bruno: '10',
			Cleo: 'rest',
			Dario: '',
			Edda: '–'
		}))
			await expect(effortOf(page, name)).toHaveText(effort);
		// Measured against the screen and not against innerWidth, which grows with what is too wide on a phone.
		expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
		await page.reload();
		await expect(effortOf(page, 'Bruno')).toHaveText('10');
		await page.screenshot({ path: 'test-results/register-phone.png' });
	});
});

test('two laptops enter the same evening, one of them offline: both entries stay, and one answer settles it', async ({
	page,
	context,
	baseURL
}) => {
	const choose = async (laptop: Page) => {
		await laptop.goto('/settings/folder/');
		await laptop.getByRole('button', { name: 'Choose a folder' }).click();
		await expect(laptop.getByText('Hall laptops')).toBeVisible();
	};
	const enter = async (laptop: Page, effort: string) => {
		await laptop.goto('/squad/');
		await effortOf(laptop, 'Ada').click();
		await laptop.keyboard.press(effort);
		await expect(effortOf(laptop, 'Ada')).toHaveText(effort);
	};
	const visit = async (laptop: Page) => {
		await laptop.goto('/settings/folder/');
		// What the page says first is of the visit before: a press waits for one that is under way, and makes another.
		await laptop.getByRole('button', { name: 'Read and write now' }).click();
		await expect(laptop.getByText(/^Last visit .*\d\d:\d\d/)).toBeVisible();
	};
	await giveFolder(context);
	await addAll(page, ['Ada', 'Bruno']);
	await choose(page);
	await page.getByRole('switch', { name: 'Ada' }).click();
	await expect.poll(async () => Object.keys(await filesOn(page)).length).toBe(1);
	const other: BrowserContext = await context.browser()!.newContext({ ...(baseURL && { baseURL }) });
	await giveFolder(other);
	const there = await other.newPage();
	await there.goto('/settings/folder/');
	await carry(page, there);
	await choose(there);
	await there.getByRole('switch', { name: 'Ada' }).click();

	await enter(page, '6');
	await enter(there, '7');
	await visit(there);
	await carry(there, page);
	await visit(page);
	await page.goto('/squad/');
	const question = page.getByRole('group', { name: 'Same training? Ada' });
	await expect(question).toContainText('effort 6');
	await expect(question).toContainText('effort 7');
	// Until it is answered the larger load counts, and nothing of either is lost.
	await expect(effortOf(page, 'Ada')).toHaveText('7');
	await question.getByRole('button', { name: 'Same training' }).click();
	await expect(question).toHaveCount(0);
	await expect(effortOf(page, 'Ada')).toHaveText('7');

	await visit(page);
	await carry(page, there);
	await visit(there);
	await there.goto('/squad/');
	await expect(effortOf(there, 'Ada')).toHaveText('7');
	await expect(there.getByRole('group', { name: 'Same training? Ada' })).toHaveCount(0);
	await other.close();
});

test('what cannot be true is refused with a sentence, and everything else is kept', async ({ page }) => {
	await addAll(page, ['Ada', 'Bruno']);
	await page.goto('/squad/');
	await effortOf(page, 'Ada').click();
	await page.keyboard.press('6');
	await page.getByRole('button', { name: 'Ada', exact: true }).click();
	const detail = rowOf(page, 'Ada');
	for (const [label, value, problem] of [
		['Effort', '11', 'Effort lies between 0 and 10.'],
		['Minutes', '0', 'Minutes lie between 1 and 1,440, which is a day.'],
		['Minutes', '1500', 'Minutes lie between 1 and 1,440, which is a day.']
	] as const) {
		await detail.getByLabel(label, { exact: true }).fill(value);
		await detail.getByLabel(label, { exact: true }).press('Tab');
		await expect(detail.getByRole('alert')).toHaveText(problem);
	}
	const tomorrow = await page.evaluate(() => {
		const day = new Date(Date.now() + 86_400_000);
		return [day.getFullYear(), day.getMonth() + 1, day.getDate()]
			.map((part) => String(part).padStart(2, '0'))
			.join('-');
	});
	await page.getByLabel(/^Day, /).fill(tomorrow);
	await expect(
		page.getByText('That day is still to come: only days that have begun are entered.')
	).toBeVisible();
	await page.reload();
	await expect(effortOf(page, 'Ada')).toHaveText('6');

	await page.getByRole('link', { name: 'Take in or out as a table (CSV)' }).click();
	const rows = [
		'day,athlete,minutes,activity,effort',
		'2026-01-05,Ada,60,bag,5',
		'2026-01-05,ADA,60,bag,6',
		'2026-01-05,Bruno,60,bag,11',
		'2026-01-06,Bruno,1500,bag,5',
		`${tomorrow},Bruno,60,bag,5`,
		'2026-01-07,Bruno,45,running,4'
	];
	await page
		.getByLabel('CSV file')
		.setInputFiles({ name: 'term.csv', mimeType: 'text/csv', buffer: Buffer.from(rows.join('\n')) });
	const problems = page.getByRole('region', { name: '4 rows are not taken' });
	for (const words of [
		'Line 3: ADA stands',
		'Line 4: Effort',
		'Line 5: Minutes',
		`Line 6: ${tomorrow} is still to come`
	])
		await expect(problems).toContainText(words);
	await page.getByRole('button', { name: 'Take in 2 rows' }).click();
	await expect(page.getByText('2 rows were taken in.')).toBeVisible();
	await page.goto('/squad/#2026-01-07');
	await expect(effortOf(page, 'Bruno')).toHaveText('4');
	await expect(rowOf(page, 'Bruno')).toContainText('running, 45 min');
});
