import { readFile } from 'node:fs/promises';
import type { Page } from '@playwright/test';
import { copyKept } from './copies';
import { Corner } from './corner';
import { expect, test } from './fixtures';
import { pressAsSoon } from './press-soon';

const preview = (page: Page) => page.getByRole('table', { name: 'What restoring this backup would do' });
const fileField = (page: Page) => page.getByLabel('Backup file');

/** One short round with the simulated strap, which only has to be started. */
async function readyForOneRound(corner: Corner): Promise<void> {
	await corner.open();
	await corner.plan({ Rounds: 1, 'Round, seconds': 30, 'Rest, seconds': 10, 'Get ready, seconds': 5 });
	await corner.practise('60 times as fast');
}

/** A session that was trained, and copies of it. */
async function withManySessions(corner: Corner, page: Page, copies: number): Promise<void> {
	await readyForOneRound(corner);
	await corner.start();
	await corner.inReview();
	await copyKept(page, copies, 1);
}

/** Empties the page's whole database, as a browser does that clears its data. */
async function deleteEverything(page: Page): Promise<void> {
	await page.evaluate(
		() =>
			new Promise<void>((resolve, reject) => {
				const opening = indexedDB.open('corner-minute');
				opening.onerror = () => reject(opening.error);
				opening.onsuccess = () => {
					const clearing = opening.result.transaction('entries', 'readwrite');
					clearing.objectStore('entries').clear();
					clearing.onabort = () => reject(clearing.error);
					clearing.oncomplete = () => {
						opening.result.close();
						resolve();
					};
				};
			})
	);
}

/**
 * Serves the page with less to a file. What one holds in life, 120 million characters, would take a story many minutes to put
 * in, and the machine a gigabyte.
 */
async function withSmallFiles(page: Page, characters: number): Promise<() => number> {
	let replaced = 0;
	await page.route('**/*.js', async (route) => {
		// As a browser does where the server has just closed the connection that was kept open.
		const response = await route.fetch({ maxRetries: 3 });
		const script = await response.text();
		const body = script.replace('characters:12e7', () => {
			replaced++;
			return `characters:${characters}`;
		});
		await route.fulfill({ response, body });
	});
	return () => replaced;
}

/** The file that a press hands over. */
async function saved(page: Page, button: string): Promise<{ name: string; path: string }> {
	const arriving = page.waitForEvent('download');
	await page.getByRole('button', { name: button }).click();
	const file = await arriving;
	return { name: file.suggestedFilename(), path: await file.path() };
}

