import type { Page } from '@playwright/test';
import type { Corner } from './corner';
import { expect, test } from './fixtures';

/** Two simulated rounds with a minute of rest behind each. */
async function twoRounds(corner: Corner) {
	await corner.begin(
		{ threshold: 150 },
		{ Rounds: 2, 'Round, seconds': 60, 'Rest, seconds': 60, 'Get ready, seconds': 0 },
		'60 times as fast'
	);
	await corner.inReview();
}

test('a picture that fails fails alone, says so, and comes with the next try', async ({ page, corner }) => {
	await page.addInitScript(() => {
		const { getContext } = HTMLCanvasElement.prototype;
		HTMLCanvasElement.prototype.getContext = function (this: HTMLCanvasElement, ...asked: unknown[]) {
			if (!document.documentElement.dataset.mended && this.closest('[aria-label^="Fall of the heart rate"]'))
				throw new Error('as where a browser gives no canvas');
			return Reflect.apply(getContext, this, asked) as never;
		} as typeof getContext;
	});
	await twoRounds(corner);
	await page.getByRole('heading', { name: 'The rests, laid over each other' }).scrollIntoViewIfNeeded();
	const failed = page.getByRole('alert').filter({ hasText: 'The picture of the rests could not be shown.' });
	await expect(failed).toBeVisible();
	// All else stands and can be used.
	await expect(page.getByLabel('Heart rate over the session').locator('canvas')).toBeVisible();
	await expect(await corner.cell('1', '1-minute drop')).toHaveText(/^-?\d+ ± \d+$/);
	await page.getByRole('radio', { name: '7', exact: true }).check({ force: true });
	await expect(page.getByText('Saved.', { exact: true })).toBeVisible();

	await page.evaluate(() => (document.documentElement.dataset.mended = 'yes'));
	await failed.getByRole('button', { name: 'Try again' }).click();
	await expect(failed).toHaveCount(0);
	await expect(page.getByLabel('Fall of the heart rate').locator('canvas')).toBeVisible();
});

test('the rests below the window are drawn when they come near, or in the moment in which the page is printed', async ({
	page,
	corner
}) => {
	await page.setViewportSize({ width: 1366, height: 500 });
	await twoRounds(corner);
	const ink = (event?: string) =>
		page.evaluate((event) => {
			if (event) window.dispatchEvent(new Event(event));
			return ['Heart rate over the session', 'Fall of the heart rate'].map((label) => {
				const canvas = document.querySelector<HTMLCanvasElement>(`[aria-label^="${label}"] canvas`);
				const pixels = canvas?.getContext('2d')?.getImageData(0, 0, canvas.width, canvas.height).data;
				return pixels?.some((value) => value > 0);
			});
		}, event);
	await expect.poll(() => ink()).toEqual([true, false]);
	expect(await ink('beforeprint')).toEqual([true, true]);

	await page.reload();
	await expect.poll(() => ink()).toEqual([true, false]);
	await page.getByLabel('Fall of the heart rate').scrollIntoViewIfNeeded();
	await expect.poll(() => ink()).toEqual([true, true]);
});

test('a review leads with whose it is and what it came to, above effort, picture and table', async ({
	page,
	corner
}) => {
	await twoRounds(corner);
	await expect(page.getByRole('heading', { level: 1 })).toHaveText('Me');
	await expect(
		page.getByText(/^Drops \d+, \d+(, not judged)?\. \d:\d\d of 2:00 over threshold\. Simulated/)
	).toBeVisible();
	const top = async (of: ReturnType<Page['locator']>) => (await of.boundingBox())!.y;
	const tops = [
		await top(page.getByRole('heading', { level: 1 })),
		await top(page.getByRole('radio', { name: '0', exact: true })),
		await top(page.getByRole('group', { name: 'Heart-rate trace' })),
		await top(page.getByRole('heading', { name: /^The rests/ })),
		await top(page.getByRole('heading', { name: 'Round by round' })),
		await top(page.getByRole('heading', { name: 'Intensity' })),
		await top(page.getByText('More: energy and load')),
		await top(page.getByText('Conditions and corrections')),
		await top(page.getByRole('link', { name: 'Print or send' }))
	];
	expect(tops).toEqual([...tops].sort((a, b) => a - b));
	await expect(page.getByRole('region', { name: 'Round by round' }).getByRole('columnheader')).toHaveCount(7);
	const height = await page.evaluate(() => document.documentElement.scrollHeight);
	expect(height).toBeLessThan(2300);
});

/** What the page hands to the share sheet of a phone; it takes pictures and tables, and no JSON. */
async function stubSheet(page: Page, answer: 'taken' | 'refused' | 'closed') {
	await page.addInitScript((answer) => {
		const shared: string[] = [];
		Object.assign(globalThis, { shared });
		navigator.canShare = ({ files = [] } = {}) => files.every(({ type }) => type !== 'application/json');
		navigator.share = ({ files = [] } = {}) => {
			shared.push(...files.map(({ name, type }) => `${type} ${name}`));
			if (answer === 'refused') return Promise.reject(new DOMException('no press', 'NotAllowedError'));
			if (answer === 'closed') return Promise.reject(new DOMException('closed', 'AbortError'));
			return Promise.resolve();
		};
	}, answer);
}
const sharedOn = (page: Page) => page.evaluate(() => (globalThis as unknown as { shared: string[] }).shared);

