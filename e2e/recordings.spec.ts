import { expect, test } from './fixtures';

// A run that was recorded elsewhere: five minutes at 120, then 20 at 160 to 172, then five at 130. By hand: the
// mean of 160, 164, 168 and 172 in equal parts is 166, less 5 % 157.7 (common practice, no source).
const rateAt = (s: number) => (s < 300 ? 120 : s < 1500 ? 160 + 4 * Math.floor((s - 300) / 300) : 130);
const rows = (write: (s: number, bpm: number) => string) =>
	Array.from({ length: 1801 }, (_, s) => write(s, rateAt(s)));
const two = (value: number) => String(value).padStart(2, '0');
const clock = (s: number) => `${Math.floor(s / 3600)}:${two(Math.floor(s / 60) % 60)}:${two(s % 60)}`;
const instant = (s: number) => new Date(Date.UTC(2026, 2, 2, 17, 0, s)).toISOString();
const german = (s: number) => `02.03.2026 ${instant(s).slice(11, 19)}`;

const good: Record<string, string> = {
	'seconds, commas': ['time,heart_rate', ...rows((s, bpm) => `${s},${bpm}`)].join('\n'),
	'semicolons, decimal commas': ['Zeit;Puls', ...rows((s, bpm) => `${s},0;${bpm},0`)].join('\r\n'),
	'tabs, clock, other columns': [
		'Distance\tElapsed time\tHeart rate (bpm)',
		...rows((s, bpm) => `${s * 3}\t${clock(s)}\t${bpm}`)
	].join('\n'),
	'dates and zone, quotes': [
		'"timestamp","note","hr"',
		...rows((s, bpm) => `"${instant(s).replace('.000', '')}","easy, then not",${bpm}`)
	].join('\n'),
	'day first, byte-order mark': ['\uFEFFTime;BPM', ...rows((s, bpm) => `${german(s)};${bpm}`)].join('\n'),
	'no header, bars, minutes': rows((s, bpm) => `${Math.floor(s / 60)}:${two(s % 60)}|${bpm}`).join('\n')
};

const broken: Record<string, [text: string, sentence: string]> = {
	'a word for a rate': [
		['time,bpm', '0,120', '1,fast', '2,121'].join('\n'),
		'Line 3: "fast" is no heart rate in beats a minute. Nothing was brought in: correct the file and choose it again.'
	],
	'time that goes back': [
		['time;bpm', '10;120', '11;121', '5;122'].join('\n'),
		'Line 4: the time goes back. Rows must stand in order. Nothing was brought in: correct the file and choose it again.'
	],
	'no column for the rate': [
		['time,power', '0,200', '1,210'].join('\n'),
		'Line 1 names no column for the heart rate: time, power. Nothing was brought in: correct the file and choose it again.'
	]
};

test('six differently written recordings come out as the same threshold', async ({ page, corner }) => {
	await corner.open();
	for (const [name, text] of Object.entries(good)) {
		await page.goto('/settings/import/');
		await page
			.getByLabel('CSV file')
			.setInputFiles({ name: `${name}.csv`, mimeType: 'text/csv', buffer: Buffer.from(text) });
		await expect(page.getByRole('region', { name: 'Recognised' })).toContainText('1801');
		await page.getByRole('slider').fill('300');
		await expect(page.getByText('Mean 166, less 5 % 158 beats a minute.'), name).toBeVisible();
		await expect(page.getByRole('button', { name: 'Save this run' })).toBeDisabled();
		await page.getByRole('checkbox', { name: /right columns/ }).check();
		await page.getByRole('button', { name: 'Save this run' }).click();
		await expect(page.getByRole('region', { name: 'Result' })).toContainText('158');
	}
	expect(await corner.saved()).toHaveLength(6);
});

test('three broken recordings are refused with a sentence, and nothing of them is kept', async ({
	page,
	corner
}) => {
	await page.goto('/settings/import/');
	for (const [name, [text, sentence]] of Object.entries(broken)) {
		await page
			.getByLabel('CSV file')
			.setInputFiles({ name: `${name}.csv`, mimeType: 'text/csv', buffer: Buffer.from(text) });
		await expect(page.getByRole('alert')).toHaveText(sentence);
		await expect(page.getByRole('button', { name: 'Save this run' })).toHaveCount(0);
	}
	expect(await corner.saved()).toHaveLength(0);
});

