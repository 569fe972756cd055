import type { Page } from '@playwright/test';
import { expect, test } from './fixtures';

const year = new Date().getFullYear();
const inDays = (days: number) => {
	const date = new Date(Date.now() + days * 86_400_000);
	const two = (n: number) => String(n).padStart(2, '0');
	return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
};

/** The same day as the page writes it: "Thu 26 Nov", with the year where that is another one. */
const dayWords = (days: number) => {
	const date = new Date(`${inDays(days)}T12:00`);
	const isOtherYear = date.getFullYear() !== year;
	const part = (options: Intl.DateTimeFormatOptions) => new Intl.DateTimeFormat('en', options).format(date);
	const day = `${part({ weekday: 'short' })} ${date.getDate()} ${part({ month: 'short' })}`;
	return isOtherYear ? `${day} ${date.getFullYear()}` : day;
};

async function fill(page: Page, label: string, value: string) {
	const field = page.getByLabel(label, { exact: true });
	await field.fill(value);
	await field.blur();
}

/** A man of 180 cm; born so many years ago; body fat measured. */
async function tellFacts(page: Page, years: number) {
	await page.goto('/athletes/weight/');
	const asked = page.getByRole('form', { name: /^Sex, year of birth and height give/ });
	await asked.getByLabel('Sex used by the formulas').selectOption('male');
	await fill(page, 'Height, cm', '180');
	await fill(page, 'Year of birth', String(year - years));
	await asked.getByRole('button', { name: 'Save' }).click();
	// What the card says is told, and not asked again.
	await expect(asked).toHaveCount(0);
	await expect(page.getByRole('region', { name: 'Your details' })).toContainText(
		`male, born ${year - years}, 180 cm.`
	);
	await fill(page, 'Body fat measured, %', '20');
	await page.getByRole('button', { name: 'Save body fat' }).click();
	await page.getByLabel('The day apart from training').selectOption('on your feet');
}

/** What is logged is everything, so that a day may be judged. */
async function sayAll(page: Page) {
	await page.getByLabel('All training, every day').check();
	await page.getByLabel('All food, every day').check();
}

async function logDay(page: Page, day: string, weight: number, eaten?: number) {
	await page.getByLabel('Day', { exact: true }).fill(day);
	await page.getByLabel(/^Weight, /).fill(String(weight));
	if (eaten !== undefined) await page.getByLabel(/^Eaten, /).fill(String(eaten));
	await page.getByRole('button', { name: 'Log it' }).click();
	await expect(page.getByLabel(/^Weight, /)).toHaveValue('');
}

async function setGoal(page: Page, kg: number, days: number) {
	await page.getByLabel('Goal, kg').fill(String(kg));
	await page.getByLabel('By', { exact: true }).fill(inDays(days));
	await page.getByRole('button', { name: 'Check it' }).click();
}

