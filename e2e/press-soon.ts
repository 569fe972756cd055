import { expect, type Page } from '@playwright/test';

/**
 * Has the page itself press a button in the moment in which it appears, so that no work is too quick to be called
 * off. The answer waits for the press, and for what stood beside the button then.
 */
export async function pressAsSoon(page: Page, name: string): Promise<() => Promise<string>> {
	const pressed = await page.evaluateHandle((name) => {
		const pressed: { beside?: string } = {};
		const look = new MutationObserver(() => {
			const button = [...document.querySelectorAll('button')].find((one) => one.textContent?.trim() === name);
			if (!button) return;
			look.disconnect();
			const bar = button.parentElement?.querySelector('progress');
			pressed.beside = bar ? (bar.closest('label')?.textContent?.trim() ?? '') : 'no progress bar';
			button.click();
		});
		look.observe(document.body, { childList: true, subtree: true });
		return pressed;
	}, name);
	return async () => {
		await expect.poll(() => pressed.evaluate(({ beside }) => beside)).toEqual(expect.any(String));
		return (await pressed.evaluate(({ beside }) => beside))!;
	};
}
