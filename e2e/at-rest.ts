import type { Page } from '@playwright/test';

/** Longer than any write takes; a page that is never at rest is left all the same, and one that never comes alive looked at. */
const mostMs = 15_000;

/**
 * Nobody leaves a page in the very frame in which they changed something, and a story that does would lose what is on
 * its way to the store whenever the machine is slow. So each page loaded anew, or left for another address, has first
 * written what it had begun to write, and fetched what it needed for that. Nor does anybody choose a file on
 * a page that has not come alive: the framework says so by the element in which it tells where the reader is.
 */
export async function leaveAtRest(page: Page): Promise<void> {
	const fetching = new Set<unknown>();
	page.on('request', (request) => fetching.add(request));
	for (const end of ['requestfinished', 'requestfailed'] as const)
		page.on(end as 'requestfinished', (request) => fetching.delete(request));
	await page.addInitScript(() => {
		const counted = window as unknown as { writesUnderWay: number };
		counted.writesUnderWay = 0;
		const { transaction } = IDBDatabase.prototype;
		IDBDatabase.prototype.transaction = function (...asked) {
			const made = transaction.apply(this, asked);
			if (made.mode === 'readonly') return made;
			counted.writesUnderWay++;
			for (const end of ['complete', 'abort']) made.addEventListener(end, () => counted.writesUnderWay--);
			return made;
		};
	});

	const isBusy = () =>
		page.evaluate(async () => {
			await new Promise((resolve) => setTimeout(() => requestIdleCallback(resolve, { timeout: 1000 })));
			return ((window as unknown as { writesUnderWay?: number }).writesUnderWay ?? 0) > 0;
		});
	const comeToRest = async () => {
		const untilMs = Date.now() + mostMs;
		for (let quiet = 0; quiet < 2 && Date.now() < untilMs;)
			quiet = (await isBusy()) || fetching.size > 0 ? 0 : quiet + 1;
	};
	const atRest =
		<Where extends unknown[], Answer>(leave: (...where: Where) => Promise<Answer>) =>
		async (...where: Where) => {
			await comeToRest();
			fetching.clear();
			const answer = await leave.apply(page, where);
			await page.waitForFunction(isAlive, null, { timeout: mostMs }).catch(() => {});
			return answer;
		};
	page.goto = atRest(page.goto);
	page.reload = atRest(page.reload);
}

function isAlive(): boolean {
	const isOurs = Array.from(document.scripts).some(({ text }) => text.includes('kit.start'));
	return !isOurs || document.querySelector('#svelte-announcer') !== null;
}