test('everything goes into one file, is deleted, comes back, and restoring it again changes nothing', async ({
	page,
	corner
}) => {
	await page.goto('/athletes/details/');
	await page.getByLabel('Name or alias', { exact: true }).fill('Odalys');
	await page.getByLabel('Name or alias', { exact: true }).press('Tab');
	await page.goto('/');
	await corner.plan({ Rounds: 1, 'Round, seconds': 30, 'Rest, seconds': 10, 'Get ready, seconds': 5 });
	await corner.practise('60 times as fast');
	await corner.start();
	await expect(page.getByRole('heading', { name: 'Round by round' })).toBeVisible();
	await corner.openSessions();
	const saved = await corner.saved();
	expect(saved).toHaveLength(1);

	await page.getByRole('link', { name: 'make or restore a backup' }).click();
	await expect(page.getByText('Last backup from this browser: never')).toBeVisible();
	const arriving = page.waitForEvent('download');
	await page.getByRole('button', { name: 'Save everything to a file' }).click();
	const file = await arriving;
	expect(file.suggestedFilename()).toMatch(/^corner-minute-backup-\d{4}-\d\d-\d\d\.json$/);
	const path = await file.path();
	expect(JSON.parse(await readFile(path, 'utf8'))).toMatchObject({
		format: 'corner-minute backup',
		version: 1
	});
	await expect(
		page.getByText('The file with 1 session and 1 athlete was handed to the browser.')
	).toBeVisible();
	await expect(page.getByText('Last backup from this browser: never')).toHaveCount(0);

	await deleteEverything(page);
	await page.goto('/sessions/');
	await expect(page.getByText('No session yet.')).toBeVisible();

	await page.goto('/settings/backup/');
	await fileField(page).setInputFiles({
		name: 'cut.json',
		mimeType: 'application/json',
		buffer: Buffer.from('{"x')
	});
	await expect(page.getByRole('alert')).toHaveText(/not JSON, or it was cut short/);
	await fileField(page).setInputFiles(path);
	await expect(preview(page).getByRole('row', { name: /^Sessions/ })).toHaveText(/Sessions\s*1\s*0\s*0/);
	await page.getByText('Added:', { exact: false }).first().click();
	await expect(page.getByRole('listitem').filter({ hasText: 'Odalys' }).first()).toBeVisible();
	// Nothing is written before it is confirmed.
	expect(await corner.saved()).toEqual([]);
	await page.getByRole('button', { name: 'Restore it' }).click();
	await expect(page.getByRole('status').filter({ hasText: 'Restored:' })).toBeVisible();

	await page.getByRole('link', { name: 'See the sessions' }).click();
	await expect(page.getByRole('main').getByRole('listitem')).toHaveCount(1);
	// A backup leaves the summaries out: the list takes them anew in its own time.
	await expect.poll(() => corner.saved()).toEqual(saved);
	await page.goto('/athletes/details/');
	await expect(page.getByLabel('Name or alias', { exact: true })).toHaveValue('Odalys');

	await page.goto('/settings/backup/');
	await fileField(page).setInputFiles(path);
	await expect(page.getByText('All of it is here already: there is nothing to restore.')).toBeVisible();
	await expect(page.getByRole('button', { name: 'Restore it' })).toHaveCount(0);
	expect(await corner.saved()).toEqual(saved);
});

test('a session that could not be kept is exported, and comes in again with a preview; a second time it is here already', async ({
	page,
	corner
}) => {
	await readyForOneRound(corner);
	// From here on the store takes nothing more, as on a disk that is full.
	await page.evaluate(() => {
		const refuse = () => {
			throw new DOMException('as on a full disk', 'QuotaExceededError');
		};
		IDBObjectStore.prototype.add = refuse;
		IDBObjectStore.prototype.put = refuse;
	});
	await corner.start();
	await expect(page.getByRole('heading', { name: 'The session could not be saved' })).toBeVisible();
	const arriving = page.waitForEvent('download');
	await page.getByRole('button', { name: 'Export JSON' }).click();
	const file = await arriving;
	expect(file.suggestedFilename()).toMatch(/^corner-minute-[\d-]{16}-\S+\.json$/);
	const path = await file.path();
	const readings = (JSON.parse(await readFile(path, 'utf8')) as { readings: { bpm: number[] } }).readings;

	// Loaded anew, the page has a store that works, and nothing in it.
	await page.goto('/settings/backup/');
	expect(await corner.saved()).toEqual([]);
	await fileField(page).setInputFiles(path);
	await expect(page.getByText('It is not here yet and would be added.')).toBeVisible();
	await expect(
		page.getByRole('definition').filter({ hasText: new RegExp(`^${readings.bpm.length}$`) })
	).toBeVisible();
	expect(await corner.saved()).toEqual([]);
	await page.getByRole('button', { name: 'Restore it' }).click();
	await expect(page.getByRole('status').filter({ hasText: 'Restored: 1 added' })).toBeVisible();
	const [kept] = await corner.saved();
	expect(kept!.packets.map(({ bpm }) => bpm)).toEqual(readings.bpm);

	await fileField(page).setInputFiles(path);
	await expect(page.getByText('This session is here already: there is nothing to bring in.')).toBeVisible();
	await expect(page.getByRole('button', { name: 'Restore it' })).toHaveCount(0);
});

