import { readFile } from 'node:fs/promises';
import type { Page } from '@playwright/test';
import { expect, test } from './fixtures';

const plan = { Rounds: 1, 'Round, seconds': 60, 'Get ready, seconds': 0 };

/** Presses a button that hands the browser a file, and answers what is in it. */
async function exported(page: Page, button: string): Promise<string> {
	const arriving = page.waitForEvent('download');
	await page.getByRole('button', { name: button, exact: true }).click();
	return readFile(await (await arriving).path(), 'utf8');
}

/**
 * Another tab holds a transaction open, and with it up everything that would write; the answer ends it. A worker does so,
 * because it may stand still between two requests: a page would keep a processor busy.
 */
async function holdStore(other: Page): Promise<() => Promise<void>> {
	await other.goto('/help/methods/');
	await other.evaluate((holding) => {
		const worker = new Worker(URL.createObjectURL(new Blob([holding])));
		return new Promise<unknown>((resolve, reject) => {
			worker.onmessage = resolve;
			worker.onerror = ({ message }) => reject(new Error(message));
		});
	}, holding);
	return () => other.close();
}

const holding = `
	const still = new Int32Array(new WebAssembly.Memory({ initial: 1, maximum: 1, shared: true }).buffer);
	const opening = indexedDB.open('corner-minute');
	opening.onsuccess = () => {
		const entries = opening.result.transaction('entries', 'readwrite').objectStore('entries');
		const goOn = () => {
			postMessage('held');
			Atomics.wait(still, 0, 0, 50);
			entries.count('').onsuccess = goOn;
		};
		entries.count('').onsuccess = goOn;
	};
`;

test('on a full disk the session goes on in memory, can be exported at once, and is kept when there is room', async ({
	page,
	baseURL,
	corner
}) => {
	await corner.begin('skip', { ...plan, 'Round, seconds': 90 });
	await expect(corner.heartRate).toHaveText(/^\d+$/);
	await expect(page.getByRole('alert')).toHaveCount(0);

	const cdp = await page.context().newCDPSession(page);
	const origin = new URL(baseURL!).origin;
	await cdp.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 1 });
	// Chromium looks at the room that is left every half minute.
	await expect(page.getByRole('alert')).toContainText('is full. The session goes on in memory', {
		timeout: 45_000
	});
	const left = await corner.timeLeft.textContent();
	await expect(corner.timeLeft).not.toHaveText(left!);
	await expect(corner.heartRate).toHaveText(/^\d+$/);

	const soFar = JSON.parse(await exported(page, 'Export so far as JSON')) as {
		format: string;
		readings: { bpm: number[] };
	};
	expect(soFar.format).toBe('corner-minute session');
	expect(soFar.readings.bpm.length).toBeGreaterThan(2);
	await page.getByRole('button', { name: 'More', exact: true }).click();
	expect(await exported(page, 'Export so far as CSV')).toMatch(
		/^elapsed_s,phase,round,bpm,contact,rr_ms,phase_s,[a-z_,]*simulated\r\n-?\d/
	);

	await corner.holdFinish();
	await corner.holdFinish();
	await expect(page.getByRole('heading', { name: 'The session could not be saved' })).toBeVisible();
	await expect(page.getByRole('alert')).toContainText('is full. The session is still in memory');
	const whole = JSON.parse(await exported(page, 'Export JSON')) as typeof soFar;
	expect(whole.readings.bpm.slice(0, soFar.readings.bpm.length)).toEqual(soFar.readings.bpm);
	await page.getByRole('button', { name: 'Try to save it again' }).click();
	await expect(page.getByRole('heading', { name: 'The session could not be saved' })).toBeVisible();

	await cdp.send('Storage.overrideQuotaForOrigin', { origin });
	await page.getByRole('button', { name: 'Try to save it again' }).click();
	await corner.inReview();
	const [session] = await corner.saved();
	expect(session!.packets.map(({ bpm }) => bpm)).toEqual(whole.readings.bpm);
});

