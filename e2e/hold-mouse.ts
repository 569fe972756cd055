/** What the pages of both drivers have. */
interface Held {
	mouse: { down(): Promise<void>; up(): Promise<void> };
	evaluate(act: () => Promise<void>): Promise<void>;
}

/**
 * Presses what lies under the mouse as Finish wants it: half a second, and a little more. By the page's own clock, because
 * on a busy machine it hears of the press late and of its end at once. A page that reloads itself once the session is kept
 * may do so before the end of the hold is heard of.
 */
export async function holdMouse(page: Held): Promise<void> {
	await page.mouse.down();
	await page
		.evaluate(() => new Promise<void>((resolve) => setTimeout(resolve, 700)))
		.catch((problem: unknown) => {
			if (!String(problem).includes('Execution context was destroyed')) throw problem;
		});
	await page.mouse.up();
}