test('no backup is restored while another tab records, and the page says what to do', async ({
	page,
	radio,
	corner
}) => {
	await corner.open('skip', { Rounds: 1, 'Round, seconds': 90, 'Get ready, seconds': 0 });
	const arriving = page.waitForEvent('download');
	await page.goto('/settings/backup/');
	await page.getByRole('button', { name: 'Save everything to a file' }).click();
	const path = await (await arriving).path();
	await deleteEverything(page);

	const recording = new Corner(await page.context().newPage(), radio);
	await recording.open();
	await recording.plan({ Rounds: 1, 'Round, seconds': 90, 'Get ready, seconds': 0 });
	await recording.practise();
	await recording.start();
	await page.bringToFront();
	await fileField(page).setInputFiles(path);
	await expect(
		page.getByText('Another tab is recording. Finish the session there, then restore.')
	).toBeVisible();
	const restoreIt = page.getByRole('button', { name: 'Restore it' });
	await expect(restoreIt).toBeDisabled();

	await recording.page.bringToFront();
	await recording.finish();
	await page.bringToFront();
	await expect(restoreIt).toBeEnabled();
	await expect(page.getByText('Another tab is recording.')).toHaveCount(0);
});

test('making, reading and restoring a backup of many sessions show how far they are; called off, nothing has changed', async ({
	page,
	corner
}) => {
	await withManySessions(corner, page, 199);
	await page.goto('/settings/backup/');
	const save = page.getByRole('button', { name: 'Save everything to a file' });
	await expect(save).toBeEnabled();
	let stopped = await pressAsSoon(page, 'Cancel');
	await save.click();
	expect(await stopped()).toBe('Making the backup.');
	await expect(page.getByText('No backup was made.')).toBeVisible();
	await expect(page.getByText('Last backup from this browser: never')).toBeVisible();
	const arriving = page.waitForEvent('download');
	await save.click();
	const path = await (await arriving).path();
	await expect(page.getByText('The file with 200 sessions')).toBeVisible();

	await deleteEverything(page);
	await page.goto('/settings/backup/');
	await expect(save).toBeEnabled();
	stopped = await pressAsSoon(page, 'Cancel');
	await fileField(page).setInputFiles(path);
	expect(await stopped()).toBe('Reading the file.');
	await expect(page.getByText('The file was not read to its end. Nothing was changed.')).toBeVisible();
	await expect(preview(page)).toHaveCount(0);

	await fileField(page).setInputFiles(path);
	await expect(preview(page).getByRole('row', { name: /^Sessions/ })).toHaveText(/Sessions\s*200\s*0\s*0/);
	stopped = await pressAsSoon(page, 'Cancel');
	await page.getByRole('button', { name: 'Restore it' }).click();
	expect(await stopped()).toBe('Restoring.');
	await expect(page.getByText('Nothing was restored: everything here is as it was.')).toBeVisible();
	expect(await corner.saved()).toEqual([]);

	await fileField(page).setInputFiles(path);
	await page.getByRole('button', { name: 'Restore it' }).click();
	await expect(page.getByRole('status').filter({ hasText: 'Restored: ' })).toBeVisible();
	expect(await corner.saved()).toHaveLength(200);
});