test('of a store that does not answer the page says so, offers what it has, and keeps the session once it answers', async ({
	page,
	corner
}) => {
	await corner.begin('skip', { ...plan, 'Round, seconds': 90 });
	await expect(corner.heartRate).toHaveText(/^\d+$/);
	const letGo = await holdStore(await page.context().newPage());
	await page.bringToFront();
	await expect(page.getByRole('alert')).toContainText('does not answer. The session goes on in memory');
	const soFar = JSON.parse(await exported(page, 'Export so far as JSON')) as {
		readings: { bpm: number[] };
	};
	expect(soFar.readings.bpm.length).toBeGreaterThan(4);

	await corner.holdFinish();
	await corner.holdFinish();
	await expect(page.getByRole('heading', { name: 'The session could not be saved' })).toBeVisible();
	await expect(page.getByRole('alert')).toContainText('does not answer. The session is still in memory');
	const whole = JSON.parse(await exported(page, 'Export JSON')) as typeof soFar;
	await letGo();
	await corner.inReview();
	const [session] = await corner.saved();
	expect(session!.packets.map(({ bpm }) => bpm)).toEqual(whole.readings.bpm);
});

test('"Saved." is said of what is kept, never of what is on its way', async ({ page, context }) => {
	await page.goto('/athletes/details/');
	const name = page.getByLabel('Name or alias', { exact: true });
	await expect(name).toHaveValue('Me');
	const letGo = await holdStore(await context.newPage());
	await name.fill('Odalys');
	await name.press('Tab');
	await expect(page.getByText('Saving.', { exact: true })).toBeVisible();
	await expect(page.getByText('Saved.', { exact: true })).toHaveCount(0);
	await letGo();
	await expect(page.getByText('Saved.', { exact: true })).toBeVisible();
	await page.reload();
	await expect(name).toHaveValue('Odalys');
});

test('a setting that the store refuses is told where it was chosen, until one is kept', async ({ page }) => {
	await page.addInitScript(() => {
		const { put } = IDBObjectStore.prototype;
		IDBObjectStore.prototype.put = function (...asked) {
			if (sessionStorage.getItem('is full'))
				throw new DOMException('as on a full disk', 'QuotaExceededError');
			return put.apply(this, asked);
		};
	});
	const isFull = (full: boolean) =>
		page.evaluate((full) => sessionStorage.setItem('is full', full ? 'yes' : ''), full);
	const refused = page.getByRole('alert').filter({ hasText: 'refuses to keep anything' });
	await page.goto('/settings/');
	await isFull(true);
	await page.getByText('Pounds, stone, feet and inches').click();
	await expect(refused).toBeVisible();
	await isFull(false);
	await page.getByText('Kilograms and centimetres').click();
	await expect(refused).toHaveCount(0);

	await page.goto('/athletes/tests/');
	const weeks = page.getByLabel('Suggest a new threshold run after so many weeks');
	await isFull(true);
	await weeks.fill('10');
	await weeks.blur();
	await expect(refused).toBeVisible();
	await isFull(false);
	await weeks.fill('12');
	await weeks.blur();
	await expect(refused).toHaveCount(0);
	await page.reload();
	await expect(weeks).toHaveValue('12');
});

