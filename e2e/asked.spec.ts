import type { Page } from '@playwright/test';
import type { Corner } from './corner';
import { expect, test } from './fixtures';

/** A short practice session of somebody of whom nothing is known. */
async function shortSession(corner: Corner) {
	await corner.open('skip', {
		Rounds: 2,
		'Round, seconds': 120,
		'Rest, seconds': 60,
		'Get ready, seconds': 0
	});
	// Slow enough that the flag falls into the first round on a machine at work.
	await corner.practise('12 times as fast');
	await corner.button('Start').click();
	await expect(corner.overThreshold).toContainText('no threshold known');
	await corner.page.keyboard.press('m');
	await corner.inReview();
}

/** A figure behind "More", and what stands below it. */
const cost = (page: Page, name: RegExp) =>
	page.getByRole('region', { name: 'Energy and load' }).locator('dl > div').filter({ hasText: name });
const openMore = (page: Page) => page.getByText('More: energy and load').click();

test('the first session needs no field; afterwards each number asks for what it lacks, and then it is there', async ({
	page,
	corner
}) => {
	await shortSession(corner);
	await expect(page.getByRole('list', { name: 'Flagged moments' })).toContainText(
		/Round 1 of 2, [01]:\d\d in/
	);
	await openMore(page);
	await expect(page.getByRole('region', { name: 'Energy and load' })).toBeVisible();
	await expect(cost(page, /^Energy/)).toHaveCount(0);
	await expect(page.getByText(/^Add a threshold to see how much of the work/)).toBeVisible();
	await page.getByText('Sex, year of birth and weight give the energy', { exact: true }).click();
	const form = page.getByRole('form', { name: 'As it was on the day of this session' });
	await form.getByRole('combobox', { name: 'Sex used by the formulas' }).selectOption('female');
	await form.getByRole('textbox', { name: 'Year of birth' }).fill('1999');
	await form.getByRole('textbox', { name: 'Weight, kg' }).fill('900');
	await form.getByRole('button', { name: 'Save', exact: true }).click();
	await expect(form.getByRole('alert')).toHaveText(
		'A weight lies between 20 kg and 250 kg. Nothing was kept.'
	);
	await form.getByRole('textbox', { name: 'Weight, kg' }).fill('61,5');
	await form.getByRole('button', { name: 'Save', exact: true }).click();
	await expect(cost(page, /^Energy/)).toContainText(/\d+ kcal/);

	// The load now lacks the resting rate alone.
	// Told with the keyboard alone.
	await page.getByText('Resting rate gives the load from the heart rate', { exact: true }).focus();
	await page.keyboard.press('Enter');
	await page.keyboard.press('Tab');
	await page.keyboard.type('55');
	await page.keyboard.press('Enter');
	await expect(cost(page, /^Load from the heart rate/)).toContainText(
		/[1-9]\d*\s*on a maximum estimated from age/
	);
	await page.getByText('Threshold gives the time over it and near it', { exact: true }).click();
	await page.getByRole('textbox', { name: 'Threshold, beats a minute' }).fill('100');
	await page.getByRole('button', { name: 'Save', exact: true }).click();
	await expect(await corner.cell('1', 'Over threshold')).toContainText(/[1-9]/);

	// A later entry: it is there after a reload, the record itself has none of it, and the card has it.
	await page.reload();
	await openMore(page);
	await expect(cost(page, /^Energy/)).toContainText(/\d+ kcal/);
	await expect(
		page.getByText(/^Told afterwards and counted here: female, age \d+, weight 61.5 kg/)
	).toBeVisible();
	const [saved] = await corner.saved();
	const { head } = saved as unknown as { head: { athlete: object } };
	expect(Object.keys(head.athlete).sort()).toEqual(['athleteId', 'name']);
	await page.getByRole('link', { name: 'Me', exact: true }).click();
	await page.getByRole('link', { name: 'Details', exact: true }).click();
	await expect(page.getByRole('spinbutton', { name: 'Weight, kg' })).toHaveValue('61.5');
	await expect(page.getByRole('spinbutton', { name: /^Threshold/ })).toHaveValue('100');
	await page.goBack();
	await page.goBack();

	await page.getByRole('button', { name: 'Take it out again' }).click();
	await expect(page.getByText(/^Told afterwards and counted here/)).toHaveCount(0);
	await expect(cost(page, /^Energy/)).toHaveCount(0);
	// What the card says by now is offered as the answer.
	await page.getByText('Sex, year of birth and weight give the energy', { exact: true }).click();
	await expect(form.getByRole('textbox', { name: 'Weight, kg' })).toHaveValue('61.5');
});

