import { expect, test } from './fixtures';

/** The page's own audio, counted: sounds whose moment has come, however early they were ordered. */
const startedIn = (page: import('@playwright/test').Page) =>
	page.evaluate(() => (window as unknown as { started: number }).started);

test('a lane that cannot be drawn says so alone: the bell rings on, the others go on, and one press brings it back', async ({
	page,
	corner,
	squad
}) => {
	await page.addInitScript(() => {
		const state = { isBroken: false, heard: [] as (() => boolean)[] };
		const { start } = AudioBufferSourceNode.prototype;
		AudioBufferSourceNode.prototype.start = function (...times) {
			const [atS = 0] = times;
			state.heard.push(() => this.context.currentTime >= atS);
			start.apply(this, times);
		};
		const { setAttribute } = Element.prototype;
		SVGElement.prototype.setAttribute = function (name, value) {
			if (state.isBroken && this.closest('[aria-label^="Boxer 2, "]')) throw new Error('no pen');
			setAttribute.call(this, name, value);
		};
		Object.defineProperties(window, {
			started: { get: () => state.heard.filter((isHeard) => isHeard()).length },
			isBroken: { set: (isBroken: boolean) => (state.isBroken = isBroken) }
		});
	});
	const breakIt = (isBroken: boolean) =>
		page.evaluate((isBroken) => Object.assign(window, { isBroken }), isBroken).then(() => undefined);

	await corner.open({ threshold: 150 }, { Rounds: 1, 'Round, seconds': 45, 'Get ready, seconds': 0 });
	await squad.add(2, 'Odalys');
	for (const number of [1, 2]) await squad.practise(number);
	await corner.start();
	for (const number of [1, 2]) await expect(squad.reading(number, 'Heart rate')).toHaveText(/^\d+$/);

	await breakIt(true);
	await expect(
		page.getByText('The lane of Odalys cannot be drawn. The bell and the recording go on.')
	).toBeVisible();
	await expect(squad.lane(2)).toHaveCount(0);
	const before = { left: await corner.timeLeft.textContent(), sounds: await startedIn(page) };
	await expect(corner.timeLeft).not.toHaveText(before.left!);
	await expect(squad.reading(1, 'Heart rate')).toHaveText(/^\d+$/);
	await expect(corner.clock).toContainText('The last minute', { timeout: 120_000 });
	expect(await startedIn(page), 'the clapper or the bell since').toBeGreaterThan(before.sounds);
	await expect(page.getByText('The lane of Odalys cannot be drawn.')).toBeVisible();

	await breakIt(false);
	await page.getByRole('button', { name: 'Draw it again' }).click();
	await expect(squad.reading(2, 'Heart rate')).toHaveText(/^\d+$/);
	await corner.holdFinish();
	await corner.inReview();
	const kept = await corner.saved();
	expect(kept.map(({ head }) => head.athlete.name).sort()).toEqual(['Me', 'Odalys']);
	for (const { packets } of kept) expect(packets.length).toBeGreaterThan(20);
});
