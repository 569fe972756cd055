import { readFile } from 'node:fs/promises';
import type { Download, Locator } from '@playwright/test';
import Ajv2020 from 'ajv/dist/2020.js';
import type { Corner } from './corner';
import { expect, test } from './fixtures';

test.use({ isPutBy: true });

const schema = JSON.parse(
	await readFile(new URL('../static/session.schema.json', import.meta.url), 'utf8')
) as object;
const validate = new Ajv2020({ strict: true, strictRequired: false }).compile(schema);

const textOf = async (download: Download) => readFile(await download.path(), 'utf8');

/** Whether anything was drawn on the canvas of a picture. */
const hasInk = (picture: Locator) =>
	picture.locator('canvas').evaluate((canvas: HTMLCanvasElement) => {
		const { width, height } = canvas;
		return canvas
			.getContext('2d')!
			.getImageData(0, 0, width, height)
			.data.some((value) => value > 0);
	});

/** Three rounds of two minutes, sixty times as fast, from Start to the review that opens by itself. */
async function boxShadowRounds(corner: Corner) {
	await corner.page
		.getByRole('combobox', { name: 'Plan', exact: true })
		.selectOption({ label: 'Shadow boxing, 3 x 2' });
	await corner.practise('60 times as fast');
	await expect(corner.strap).toContainText('Simulated strap, 60 times as fast as real time, bell silent.');
	await corner.start();
	await expect(corner.page.getByText('simulated', { exact: true })).toBeVisible();
	await corner.inReview();
}

test('a first visit with the simulated strap ends in the review by itself, and the session is kept for good', async ({
	page,
	corner
}) => {
	await corner.open();
	await expect(page.getByRole('heading', { name: 'What is your threshold heart rate?' })).toBeVisible();
	await corner.answer({ birthYear: 1990 });
	await expect(page.getByText('Born 1990')).toBeVisible();
	await boxShadowRounds(corner);

	await test.step('the review: three rests, marked as practice', async () => {
		await expect(page.getByText(/Simulated: it stays out of progress\.$/)).toBeVisible();
		await expect(page.getByRole('rowheader')).toHaveText(['1', '2', '3']);
		for (const round of ['1', '2', '3']) {
			await expect(await corner.cell(round, 'Length')).toHaveText('2:00');
			await expect(await corner.cell(round, '1-minute drop')).toHaveText(/^-?\d+ ± \d+$/);
			await expect(await corner.cell(round, 'Verdict')).toContainText(
				/slower than gyms look for|what gyms look for|above the band/
			);
		}
		await expect(page.getByText(/Mean drop \d+ \(mean of 3 judged rests\)/)).toBeVisible();
		for (const picture of ['Heart rate over the session', 'Fall of the heart rate in each rest'])
			await expect.poll(() => hasInk(page.getByLabel(picture)), picture).toBe(true);
	});

	await test.step('title, note and effort outlive a reload', async () => {
		const saved = page.getByRole('region', { name: 'Effort and note' }).getByText('Saved.', { exact: true });
		await page.getByText('Conditions and corrections').click();
		await page.getByRole('textbox', { name: 'Title' }).fill('First evening');
		await page.getByRole('textbox', { name: 'Title' }).blur();
		await expect(page.locator('main > header')).toContainText('First evening');
		await page
			.getByRole('textbox', { name: 'What the coach saw' })
			.fill('Hands drop in round three, "again".');
		await page.getByRole('textbox', { name: 'What the coach saw' }).blur();
		await page.getByRole('radio', { name: '7' }).check({ force: true });
		await expect(saved).toBeVisible();
		await corner.reload();
		await expect(page.locator('main > header')).toContainText('First evening');
		await expect(page.getByRole('textbox', { name: 'What the coach saw' })).toHaveValue(
			'Hands drop in round three, "again".'
		);
		await expect(page.getByRole('radio', { name: '7' })).toBeChecked();
	});

	await test.step('exports: JSON after the published schema, CSV with a row a packet', async () => {
		let downloading = page.waitForEvent('download');
		await (await corner.file('JSON')).click();
		const json = await downloading;
		expect(json.suggestedFilename()).toMatch(/^corner-minute-[\d-]{16}-Me-\S+\.json$/);
		const exported = JSON.parse(await textOf(json)) as {
			head: { practice: boolean };
			readings: { bpm: number[] };
			edit: object;
		};
		validate(exported);
		expect(validate.errors).toBeNull();
		expect(exported.head.practice).toBe(true);
		expect(exported.edit).toEqual({
			title: 'First evening',
			note: 'Hands drop in round three, "again".',
			effort: 7
		});

		downloading = page.waitForEvent('download');
		await (await corner.file('CSV')).click();
		const csv = await downloading;
		expect(csv.suggestedFilename()).toMatch(/^corner-minute-[\d-]{16}-Me-\S+\.csv$/);
		const [header, ...rows] = (await textOf(csv)).trimEnd().split('\r\n');
		expect(header).toBe(
			'elapsed_s,phase,round,bpm,contact,rr_ms,phase_s,paused,activity,energy_kj,simulated'
		);
		expect(rows.every((row) => row.endsWith(',true'))).toBe(true);
		expect(rows.map((row) => Number(row.split(',')[3]))).toEqual(exported.readings.bpm);
		const rounds = rows.filter((row) => row.split(',')[1] === 'work').map((row) => row.split(',')[2]);
		expect([...new Set(rounds)]).toEqual(['1', '2', '3']);
	});

	await test.step('the list shows it, and deleting is asked first and can be undone', async () => {
		await corner.openSessions();
		const listed = page.getByRole('link', { name: /First evening/ });
		await expect(listed).toContainText('simulated');
		await expect(listed).toContainText('1-minute drop');
		await listed.click();
		await corner.inReview();

		const asked = page.getByRole('dialog', { name: 'Delete this session?' });
		await page.getByRole('button', { name: 'Delete', exact: true }).click();
		await asked.getByRole('button', { name: 'Cancel', exact: true }).click();
		await expect(asked).toBeHidden();
		await expect(page.locator('main > header')).toContainText('First evening');

		await page.getByRole('button', { name: 'Delete', exact: true }).click();
		await asked.getByRole('button', { name: 'Delete it' }).click();
		await expect(page.getByText('The session was deleted. It can be brought back for a day.')).toBeVisible();
		await expect(listed).toHaveCount(0);
		await page.getByRole('button', { name: 'Undo' }).click();
		await expect(listed).toBeVisible();
		await corner.reload();
		await expect(listed).toBeVisible();
	});
});

test('whoever skips the question still gets every drop, only no verdict, and is not asked again', async ({
	page,
	corner
}) => {
	await corner.open('skip');
	await boxShadowRounds(corner);

	for (const round of ['1', '2', '3']) {
		await expect(await corner.cell(round, '1-minute drop')).toHaveText(/^-?\d+ ± \d+$/);
		await expect(await corner.cell(round, 'Verdict')).toHaveText('not judged');
	}
	await expect(page.getByText('Add a threshold or a year of birth to judge this rest.')).toBeVisible();
	await expect(page.getByRole('columnheader', { name: 'Over threshold' })).toHaveCount(0);
	await expect(page.getByText(/^Add a threshold to see how much of the work/)).toBeVisible();

	await corner.open();
	await expect(page.getByRole('heading', { level: 1, name: 'Me' })).toBeVisible();
	await expect(page.getByRole('heading', { name: 'What is your threshold heart rate?' })).toHaveCount(0);
});
