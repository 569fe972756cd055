import type { Page } from '@playwright/test';

/** Copies the one kept session, so many days earlier each time, as a strap's and without what was measured of it. */
export async function copyKept(page: Page, count: number, everyDays: number): Promise<void> {
	await page.evaluate(
		({ count, everyDays }) =>
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
							const startedAt = new Date(
								Date.parse(head.startedAt) - i * everyDays * 86_400_000
							).toISOString();
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
		{ count, everyDays }
	);
}
