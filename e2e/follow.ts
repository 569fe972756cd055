import type { Page } from '@playwright/test';

/** Goes to another screen as by a link on this one: the page is not loaded anew, which costs a second of processor time. */
export async function follow(page: Page, path: string): Promise<void> {
	await page.evaluate((path) => {
		const link = document.createElement('a');
		link.href = path;
		// The framework hears clicks within the page alone.
		document.querySelector('main')?.append(link);
		link.click();
		link.remove();
	}, path);
	await page.waitForURL((url) => url.pathname === path);
}
