import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { address, keysIn, openPage, withContext } from './page';
import { atMostOf, type Row } from './table';

/** Own rule: what somebody waits for beside the page, once in a while. */
const mostS = 1200;

/**
 * A backup of all that `page` keeps, part by part as its reader would make it, and brought back in another browser, the last
 * part first.
 *
 * @param sessions how many it keeps
 */
export async function gymBackupRows(page: Page, sessions: number): Promise<Row[]> {
	const folder = await mkdtemp(join(tmpdir(), 'corner-minute-'));
	try {
		let startMs = performance.now();
		const parts = await saveParts(page, folder);
		const madeS = (performance.now() - startMs) / 1000;
		const sizes = await Promise.all(parts.map(async (path) => (await stat(path)).size / 1e6));
		const row = atMostOf('Backup');
		return await withContext(async (context) => {
			const other = await openPage(context);
			other.setDefaultTimeout(mostS * 1000);
			await other.goto(`${address}settings/backup/`);
			startMs = performance.now();
			for (const path of parts.toReversed()) await restore(other, path);
			const restoredS = (performance.now() - startMs) / 1000;
			const all = `${sessions.toLocaleString('en')} sessions of an hour and as many days of 60 athletes`;
			const files = `${parts.length} parts, the largest ${Math.max(...sizes).toFixed(0)} MB`;
			return [
				row(`${all} saved`, madeS, mostS, 's', files),
				row('the same restored in another browser', restoredS, mostS, 's'),
				row('sessions of it that are not there then', sessions - (await keysIn(other, 'head/')).length, 0, '')
			];
		});
	} finally {
		await rm(folder, { recursive: true, force: true });
	}
}

/** The files, in their order. */
async function saveParts(page: Page, folder: string): Promise<string[]> {
	page.setDefaultTimeout(mostS * 1000);
	await page.goto(`${address}settings/backup/`);
	const status = page.getByRole('status');
	const whole = status.filter({ hasText: /all is saved|The file with/ });
	const paths: string[] = [];
	for (let number = 1; paths.length === 0 || !(await whole.isVisible()); number++) {
		const press = number === 1 ? 'Save everything to a file' : `Save part ${number}`;
		const saving = page.waitForEvent('download');
		await page.getByRole('button', { name: press, exact: true }).click();
		const path = join(folder, `part-${number}.json`);
		await (await saving).saveAs(path);
		paths.push(path);
		await whole.or(page.getByRole('button', { name: `Save part ${number + 1}`, exact: true })).waitFor();
	}
	return paths;
}

async function restore(page: Page, path: string): Promise<void> {
	const done = page.getByRole('status').filter({ hasText: /Restored: / });
	await page.getByLabel('Backup file').setInputFiles(path);
	await page.getByRole('button', { name: 'Restore it' }).click();
	await done.waitFor();
}
