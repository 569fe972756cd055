/** What the pages of both drivers have. */
interface Held {
	mouse: { down(): Promise<void>; up(): Promise<void> };
	evaluate(act: () => Promise<void>): Promise<void>;
}

/**
 * Presses what lies under the mouse as Finish wants it: half a second, and a little more. By the page's own clock, because
 * on a busy machine it hears of the press late and of its end at once.
 */
export async function holdMouse(page: Held): Promise<void> {
	await page.mouse.down();
	await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 700)));
	await page.mouse.up();
}