test('an adult makes weight over eight weeks, and the units change nothing but the display', async ({
	page
}) => {
	await tellFacts(page, 30);
	await sayAll(page);
	// Eight weeks of weighing, from 84 down to 81 kg.
	for (let week = 0; week <= 8; week++) await logDay(page, inDays(-7 * (8 - week)), 84 - week * 0.375);
	await expect(page.getByLabel('7-day median')).toContainText('81.0 kg');
	// ten Haaf & Weijs by hand at 81 kg and 20 % fat: 22.771 x 64.8 + 484.264 = 1959.8; on one's feet x 1.6 = 3135.7.
	await expect(page.getByLabel("Today's budget")).toContainText('3,140 kcal');

	await setGoal(page, 79.5, 56);
	await expect(page.getByText('A reasonable plan:')).toBeVisible();
	// (81 - 79.5) / 8 weeks = 0.19 kg a week.
	await expect(page.getByText('0.2 kg a week')).toBeVisible();

	// The plan ahead, week by week: eight of them, down to the goal on the day of the weigh-in.
	const plan = page.getByRole('table', { name: 'The plan week by week' });
	await expect(plan.getByRole('row')).toHaveCount(9);
	await expect(plan.getByRole('row').last()).toContainText(dayWords(56));
	await expect(plan.getByRole('row').last()).toContainText('79.5 kg');
	// 3135.7 kcal of the day less 1.5 kg x 7700 / 56 = 206; at least 1959.8 x 0.9 x 1.45 less that, 2351.3, rounded up,
	// which is over the floor of 35 x 81 x (1 - 0.18) = 2324.7.
	await expect(plan.getByRole('row').nth(1)).toContainText('2,930 kcal');
	await expect(plan.getByRole('row').nth(1)).toContainText('2,360 kcal to');
	await expect(page.getByRole('img', { name: /^9 weights, and the plan to 79\.5 kg on / })).toBeAttached();
	await page.getByText('Weights as a table').click();
	await expect(page.getByRole('row', { name: new RegExp(`^${dayWords(-56)}`) })).toContainText('84.0 kg');

	for (const days of [-2, -1, 0]) await logDay(page, inDays(days), 81, 1900);
	await expect(page.getByText('3 complete days in a row lie under 35')).toBeVisible();
	await expect(page.getByText('unknown', { exact: true })).toHaveCount(4);
	await page.screenshot({ path: 'test-results/fuel-wide.png', fullPage: true });
	await page.setViewportSize({ width: 390, height: 844 });
	await page.screenshot({ path: 'test-results/fuel-phone.png', fullPage: true });

	await page.getByLabel('Weight in').selectOption('lb');
	await page.getByLabel('Energy in').selectOption('kJ');
	// 81 / 0.45359237 = 178.6; 3135.7 x 4.184 = 13 120.
	await expect(page.getByLabel('7-day median')).toContainText('178.6 lb');
	await expect(page.getByLabel("Today's budget")).toContainText('13,120 kJ');
	// 79.5 / 0.45359237 = 175.3.
	await expect(plan.getByRole('row').last()).toContainText('175.3 lb');
	await page.getByLabel('Weight in').selectOption('st');
	await expect(plan.getByRole('row').last()).toContainText('12 st 7.3 lb');
	await page.getByLabel('Weight in').selectOption('kg');
	await expect(page.getByLabel('7-day median')).toContainText('81.0 kg');
	await expect(plan.getByRole('row').last()).toContainText('79.5 kg');

	// Every figure leads to how it is made.
	for (const id of ['energy-budget', 'energy-availability', 'fat-free-mass', 'weight-goal', 'weight-median'])
		await expect(page.locator(`a[href="/help/methods/#${id}"]`).first()).toBeAttached();
});

test('a goal that needs more than is safe is refused, with the earliest day and no faster way', async ({
	page
}) => {
	await tellFacts(page, 30);
	await sayAll(page);
	await logDay(page, inDays(0), 84);
	await setGoal(page, 81, 14);

	await expect(page.getByText('That is faster than is safe.')).toBeVisible();
	const earliest = await page
		.getByText(/^\s*Reasonable from/)
		.getByRole('time')
		.getAttribute('datetime');
	expect(earliest! > inDays(14)).toBe(true);
	await expect(page.getByText(/^Eat .* today/)).toHaveCount(0);
	await expect(page.getByRole('table', { name: 'The plan week by week' })).toHaveCount(0);

	await setGoal(page, 58, 400);
	await expect(page.getByText(/body mass index of 18\.5/)).toBeVisible();
});

test('somebody of sixteen sees what growing needs, and nothing that plans a loss', async ({ page }) => {
	await tellFacts(page, 16);
	await logDay(page, inDays(0), 62);

	// Table 5-5 of the 2023 reference intakes: -388.19 + 3.68 x 16 + 12.66 x 180 + 20.46 x 62 + 20 = 3238.
	await expect(page.getByLabel('Energy needs for growth')).toContainText('3,240 kcal');
	await expect(page.getByText('No weight loss is planned for anybody under 18')).toBeVisible();
	// Nobody can say otherwise: the year of birth makes it clear.
	await expect(page.getByLabel('18 or over')).toHaveCount(0);
	await expect(page.getByRole('button', { name: 'Check it' })).toHaveCount(0);
	await expect(page.getByText('Never make weight by drying out')).toBeVisible();
	await expect(page.locator('a[href="/help/methods/#youth-needs"]')).toBeAttached();
	await page.screenshot({ path: 'test-results/fuel-minor.png', fullPage: true });
});

