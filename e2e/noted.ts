import { expect, type Page } from '@playwright/test';

/**
 * Has the page itself note which of these words have stood on it: sped up, they may be gone before a busy machine asks.
 * The answer waits until all have, from now on.
 */
export async function noteWords(page: Page, ...words: RegExp[]): Promise<() => Promise<void>> {
	const missing = await page.evaluateHandle(
		(sources) => {
			const missing = new Set(sources);
			const look = () => {
				const text = document.body.textContent ?? '';
				for (const source of missing) if (new RegExp(source).test(text)) missing.delete(source);
			};
			new MutationObserver(look).observe(document.body, {
				subtree: true,
				childList: true,
				characterData: true
			});
			return missing;
		},
		words.map(({ source }) => source)
	);
	return () => expect.poll(() => missing.evaluate((missing) => [...missing])).toEqual([]);
}
