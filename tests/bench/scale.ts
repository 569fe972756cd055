import 'fake-indexeddb/auto';
import type { Page } from '@playwright/test';
import { framesOf } from '../../e2e/frames';
import { measureCorners, measureTurns } from './corners';
import { measureFolder, measureYears } from './folder';
import { openPage, withContext } from './page';
import { yearsInBrowser } from './own-database';
import type { Row } from './table';

const corners = [1, 4, 8];
const watchedS = 10;
/** The first visit, which nobody measures, takes a database on disk some minutes for more. */
const aYearInBrowser = 5000;

/** One, four and eight corners with every RR interval: the work for a packet, and what the screen still paints. */
export async function cornersRows(): Promise<Row[]> {
	// The first run is the compiler's.
	measureCorners(8, { seconds: 300 });
	const rows: Row[] = corners.map((count) => {
		const cost = measureCorners(count, { seconds: 1800 });
		return {
			row: `Corners: work for a packet with ${count}`,
			measured: cost.meanUs / 1000,
			limit: 1,
			kind: 'most',
			unit: 'ms',
			note: `99th percentile ${(cost.p99Us / 1000).toFixed(3)} ms; in the last tenth ${(cost.lastTenthUs / 1000).toFixed(3)} ms`
		};
	});
	const byTurns = measureTurns();
	rows.push({
		row: `Corners: work for a packet with ${byTurns.corners} by turns`,
		measured: byTurns.meanUs / 1000,
		limit: 1,
		kind: 'most',
		unit: 'ms',
		note: `an hour, 8 straps handed over ${byTurns.handedOver} times; 99th percentile ${(byTurns.p99Us / 1000).toFixed(3)} ms; in the last tenth ${(byTurns.lastTenthUs / 1000).toFixed(3)} ms`
	});
	for (const count of corners) {
		const { perSecond, longestMs } = await withContext(async (context) => {
			const page = await openPage(context);
			await box(page, count);
			return framesOf(page, watchedS);
		});
		rows.push({
			row: `Corners: frames a second with ${count}`,
			measured: perSecond,
			limit: 50,
			kind: 'least',
			unit: '',
			note: `longest wait ${longestMs.toFixed(0)} ms; limit own rule`
		});
	}
	return rows;
}

/** A shared folder with very many sessions, of which few are new. */
export async function folderRows(): Promise<Row[]> {
	const { files, listMs, visitMs, fresh, opened } = await measureFolder();
	const ofYears = await measureYears();
	const inBrowser = await yearsInBrowser(aYearInBrowser);
	const due = ofYears.listed.filter((path) => path.startsWith('files/')).length;
	return [
		{
			row: `Folder: names of ${files.toLocaleString('en')} session files listed`,
			measured: listMs,
			limit: 2000,
			kind: 'most',
			unit: 'ms',
			note: `in memory; the whole visit ${(visitMs / 1000).toFixed(1)} s`
		},
		{
			row: `Folder: files opened beyond the ${fresh} new ones`,
			measured: opened - fresh,
			limit: 0,
			kind: 'most',
			unit: ''
		},
		{
			row: `Folder: a visit to ${ofYears.files.toLocaleString('en')} files of ${ofYears.years} years, but for the database`,
			measured: ofYears.visitMs - ofYears.databaseMs,
			limit: 2000,
			kind: 'most',
			unit: 'ms',
			note: `${due} years listed; the database, in memory, ${(ofYears.databaseMs / 1000).toFixed(1)} s more`
		},
		{
			row: `Folder: a visit to ${inBrowser.files.toLocaleString('en')} files of ${inBrowser.years} years in a browser over its own database`,
			measured: inBrowser.visitMs,
			limit: 2000,
			kind: 'most',
			unit: 'ms',
			note: `the database ${(inBrowser.databaseMs / 1000).toFixed(1)} s of it; the folder in memory`
		},
		{
			row: `Folder: files opened there beyond the ${ofYears.fresh} new ones`,
			measured: ofYears.opened - ofYears.fresh,
			limit: 0,
			kind: 'most',
			unit: ''
		}
	];
}

/** Starts a session of so many practice straps at the pace of life, and waits for the first round. */
async function box(page: Page, count: number): Promise<void> {
	if (count === 1) await page.getByRole('button', { name: 'Use simulated strap' }).click();
	for (let number = 2; number <= count; number++) {
		await page.getByRole('button', { name: 'Add a boxer' }).click();
		const place = page.getByRole('group', { name: `Boxer ${number}`, exact: true });
		await place.getByRole('combobox', { name: 'Athlete' }).selectOption('Somebody new');
		await place.getByRole('textbox', { name: 'Name or alias' }).fill(`Corner ${number}`);
		await place.getByRole('button', { name: 'Add', exact: true }).click();
	}
	for (let number = 1; count > 1 && number <= count; number++)
		await page
			.getByRole('group', { name: `Boxer ${number}`, exact: true })
			.getByRole('button', { name: 'Use simulated strap' })
			.click();
	const start = page.getByRole('button', { name: 'Start', exact: true });
	await start.and(page.locator(':enabled')).click({ timeout: 30_000 });
	await page.getByRole('timer').waitFor();
	await page.getByRole('button', { name: 'Next', exact: true }).click();
}