test('with a history of eating disorder nothing is counted, calmly and with somebody to turn to', async ({
	page
}) => {
	await tellFacts(page, 30);
	await sayAll(page);
	await logDay(page, inDays(0), 75, 2000);
	await page.getByRole('checkbox', { name: 'History of eating disorder' }).check();

	await expect(page.getByLabel(/^Eaten, /)).toHaveCount(0);
	await expect(page.getByText('Food is not counted here with a history of eating disorder.')).toBeVisible();
	await expect(page.getByRole('main')).toContainText('doctor or dietitian, who can help');
	await expect(page.getByText(/\d+ k(cal|J)/)).toHaveCount(0);
	await expect(page.getByRole('heading', { name: /availability|Today's energy/ })).toHaveCount(0);
	await expect(page.getByRole('button', { name: 'Check it' })).toHaveCount(0);
	await expect(page.getByText('Never make weight by drying out')).toBeVisible();
	await page.screenshot({ path: 'test-results/fuel-disorder.png', fullPage: true });

	// Nothing is lost: what was logged before stands there again.
	await page.getByRole('checkbox', { name: 'History of eating disorder' }).uncheck();
	await page.getByRole('link', { name: 'Check', exact: true }).click();
	await page.getByLabel('Is pregnant').check();
	await page.getByRole('link', { name: 'Weight', exact: true }).click();
	await expect(page.getByText('Ask the midwife or doctor.').first()).toBeVisible();
	await expect(page.getByText('No estimate here holds in pregnancy.')).toBeVisible();
	await expect(page.getByText('Never make weight by drying out')).toBeVisible();
	await page.getByRole('link', { name: 'Check', exact: true }).click();
	await page.getByLabel('Is pregnant').uncheck();
	await page.getByRole('link', { name: 'Weight', exact: true }).click();
	await expect(page.getByText('unknown', { exact: true })).toHaveCount(6);
});

test('switched off, weight and food are gone until they are wanted again', async ({ page }) => {
	await page.goto('/athletes/weight/');
	const place = page.getByRole('link', { name: 'Weight', exact: true });
	await expect(place).toBeVisible();
	await page.getByRole('checkbox', { name: /^No weight plan \(no reason needed\)/ }).check();
	await expect(page.getByText('This page is switched off')).toBeVisible();
	await expect(place).toHaveCount(0);

	await page.goto('/');
	await expect(page.getByRole('button', { name: 'Start', exact: true })).toBeVisible();
	await expect(page.getByText(/weight|food/i)).toHaveCount(0);
	await page.getByRole('link', { name: 'Me', exact: true }).click();
	await expect(page.getByText('No session with a strap yet.')).toBeVisible();
	await expect(page.getByText(/weight|food/i)).toHaveCount(0);

	await page.goto('/athletes/weight/');
	await page.getByRole('checkbox', { name: /^No weight plan/ }).uncheck();
	await expect(place).toBeVisible();
});

test('what is no number takes none away, and a year of birth is a whole one', async ({ page }) => {
	await page.goto('/athletes/details/');
	await fill(page, 'Height, cm', '180');
	const height = page.getByLabel('Height, cm', { exact: true });
	await height.fill('');
	await height.pressSequentially('18e');
	await height.blur();
	await expect(page.getByRole('alert')).toHaveText('From 100 to 230 cm: this was not kept.');
	await page.getByRole('link', { name: 'Weight', exact: true }).click();
	await expect(page.getByRole('region', { name: 'Your details' })).toContainText('180 cm.');

	// The same where the page asks for it.
	const asked = page.getByRole('form', { name: /^Sex and year of birth give/ });
	await fill(page, 'Year of birth', '19e');
	await asked.getByRole('button', { name: 'Save' }).click();
	await expect(asked.getByRole('alert')).toContainText('A year of birth lies between');
	await fill(page, 'Year of birth', `${year - 30}.4`);
	await asked.getByRole('button', { name: 'Save' }).click();
	await expect(page.getByRole('alert')).toHaveCount(0);
	// By a link: leaving the document would race with what is just being kept.
	await page.getByRole('link', { name: 'Details', exact: true }).click();
	await expect(page.getByRole('spinbutton', { name: 'Year of birth' })).toHaveValue(String(year - 30));

	await fill(page, 'Height, cm', '');
	await page.getByRole('link', { name: 'Weight', exact: true }).click();
	await expect(page.getByRole('form', { name: /^Sex and height give/ })).toBeVisible();
});