test.describe('on a phone', () => {
	test.use({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });

	test('a table and the report go through the share sheet; what it does not take is saved', async ({
		page,
		corner
	}) => {
		await stubSheet(page, 'taken');
		await twoRounds(corner);
		await (await corner.file('CSV')).tap();
		await expect
			.poll(() => sharedOn(page))
			.toEqual([expect.stringMatching(/^text\/csv corner-minute-.*\.csv$/)]);
		const saving = page.waitForEvent('download');
		await (await corner.file('JSON')).tap();
		expect((await saving).suggestedFilename()).toMatch(/\.json$/);
		await page.getByRole('link', { name: 'Print or send' }).tap();
		await page.getByRole('button', { name: 'Save as PNG' }).tap();
		await expect(page.getByRole('status')).toHaveText('The picture is handed on.');
		expect((await sharedOn(page)).at(-1)).toMatch(/^image\/png corner-minute-.*\.png$/);
	});

	test('where the sheet refuses, the file is saved; where it is closed by hand, it is not', async ({
		page,
		corner
	}) => {
		await stubSheet(page, 'refused');
		await twoRounds(corner);
		const saving = page.waitForEvent('download');
		await (await corner.file('CSV')).tap();
		expect((await saving).suggestedFilename()).toMatch(/\.csv$/);

		let saved = 0;
		page.on('download', () => saved++);
		await stubSheet(page, 'closed');
		await page.reload();
		await (await corner.file('CSV')).tap();
		await expect.poll(() => sharedOn(page)).toHaveLength(1);
		// The next file comes after any that the closed sheet had let through.
		const next = page.waitForEvent('download');
		await (await corner.file('JSON')).tap();
		expect((await next).suggestedFilename()).toMatch(/\.json$/);
		expect(saved).toBe(1);
	});
});

test('at a desk a table is saved, whatever the browser could share', async ({ page, corner }) => {
	await stubSheet(page, 'taken');
	await twoRounds(corner);
	const saving = page.waitForEvent('download');
	await (await corner.file('CSV')).click();
	expect((await saving).suggestedFilename()).toMatch(/\.csv$/);
	expect(await sharedOn(page)).toEqual([]);
});

test('a review follows what another window writes of its session, and leaves what is typed here alone', async ({
	page,
	corner
}) => {
	await twoRounds(corner);
	const address = page.url();
	const second = await page.context().newPage();
	await second.goto(address);
	const note = (where: Page) => where.getByRole('textbox', { name: 'What the coach saw' });
	const saved = (where: Page) =>
		where.getByRole('region', { name: 'Effort and note' }).getByText('Saved.', { exact: true });
	await expect(note(second)).toBeVisible();

	await test.step('effort, title and what was done are shown here, and measured by', async () => {
		await second.getByRole('radio', { name: '7', exact: true }).check({ force: true });
		await expect(page.getByRole('radio', { name: '7', exact: true })).toBeChecked();
		await second.getByText('Conditions and corrections').click();
		await second.getByRole('textbox', { name: 'Title' }).fill('Bag in the evening');
		await second.getByRole('textbox', { name: 'Title' }).blur();
		await expect(page.locator('main > header')).toContainText('Bag in the evening');
	});

	await test.step('a note that is being typed stays, with what the other window wrote beside it', async () => {
		await note(page).pressSequentially('Hands dr');
		await note(second).fill('Left hand low.');
		await note(second).blur();
		await expect(page.getByText('Changed elsewhere meanwhile: “Left hand low.”')).toBeVisible();
		await expect(note(page)).toHaveValue('Hands dr');
		await note(page).pressSequentially('op in two.');
		await note(page).blur();
		await expect(saved(page)).toBeVisible();
		await expect(note(second)).toHaveValue('Hands drop in two.');
		await expect(page.getByText('Changed elsewhere meanwhile')).toHaveCount(0);
	});

	await test.step('the report that stands open follows, too', async () => {
		await second.getByRole('link', { name: 'Print or send' }).click();
		await expect(second.getByRole('article')).toContainText('Hands drop in two.');
		await note(page).fill('Hands drop in round two.');
		await note(page).blur();
		await expect(second.getByRole('article')).toContainText('Hands drop in round two.');
	});

	await test.step('deleted there, it stands here as it was and says so', async () => {
		await second.goto(address);
		await second.getByRole('button', { name: 'Delete', exact: true }).click();
		await second.getByRole('button', { name: 'Delete it' }).click();
		await expect(second).toHaveURL(/\/sessions\//);
		await expect(page.getByRole('alert')).toHaveText('This session was deleted. It stands here as it was.');
		await expect(note(page)).toHaveValue('Hands drop in round two.');
	});
});