test('on a full disk every press of the review that writes says that it was not done', async ({ page }) => {
	await page.goto('/settings/import/');
	await page
		.getByLabel('CSV file')
		.setInputFiles({ name: 'run.csv', mimeType: 'text/csv', buffer: Buffer.from(good['seconds, commas']!) });
	await page.getByRole('checkbox', { name: /right columns/ }).check();
	await page.getByRole('button', { name: 'Save this run' }).click();
	const result = page.getByRole('region', { name: 'Result' });
	const emptied = result.getByRole('button', { name: 'No, I was emptied' });
	await expect(emptied).toBeVisible();
	const put = await page.evaluateHandle(() => Reflect.get(IDBObjectStore.prototype, 'put') as unknown);
	const fill = () =>
		page.evaluate(() => {
			IDBObjectStore.prototype.put = () => {
				throw new DOMException('as on a full disk', 'QuotaExceededError');
			};
		});
	const refusal = /^Not done\. The disk, .* is full\.$/;

	await fill();
	await emptied.click();
	await expect(result.getByRole('alert')).toHaveText(refusal);
	await expect(emptied).toHaveAttribute('aria-pressed', 'false');
	const gaps = page.getByRole('region', { name: 'What was not known that day' });
	const tell = async () => {
		await gaps.getByText('Threshold gives the time over it and near it', { exact: true }).click();
		await gaps.getByRole('textbox', { name: 'Threshold, beats a minute' }).fill('160');
		await gaps.getByRole('button', { name: 'Save', exact: true }).click();
	};
	await tell();
	await expect(gaps.getByRole('alert')).toHaveText(refusal);
	await page.getByRole('button', { name: 'Delete', exact: true }).click();
	await page.getByRole('button', { name: 'Delete it' }).click();
	await expect(page.locator('.actions').getByRole('alert')).toHaveText(refusal);

	await page.evaluate((whole) => Reflect.set(IDBObjectStore.prototype, 'put', whole), put);
	await emptied.click();
	await expect(emptied).toHaveAttribute('aria-pressed', 'true');
	await expect(result.getByRole('alert')).toHaveCount(0);
	await gaps.getByRole('button', { name: 'Save', exact: true }).click();
	await expect(gaps.getByText(/^Told afterwards and counted here: threshold 160/)).toBeVisible();
	await expect(gaps.getByRole('alert')).toHaveCount(0);
	await fill();
	await gaps.getByRole('button', { name: 'Take it out again' }).click();
	await expect(gaps.getByRole('alert')).toHaveText(refusal);
	// A card is shown as changed at once, so what was not kept of it is told on every screen.
	await result.getByRole('button', { name: /^Use .* the 20-minute mean$/ }).click();
	await expect(page.getByText(/^This browser refuses to write: what was changed of .* lasts/)).toBeVisible();
});

test.describe('west of Greenwich', () => {
	test.use({ timezoneId: 'America/New_York' });

	test('a run of the evening stays on its day and at its hour', async ({ page, corner }) => {
		await page.goto('/settings/import/');
		// Eight in the evening of 2 March, five hours behind UTC.
		const evening = (s: number) => new Date(Date.UTC(2026, 2, 3, 1, 0, s)).toISOString();
		const text = ['time,bpm', ...rows((s, bpm) => `${evening(s)},${bpm}`)].join('\n');
		await page
			.getByLabel('CSV file')
			.setInputFiles({ name: 'evening.csv', mimeType: 'text/csv', buffer: Buffer.from(text) });
		await expect(page.getByLabel('Day it was recorded')).toHaveValue('2026-03-02');
		await page.getByRole('checkbox', { name: /right columns/ }).check();
		await page.getByRole('button', { name: 'Save this run' }).click();
		await expect(page.getByRole('region', { name: 'Result' })).toBeVisible();
		const [saved] = await corner.saved();
		expect(saved!.head.startedAt).toBe('2026-03-03T01:00:00.000Z');
	});
});

test('where two columns may be the heart the page asks, and shows the one that was chosen', async ({
	page,
	corner
}) => {
	await corner.open();
	await page.goto('/settings/import/');
	const text = ['Time,Pulse,Heart rate', ...rows((s, bpm) => `${s},99,${bpm}`)].join('\n');
	await page
		.getByLabel('CSV file')
		.setInputFiles({ name: 'two.csv', mimeType: 'text/csv', buffer: Buffer.from(text) });
	const question = page.getByLabel('More than one column may be the heart rate.');
	await expect(question).toBeVisible();
	await expect(page.getByRole('region', { name: 'Recognised' })).toHaveCount(0);
	await question.selectOption('Heart rate');
	await expect(page.getByRole('region', { name: 'Recognised' })).toContainText('Heart rate');
	await page.getByRole('slider').fill('300');
	await expect(page.getByText('Mean 166, less 5 % 158 beats a minute.')).toBeVisible();
});
