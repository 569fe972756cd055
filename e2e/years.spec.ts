import type { Page } from '@playwright/test';
import { expect, test } from './fixtures';

/** Copies the one kept session, a day earlier each time, as a strap's and without what was measured of it. */
async function copyKept(page: Page, count: number): Promise<void> {
	await page.evaluate(
		(count) =>
			new Promise<void>((resolve, reject) => {
				const opening = indexedDB.open('corner-minute');
				opening.onerror = () => reject(new Error('The database could not be opened.'));
				opening.onsuccess = () => {
					const writing = opening.result.transaction('entries', 'readwrite');
					const entries = writing.objectStore('entries');
					const heads = entries.getAll(IDBKeyRange.bound('head/', 'head/z'));
					const bodies = entries.getAll(IDBKeyRange.bound('body/', 'body/z'));
					bodies.onsuccess = () => {
						const [{ head }] = heads.result as [{ head: { startedAt: string } }];
						for (let i = 1; i <= count; i++) {
							const startedAt = new Date(Date.parse(head.startedAt) - i * 86_400_000).toISOString();
							entries.put(
								{ head: { ...head, id: `copy-${i}`, practice: false, startedAt } },
								`head/copy-${i}`
							);
							entries.put(bodies.result[0], `body/copy-${i}`);
						}
					};
					writing.oncomplete = () => {
						opening.result.close();
						resolve();
					};
					writing.onabort = () => reject(new Error(String(writing.error)));
				};
			}),
		count
	);
}

test('a long history shows its newest sessions first, and what lacks its figures gets them meanwhile', async ({
	page,
	corner
}) => {
	await corner.open();
	await corner.plan({ Rounds: 1, 'Round, seconds': 60, 'Rest, seconds': 10, 'Get ready, seconds': 5 });
	await corner.practise('60 times as fast');
	await corner.start();
	await corner.inReview(30_000);
	await copyKept(page, 119);

	await corner.openSessions();
	const rows = page.getByRole('main').getByRole('listitem');
	await expect(rows).toHaveCount(50);
	await expect(rows.getByText('beats in the minute')).toHaveCount(50, { timeout: 30_000 });
	await page.getByRole('button', { name: 'Show older ones (50 of 120 are shown)' }).click();
	await expect(rows).toHaveCount(100);
	await expect(rows.getByText('beats in the minute')).toHaveCount(100, { timeout: 30_000 });
	await page.getByRole('button', { name: 'Show older ones (100 of 120 are shown)' }).click();
	await expect(rows).toHaveCount(120);
	await expect(page.getByRole('button', { name: /Show older/ })).toHaveCount(0);

	await page.getByRole('link', { name: 'Progress', exact: true }).click();
	await expect(page.getByRole('group', { name: 'Drop at 60, 119 measurements' })).toBeVisible({
		timeout: 30_000
	});
	await expect(page.getByRole('progressbar')).toHaveCount(0, { timeout: 30_000 });
	// As many as cannot be told apart: one is picked at a time, the latest at first.
	const picked = page.getByRole('group', { name: 'Drop at 60, 119 measurements' }).getByRole('link');
	await expect(picked).toHaveCount(1);
	const latest = await picked.getAttribute('href');
	await picked.focus();
	await page.keyboard.press('ArrowLeft');
	await expect(picked).not.toHaveAttribute('href', latest!);
	const before = await picked.getAttribute('href');
	await page.keyboard.press('End');
	await expect(picked).toHaveAttribute('href', latest!);
	await page.keyboard.press('ArrowLeft');
	await page.keyboard.press('Enter');
	await expect(page).toHaveURL(new RegExp(`${before}$`));
	const kept = await corner.saved();
	expect(kept.filter(({ summary }) => summary?.rounds[0]?.rest?.drop60 === undefined)).toEqual([]);
});