test('without any storage the page says so from the start, and a session runs and can be exported', async ({
	page,
	corner
}) => {
	await page.addInitScript(() => {
		IDBFactory.prototype.open = () => {
			throw new DOMException('as in a window that keeps nothing', 'SecurityError');
		};
	});
	await corner.open();
	const note = page.getByRole('region', { name: 'Nothing can be kept in this browser' });
	await expect(note).toContainText('gives the page no storage');
	await expect(note).toContainText('export each session at its end');
	await corner.answer('skip');
	await corner.plan(plan);
	await corner.practise();
	await corner.start();
	await expect(page.getByRole('alert')).toContainText('gives the page no storage (a private window');
	await expect(corner.heartRate).toHaveText(/^\d+$/);
	await page.getByRole('button', { name: 'More', exact: true }).click();
	expect(await exported(page, 'Export so far as CSV')).toContain('elapsed_s');
	await corner.clockDownTo('0:55');

	await corner.holdFinish();
	await corner.holdFinish();
	await expect(page.getByRole('heading', { name: 'The session could not be saved' })).toBeVisible();
	const csv = await exported(page, 'Export CSV');
	expect(csv.split('\r\n').length).toBeGreaterThan(3);

	for (const [path, words] of [
		['/sessions/', 'no session can be listed'],
		['/review/#any', 'no session can be read'],
		['/settings/backup/', 'there is nothing to back up here'],
		['/athletes/', ''],
		['/athletes/progress/', ''],
		['/athletes/weight/', '']
	] as const) {
		await page.goto(path);
		await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
		if (words) await expect(page.getByRole('alert')).toContainText(words);
	}
});

test('a session whose data the browser clears in the middle is written anew, and survives a reload whole', async ({
	page,
	baseURL,
	corner
}) => {
	await corner.begin('skip', plan);
	await corner.clockDownTo('0:55');
	const cdp = await page.context().newCDPSession(page);
	await cdp.send('Storage.clearDataForOrigin', {
		origin: new URL(baseURL!).origin,
		storageTypes: 'indexeddb'
	});
	await corner.clockDownTo('0:51');
	await expect(page.getByRole('alert')).toHaveCount(0);

	await corner.reload();
	await corner.open();
	await corner.button('Save it as it is').click();
	await corner.inReview();
	const [session] = await corner.saved();
	expect(session!.packets[0]!.ms, 'the packets from before').toBeLessThan(2000);
	expect(session!.packets.length).toBeGreaterThan(6);
});

test('a damaged session and one of a newer version are named and can be taken away raw; the others are unharmed', async ({
	page,
	corner
}) => {
	await corner.begin('skip', { ...plan, Rounds: 2 }, '60 times as fast');
	await corner.inReview();
	const [sound] = await corner.saved();
	await page.evaluate(async (id) => {
		const done = <T>(request: IDBRequest<T>) =>
			new Promise<T>((resolve, reject) => {
				request.onsuccess = () => resolve(request.result);
				request.onerror = () => reject(request.error);
			});
		const database = await done(indexedDB.open('corner-minute'));
		const entries = database.transaction('entries', 'readwrite').objectStore('entries');
		const { head } = (await done(entries.get(`head/${id}`))) as { head: object };
		const body = (await done(entries.get(`body/${id}`))) as object;
		await done(entries.put({ head: { ...head, id: 'damaged' } }, 'head/damaged'));
		await done(entries.put({ ...body, bpm: 'gone' }, 'body/damaged'));
		await done(entries.put({ head: { ...head, id: 'newer', version: 99 } }, 'head/newer'));
		await done(entries.put(body, 'body/newer'));
		database.close();
	}, sound!.head.id);

	await page.goto('/sessions/');
	await expect(page.getByText(/\(head\/newer\) cannot be read .* newer version/)).toBeVisible();
	// The damaged one is still listed: only its readings cannot be read.
	await expect(page.getByRole('main').getByRole('listitem')).toHaveCount(2);

	for (const id of ['damaged', 'newer']) {
		await page.goto(`/review/#${id}`);
		await expect(page.getByRole('alert')).toBeVisible();
		const raw = await exported(page, 'Export it as it lies');
		expect(JSON.parse(raw)).toMatchObject({
			entries: [
				[`head/${id}`, { head: { id } }],
				[`body/${id}`, {}]
			]
		});
	}
	await page.goto(`/review/#${sound!.head.id}`);
	await corner.inReview();
	expect((await corner.saved()).map(({ head }) => head.id).sort()).toEqual(
		[sound!.head.id, 'damaged', 'newer'].sort()
	);
});
