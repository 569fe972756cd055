import { Buffer } from 'node:buffer';
import { readFileSync } from 'node:fs';
import type { Page } from '@playwright/test';
import { expect, test } from './fixtures';

const row = (page: Page, name: string) => page.getByRole('listitem', { name, exact: true });
const group = (page: Page, name: string) => page.getByRole('region', { name, exact: true });
const acts = async (page: Page, name: string, act: string) => {
	await row(page, name).getByText(/^More/).click();
	await row(page, name).getByRole('button', { name: act, exact: true }).click();
};
const linkOf = (content: unknown) =>
	`/plans/#plan=${Buffer.from(JSON.stringify(content), 'utf8').toString('base64url')}`;
const plan = {
	...{ name: 'Wednesday ladder', activity: 'bag', roundCount: 3, roundS: 120, restS: 60 },
	...{ warmUpS: 0, getReadyS: 15, coolDownS: 0, endWarningS: 10, startWarningS: 10 }
};

test('a plan of the library says its source and is chosen, copied, renamed, deleted and brought back', async ({
	page,
	corner
}) => {
	await corner.open({ threshold: 165 });
	await page.getByRole('link', { name: 'Plans', exact: true }).click();
	await expect(group(page, 'Conditioning')).toContainText('Appl Sci 2021;11:10658');
	await expect(group(page, 'Circuits')).toContainText('Common practice, no source.');
	// 10 minutes to warm up, 15 seconds, 4 x 8 with 3 x 2 between, the closing minute, 5 to cool down.
	const long = row(page, 'Long intervals, 4 x 8');
	await expect(long).toContainText('In all 54:15, work 32:00.');
	await expect(long).toContainText('Effort load not known yet: 0 of 5 sessions of running with an effort.');
	await expect(long.getByRole('img', { name: /^The plan to scale: 4 rounds of 8:00/ })).toBeVisible();

	await test.step('a copy becomes one of your plans, under a name of its own', async () => {
		await acts(page, 'Sprints, 8 x 0.5', 'Copy to your plans');
		await expect(group(page, 'Your plans').getByRole('listitem')).toHaveCount(1);
		const own = group(page, 'Your plans').getByRole('listitem');
		await own.getByText(/^More/).click();
		await own.getByRole('button', { name: 'Rename' }).click();
		await own.getByRole('textbox', { name: 'New name' }).fill('Friday sprints');
		await own.getByRole('button', { name: 'Save', exact: true }).click();
		await expect(row(page, 'Friday sprints')).toBeVisible();
		await row(page, 'Friday sprints').getByRole('button', { name: 'Duplicate' }).click();
		await expect(row(page, 'Friday sprints, copy')).toBeVisible();
	});
	await test.step('what is deleted can be brought back', async () => {
		await acts(page, 'Friday sprints, copy', 'Delete');
		await expect(row(page, 'Friday sprints, copy')).toHaveCount(0);
		await page.getByRole('button', { name: 'Bring it back' }).click();
		await expect(row(page, 'Friday sprints, copy')).toBeVisible();
	});
	await test.step('by the keyboard alone one is chosen, and stands under Rounds', async () => {
		await row(page, 'Hard intervals, 6 x 2')
			.getByRole('button', { name: /^Choose/ })
			.focus();
		await page.keyboard.press('Enter');
		await expect(page.getByRole('combobox', { name: 'Plan', exact: true })).toHaveText(
			/Hard intervals, 6 x 2(?! \(changed\))/
		);
		await expect(page.getByText(/^6 rounds of 2:00, rests of 3:00, effort 8/)).toBeVisible();
	});
	await test.step('once it was started it is the one used last', async () => {
		await corner.practise();
		await corner.start();
		await corner.scrap();
		await page.goto('/plans/');
		await expect(page.getByRole('heading', { level: 2 }).first()).toHaveText('Used last');
		await expect(group(page, 'Used last').getByRole('listitem')).toHaveCount(1);
		await expect(group(page, 'Used last')).toContainText('Hard intervals, 6 x 2');
	});
});