test('the heading says what was put right and what had been recorded, and the list follows', async ({
	page,
	corner
}) => {
	await shortSession(corner);
	await page.goto('/athletes/details/');
	await page.getByLabel('Name or alias of the new athlete').fill('Second corner');
	await page.getByRole('button', { name: 'Add', exact: true }).click();
	await expect(page.getByRole('heading', { level: 1 })).toHaveText('Second corner');
	await page.getByRole('spinbutton', { name: /^Threshold/ }).fill('101');
	await page.getByRole('spinbutton', { name: /^Threshold/ }).press('Tab');
	await corner.openSessions();
	await page.getByRole('listitem').getByRole('link').click();
	await page.getByText('Conditions and corrections').click();
	await page.getByRole('combobox', { name: 'Athlete' }).selectOption('Second corner');
	await page.getByRole('combobox', { name: 'What was done' }).selectOption('skipping');
	await page.getByRole('textbox', { name: 'Plan', exact: true }).fill('Rope, two times two');
	await page.getByRole('textbox', { name: 'Plan', exact: true }).press('Tab');
	const head = page.getByRole('banner').or(page.locator('main > header')).last();
	await expect(head.getByRole('heading')).toHaveText('Second corner');
	await expect(head).toContainText(/Rope, two times two · .* · skipping/);
	await expect(head).toContainText(/Put right afterwards; recorded as: Me, /);
	// Measured with the threshold of the one it belongs to, which is dated today.
	await expect(await corner.cell('1', 'Over threshold')).toContainText(/[1-9]/);
	await corner.openSessions();
	await expect(page.getByRole('listitem')).toContainText('Rope, two times two');
	await expect(page.getByRole('listitem')).toContainText('skipping');
	await page.getByRole('listitem').getByRole('link').click();
	await page.getByRole('link', { name: 'Print or send' }).click();
	await expect(page.getByRole('heading', { level: 1 })).toHaveText('Rope, two times two');
});

test('weights are asked for and drawn in the units that were chosen', async ({ page, corner }) => {
	await page.goto('/settings/');
	await page.getByRole('button', { name: 'Bring in the example gym' }).click();
	await expect(page.getByText(/The example gym is here/)).toBeVisible({ timeout: 120_000 });
	await page.getByRole('radio', { name: /^Pounds, stone/ }).check();
	await page.getByRole('link', { name: 'Athletes', exact: true }).click();
	await page.getByRole('link', { name: 'Progress', exact: true }).click();
	const weight = page.getByRole('region', { name: 'Weight' });
	await expect(weight).toContainText('pounds');
	// The example's first weight is 62.5 kg: 137.8 lb (by hand).
	await expect(weight.getByRole('link').first()).toHaveAccessibleName(/: 137\.8$/);
	await expect(weight.locator('text').first()).toHaveText(/^13\d(\.\d)?$/);
	await expect(
		page.getByRole('img', { name: /^Weekly load, sameness of days and load x sameness over 1[34] weeks/ })
	).toBeVisible();

	await page.getByRole('link', { name: 'Weight', exact: true }).click();
	await expect(page.getByRole('region', { name: 'Your details' })).toContainText('5 ft 6.1 in');
	await page.getByLabel('Weight in').selectOption('st');
	await page.getByRole('link', { name: 'Progress', exact: true }).click();
	await expect(weight.getByRole('link').first()).toHaveAccessibleName(/: 9 st 11\.8$/);
	expect(await corner.saved()).not.toHaveLength(0);
});

test('the call for more pace is spoken by a voice of this machine alone, and the switch says why not', async ({
	page,
	corner
}) => {
	await page.goto('/tests/');
	await expect(page.getByRole('checkbox', { name: /aloud as well/ })).toBeDisabled();
	await expect(page.getByText(/This machine has no voice installed\.\s+The whistle calls\./)).toBeVisible();

	await page.addInitScript(() => {
		const said: string[] = [];
		Object.assign(globalThis, { said });
		const voices = [
			{ lang: 'en-US', localService: false, name: 'far' },
			{ lang: 'en-GB', localService: true, name: 'near' }
		];
		Object.defineProperty(globalThis, 'SpeechSynthesisUtterance', {
			value: class {
				voice?: { name: string };
				constructor(readonly text: string) {}
			}
		});
		speechSynthesis.getVoices = () => voices as SpeechSynthesisVoice[];
		speechSynthesis.speak = ({ text, voice }) => void said.push(`${voice?.name}: ${text}`);
	});
	await corner.reload();
	const heard = () => page.evaluate(() => (globalThis as unknown as { said: string[] }).said);
	await expect(page.getByRole('checkbox', { name: /aloud as well/ })).toBeChecked();
	await page.getByRole('button', { name: 'Hear it: Raise the pace' }).click();
	expect(await heard()).toEqual(['near: Raise the pace.']);
	await page.getByRole('checkbox', { name: /aloud as well/ }).uncheck();
	await corner.reload();
	await expect(page.getByRole('checkbox', { name: /aloud as well/ })).not.toBeChecked();
});