test('what one file cannot hold goes into parts, one a press; left off, what is missing is said; restored, all is back', async ({
	page,
	corner
}) => {
	await withManySessions(corner, page, 5);
	await page.goto('/settings/backup/');
	const whole = await saved(page, 'Save everything to a file');
	const { length } = await readFile(whole.path, 'utf8');
	const never = page.getByText('Last backup from this browser: never');
	await deleteEverything(page);
	await page.goto('/settings/backup/');
	await expect(never).toBeVisible();
	await fileField(page).setInputFiles(whole.path);
	await page.getByRole('button', { name: 'Restore it' }).click();
	await expect(page.getByRole('status').filter({ hasText: 'Restored: ' })).toBeVisible();
	const kept = await corner.saved();
	expect(kept).toHaveLength(6);

	const replaced = await withSmallFiles(page, Math.ceil(length * 0.6));
	await page.reload();
	const status = page.getByRole('status').filter({ hasText: /\S/ });
	await expect(never).toBeVisible();
	expect(replaced()).toBe(1);
	let first = await saved(page, 'Save everything to a file');
	expect(first.name).toMatch(/^corner-minute-backup-\d{4}-\d\d-\d\d-part-1\.json$/);
	await expect(status).toHaveText(
		/Part 1 was handed to the browser\. There is more here than one file holds\. Part 1 has \d sessions and 1 athlete\. \d sessions are still to come\./
	);
	await page.getByRole('button', { name: 'Leave off here' }).click();
	await expect(status).toHaveText(
		/^The backup is not whole\. \d sessions are in no file, since the parts from 2 on were not made\./
	);
	await expect(never).toBeVisible();

	first = await saved(page, 'Save everything to a file');
	const stopped = await pressAsSoon(page, 'Cancel');
	await page.getByRole('button', { name: 'Save part 2' }).click();
	expect(await stopped()).toBe('Making part 2.');
	await expect(status).toHaveText(/^Part 2 was not made\./);
	await expect(never).toBeVisible();
	const second = await saved(page, 'Save part 2');
	expect(second.name).toMatch(/-part-2\.json$/);
	await expect(status).toHaveText(/It is the last, and all is saved\. The 2 parts together have 6 sessions/);
	await expect(page.getByText('Last backup from this browser:')).toBeVisible();
	await expect(never).toHaveCount(0);
	await expect(page.getByRole('button', { name: 'Save everything to a file' })).toBeEnabled();

	await deleteEverything(page);
	await page.goto('/settings/backup/');
	await expect(never).toBeVisible();
	await fileField(page).setInputFiles(second.path);
	await expect(page.getByText('Part 2, the last.')).toBeVisible();
	await page.getByRole('button', { name: 'Restore it' }).click();
	await expect(status).toHaveText(/Choose part 1, too, unless you have done so before\./);
	await fileField(page).setInputFiles(first.path);
	await expect(page.getByText('Part 1, and there are more parts.')).toBeVisible();
	await page.getByRole('button', { name: 'Restore it' }).click();
	await expect(status).toHaveText(/All 2 parts of this backup are here now\./);
	// A backup leaves the summaries out: they are taken anew when somebody looks.
	const bare = (all: typeof kept) => all.map(({ head, packets }) => ({ head, packets }));
	expect(bare(await corner.saved())).toEqual(bare(kept));
});

test('an entry that cannot be read is named, stays, and can be exported as it lies', async ({
	page,
	corner
}) => {
	await page.goto('/sessions/');
	await expect(page.getByText('No session yet.')).toBeVisible();
	await page.evaluate(
		() =>
			new Promise<void>((resolve, reject) => {
				const opening = indexedDB.open('corner-minute');
				opening.onsuccess = () => {
					const writing = opening.result.transaction('entries', 'readwrite');
					writing.objectStore('entries').put({ head: { version: 9, id: 'later' } }, 'head/later');
					writing.oncomplete = () => resolve();
					writing.onabort = () => reject(writing.error);
				};
				opening.onerror = () => reject(opening.error);
			})
	);
	await page.reload();
	await expect(page.getByText(/\(head\/later\) cannot be read .* newer version/)).toBeVisible();
	const arriving = page.waitForEvent('download');
	await page.getByRole('button', { name: 'Export it as it lies' }).click();
	const text = await readFile(await (await arriving).path(), 'utf8');
	expect(JSON.parse(text)).toMatchObject({
		entries: [
			['head/later', { head: { version: 9 } }],
			['body/later', null]
		]
	});
	await expect(page.getByText(/\(head\/later\) cannot be read/)).toBeVisible();
	await corner.open();
});

test('the page says whether the browser promised to keep everything, and asks for it', async ({ page }) => {
	await page.addInitScript(() => {
		let granted = false;
		navigator.storage.persisted = () => Promise.resolve(granted);
		navigator.storage.persist = () => Promise.resolve((granted = true));
	});
	await page.goto('/settings/');
	await expect(page.getByText(/^Not promised/)).toBeVisible();
	await page.getByRole('button', { name: 'Ask the browser to keep it' }).click();
	await expect(page.getByText(/^Yes: the browser has promised/)).toBeVisible();
});