test('a plan goes out as a link and as a file, and each is shown before it is kept', async ({
	page,
	corner
}) => {
	await page.addInitScript(() => {
		navigator.clipboard.writeText = (copied) => {
			Object.assign(globalThis, { copied });
			return 'refuses' in globalThis
				? Promise.reject(new DOMException('no', 'NotAllowedError'))
				: Promise.resolve();
		};
	});
	await corner.open();
	await page.goto('/plans/');
	const name = 'An evening, 10 rounds in 4 blocks';
	await acts(page, name, 'Send as a link');
	await expect(row(page, name)).toContainText('nothing goes to a server');
	const link = await page.evaluate(() => (globalThis as unknown as { copied: string }).copied);
	await test.step('where nothing may be copied the link stands there', async () => {
		await page.evaluate(() => void Object.assign(globalThis, { refuses: true }));
		await row(page, name).getByRole('button', { name: 'Send as a link' }).click();
		await expect(page.getByRole('textbox', { name: 'The link, to be copied by hand' })).toHaveValue(link);
	});
	const saving = page.waitForEvent('download');
	await row(page, name).getByRole('button', { name: 'Send as a file' }).click();
	const file = await saving;
	expect(file.suggestedFilename()).toBe('corner-minute-plan-An-evening-10-rounds-in-4-blocks.json');

	const sent = page.getByRole('region', { name: `Somebody sent you a plan: ${name}` });
	await test.step('the link, which is left', async () => {
		await page.goto('/sessions/');
		await page.goto(link);
		await expect(sent).toContainText('Pads: 3 rounds of 3:00');
		await expect(group(page, 'Your plans')).toHaveCount(0);
		await sent.getByRole('button', { name: 'Leave it' }).click();
		await expect(sent).toHaveCount(0);
		await expect(page).toHaveURL(/\/plans\/$/);
	});
	await test.step('the file, which is kept, and once more under another name', async () => {
		const path = await file.path();
		for (const kept of [name, `${name}, copy`]) {
			await page.getByLabel('Open a plan that was sent as a file').setInputFiles(path);
			await sent.getByRole('button', { name: 'Keep this plan' }).click();
			await expect(
				group(page, 'Your plans').getByRole('listitem', { name: kept, exact: true })
			).toBeVisible();
		}
		expect(JSON.parse(readFileSync(path, 'utf8'))).toMatchObject({
			format: 'corner-minute plan',
			version: 1
		});
	});
});

test('a link or file that is broken is refused in plain words, and nothing is lost', async ({
	page,
	corner
}) => {
	await corner.open();
	await page.goto(linkOf({ version: 1, plan }));
	await page.getByRole('button', { name: 'Keep this plan' }).click();
	await expect(row(page, plan.name)).toBeVisible();
	const whole = linkOf({ version: 1, plan });
	const alert = page.getByRole('alert');
	for (const [link, words] of [
		[whole.slice(0, -20), /is not whole.*Ask for the link again/],
		[`${whole}%E0%A4%A`, /is not whole/],
		['/plans/#plan=', /is not whole/],
		[`/plans/#plan=${'A'.repeat(20_000)}`, /longer than any plan/],
		[linkOf({ version: 1, plan: { ...plan, roundCount: 61 } }), /at most 60 rounds/],
		[linkOf({ version: 2, plan }), /newer version of this page/]
	] as const) {
		await page.goto('/sessions/');
		await page.goto(link);
		await expect(alert).toHaveText(words);
		await expect(alert).toContainText('Nothing was kept');
		await expect(group(page, 'Your plans').getByRole('listitem')).toHaveCount(1);
	}
	await page
		.getByLabel('Open a plan that was sent as a file')
		.setInputFiles({ name: 'x.json', mimeType: 'application/json', buffer: Buffer.from('{"format":') });
	await expect(alert).toContainText('not JSON, or it was cut short');
	await expect(alert).toBeInViewport();
	await expect(row(page, plan.name)).toBeVisible();
});
