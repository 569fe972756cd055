import { readFile } from 'node:fs/promises';
import type { Page } from '@playwright/test';
import type { Corner } from './corner';
import { entriesIn } from './entries';
import { expect, test } from './fixtures';
import { packet } from './packets';

type FileName = Parameters<Corner['file']>[0];

/** Presses a file of the session that stands open, and answers its name and text. */
async function exported(page: Page, corner: Corner, name: FileName) {
	const button = await corner.file(name);
	const arriving = page.waitForEvent('download');
	await button.click();
	const download = await arriving;
	await expect(page.getByRole('dialog')).toHaveCount(0);
	return { fileName: download.suggestedFilename(), text: await readFile(await download.path(), 'utf8') };
}

/** Chooses a file in the import. */
async function bringIn(page: Page, name: string, text: string) {
	// A page that is not alive yet would miss the choice.
	await page.goto('/settings/import/', { waitUntil: 'networkidle' });
	await page
		.getByLabel('CSV file or RR text')
		.setInputFiles({ name, mimeType: 'text/plain', buffer: Buffer.from(text) });
}

const drops = async (corner: Corner) => {
	const cells = await Promise.all(['1', '2'].map((round) => corner.cell(round, '1-minute drop')));
	return Promise.all(cells.map((cell) => cell.textContent()));
};

test('a simulated session goes out as a table and comes back as the same rounds, still simulated', async ({
	page,
	corner
}) => {
	await corner.open();
	await corner.answer({ threshold: 150 });
	await corner.plan({ Rounds: 2, 'Round, seconds': 60, 'Rest, seconds': 60, 'Get ready, seconds': 5 });
	await corner.practise('60 times as fast');
	await corner.start();
	await corner.inReview();
	const before = await drops(corner);
	expect(before).toEqual([expect.stringMatching(/\d/), expect.stringMatching(/\d/)]);

	await test.step('each file is told, and none goes to a doctor', async () => {
		const doctors = await corner.file('FHIR');
		await expect(doctors).toBeDisabled();
		const list = page.getByRole('dialog', { name: 'Export this session' });
		await expect(list).toContainText('Heart rate is health data.');
		await expect(list).toContainText('This session is simulated, and each file says so.');
		await expect(list).toContainText('it does not belong in a doctor’s system');
		await expect(list.getByRole('listitem').first()).toContainText('For a spreadsheet.');
		const arriving = page.waitForEvent('download');
		await list.getByRole('link', { name: 'its columns as a Table Schema' }).click();
		const schema = JSON.parse(await readFile(await (await arriving).path(), 'utf8')) as {
			fields: { name: string }[];
		};
		await page.keyboard.press('Escape');
		const { text } = await exported(page, corner, 'CSV');
		expect(text.split('\r\n')[0]!.split(',')).toEqual(schema.fields.map(({ name }) => name));
	});

	const rr = await exported(page, corner, 'RR text');
	expect(rr.fileName).toMatch(/^corner-minute-[\d-]{16}-[a-z\d]{7}\.rr\.txt$/);
	expect(rr.text).toMatch(/^# simulated/);
	const study = await exported(page, corner, 'Open mHealth');
	expect(study.fileName).not.toContain('-Me-');
	expect(study.text).toContain('no heart was measured');

	await test.step('the table comes back', async () => {
		const { fileName, text } = await exported(page, corner, 'CSV');
		await bringIn(page, fileName, text);
		const recognised = page.getByRole('region', { name: 'Recognised' });
		await expect(recognised).toContainText('a session of Corner Minute');
		await expect(recognised).toContainText('yes, and so it stays');
		await expect(page.getByRole('radio', { name: 'Rounds' })).toBeChecked();
		await expect(page.getByRole('status')).toContainText('Simulated');
		await page.getByRole('checkbox', { name: 'This is the right file.' }).check();
		await page.getByRole('button', { name: 'Save this session' }).click();
		await corner.inReview();
		expect(await drops(corner)).toEqual(before);
		const [first, second] = await corner.saved();
		expect(second!.packets).toEqual(first!.packets);
		expect(second!.head.practice).toBe(true);
		// To the minute that the name of the file tells.
		expect(second!.head.startedAt.slice(0, 16)).toBe(first!.head.startedAt.slice(0, 16));
	});

	await test.step('a table that was spoilt is refused with its line', async () => {
		const { fileName, text } = await exported(page, corner, 'CSV');
		const spoilt = text
			.split('\r\n')
			.map((row, i) => (i === 4 ? `x${row}` : row))
			.join('\r\n');
		await bringIn(page, fileName, spoilt);
		await expect(page.getByRole('alert')).toHaveText(
			/^Line 5: "x.*" is no time in seconds .* Nothing was brought in: correct the file and choose it again\.$/
		);
	});
});

test('what a strap sent goes to a doctor as a bundle of one named patient, with the fixed values of the profile', async ({
	page,
	radio,
	corner
}) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:41', name: 'Chest strap A' });
	await corner.open();
	await corner.answer('skip');
	await corner.plan({ Rounds: 1, 'Round, seconds': 60, 'Get ready, seconds': 0 });
	await corner.pair(strap);
	await corner.start();
	strap.stream(() => packet({ bpm: 150 }));
	await corner.clockDownTo('0:54');
	await expect(corner.heartRate).toHaveText('150');
	await corner.finish();

	await expect(await corner.file('RR text')).toBeDisabled();
	await expect(page.getByRole('dialog')).toContainText('The strap sent no RR intervals.');
	await page.keyboard.press('Escape');
	const { fileName, text } = await exported(page, corner, 'FHIR');
	expect(fileName).toMatch(/^corner-minute-.*-Me-.*\.fhir\.json$/);
	const bundle = JSON.parse(text) as { type: string; entry: { resource: object }[] };
	expect(bundle.type).toBe('collection');
	const [patient, ...observations] = bundle.entry.map(({ resource }) => resource);
	expect(patient).toEqual({ resourceType: 'Patient', name: [{ text: 'Me' }] });
	// http://hl7.org/fhir/R4/heartrate.html
	expect(observations).toEqual([
		expect.objectContaining({
			resourceType: 'Observation',
			valueQuantity: { value: 150, unit: 'beats/minute', system: 'http://unitsofmeasure.org', code: '/min' }
		})
	]);
});

test('RR intervals from elsewhere give a resting rate', async ({ page, corner }) => {
	await corner.open();
	// Six minutes at a beat a second.
	await bringIn(page, 'morning.txt', Array.from({ length: 360 }, () => '1000').join('\n'));
	await expect(page.getByRole('region', { name: 'Recognised' })).toContainText('360');
	await expect(page.getByRole('radio', { name: 'Five quiet minutes at rest' })).toBeChecked();
	await expect(page.getByRole('status')).toHaveText('Resting rate 60: the lowest minute, sitting.');
	await page.getByRole('radio', { name: 'Lying' }).check();
	await expect(page.getByRole('status')).toHaveText('Resting rate 60: the lowest minute, lying.');
	await page.getByRole('checkbox', { name: 'This is the right file.' }).check();
	await page.getByRole('button', { name: 'Save this measurement' }).click();
	await expect(page.getByRole('region', { name: 'Result' })).toContainText('60');
});

test('the table of the register leaves out who is invented, and says so', async ({ page, corner }) => {
	await corner.open();
	await corner.answer({ birthYear: 1990 });
	await page.goto('/athletes/details/');
	await page.getByRole('textbox', { name: 'Name or alias of the new athlete' }).fill('Odalys');
	await page.getByRole('button', { name: 'Add', exact: true }).click();
	await expect.poll(async () => (await cardsIn(page)).length).toBe(2);
	const [card] = (await cardsIn(page)).filter(([, { name }]) => name === 'Odalys');
	const today = await page.evaluate(() => {
		const now = new Date();
		return new Date(now.getTime() - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
	});
	const register = `day,athlete,minutes,activity,effort\r\n${today},Me,60,pads,6\r\n${today},Odalys,45,bag,5\r\n`;
	await page.goto('/squad/csv/', { waitUntil: 'networkidle' });
	await page
		.getByLabel('CSV file')
		.setInputFiles({ name: 'register.csv', mimeType: 'text/csv', buffer: Buffer.from(register) });
	await page.getByRole('button', { name: 'Take in 2 rows' }).click();
	await expect(page.getByText('2 rows were taken in.')).toBeVisible();
	await put(page, card![0], { ...card![1], example: true });
	await page.reload();
	const arriving = page.waitForEvent('download');
	await page.getByRole('button', { name: 'Write everything as CSV' }).click();
	expect(await readFile(await (await arriving).path(), 'utf8')).toBe(
		`day,athlete,minutes,activity,effort\r\n${today},Me,60,pads,6\r\n`
	);
	await expect(page.getByText('One row was written. The invented athletes are left out.')).toBeVisible();
});

const cardsIn = async (page: Page) =>
	(await entriesIn(page)).filter(([key]) => key.startsWith('athlete/')) as [string, { name: string }][];

const put = (page: Page, key: string, value: object) =>
	page.evaluate(
		([key, value]) =>
			new Promise<void>((resolve, reject) => {
				const opening = indexedDB.open('corner-minute');
				opening.onerror = () => reject(new Error('The database could not be opened.'));
				opening.onsuccess = () => {
					const writing = opening.result.transaction('entries', 'readwrite');
					writing.objectStore('entries').put(value, key);
					writing.oncomplete = () => {
						opening.result.close();
						resolve();
					};
				};
			}),
		[key, value] as const
	);
