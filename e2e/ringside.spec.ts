import type { Page } from '@playwright/test';
import { Corner } from './corner';
import { expect, test } from './fixtures';
import { packet } from './packets';
import { Squad } from './squad';

const plan = { Rounds: 3, 'Round, seconds': 60, 'Get ready, seconds': 0 };

async function openRingside(corner: Corner): Promise<Page> {
	const opening = corner.page.waitForEvent('popup');
	await (await corner.more('Open ring-side screen')).click();
	const window = await opening;
	await expect(window.getByRole('timer')).toBeVisible();
	return window;
}

/** What stands on both screens at one moment; the clock is read again where a second turned in between. */
async function expectSame(first: Page, second: Page) {
	await expect
		.poll(async () => {
			const clocks = await Promise.all([first, second].map((page) => page.getByRole('timer').textContent()));
			return clocks[0]!.trim() === clocks[1]!.trim();
		})
		.toBe(true);
}

test('a second window shows the same figures, comes back after a reload, and the hidden first one goes on recording', async ({
	page,
	radio,
	corner,
	squad
}) => {
	const red = await radio.addStrap({ address: '02:00:00:00:00:81', name: 'Chest strap red' });
	await corner.open({ threshold: 170 }, plan);
	await squad.add(2, 'Odalys');
	await squad.pair(1, red);
	await squad.practise(2);
	await corner.start();
	red.stream((second) => packet({ bpm: 140 + (second % 7) }));
	await expect(squad.reading(1, 'Heart rate')).toHaveText(/^14\d$/);

	const window = await openRingside(corner);
	const ringside = new Squad(new Corner(window, radio), radio);
	await test.step('the same figures, and no controls', async () => {
		await expect(window.getByRole('region', { name: 'Clock' })).toContainText('Round 1 of 3');
		await expect(ringside.reading(1, 'Heart rate')).toHaveText(/^14\d$/);
		await expect(ringside.reading(2, 'Heart rate')).toHaveText(/^\d+$/);
		await expectSame(page, window);
		await expect(window.getByRole('button')).toHaveCount(0);
		await expect(window.getByRole('link')).toHaveCount(0);
	});

	await test.step('a pause and a corner that leaves are seen at once', async () => {
		await corner.button('Pause').click();
		await expect(window.getByRole('region', { name: 'Clock' })).toContainText('paused');
		await expectSame(page, window);
		await corner.button('Resume').click();
		await expect(window.getByRole('region', { name: 'Clock' })).not.toContainText('paused');
	});

	// What a window before it does to a page: no frames, and the news that it is hidden.
	await page.evaluate(() => {
		globalThis.requestAnimationFrame = () => 0;
		Object.defineProperty(document, 'visibilityState', { value: 'hidden' });
		Object.defineProperty(document, 'hidden', { value: true });
		document.dispatchEvent(new Event('visibilitychange'));
	});

	await test.step('a reload finds its way back by asking', async () => {
		await window.reload();
		await expect(window.getByRole('region', { name: 'Clock' })).toContainText('Round 1 of 3');
		await expect(ringside.reading(1, 'Heart rate')).toHaveText(/^14\d$/);
		await expectSame(page, window);
	});

	const before = red.delivered.length;
	await test.step('closing it disturbs nothing', async () => {
		await window.close();
		await expect.poll(() => red.delivered.length).toBeGreaterThan(before + 5);
	});

	await page.keyboard.press('ArrowRight');
	await expect(corner.clock).toContainText('Rest after round 1');
	await corner.finish();
	const kept = await corner.saved();
	const mine = kept.find(({ head }) => head.strapName === 'Chest strap red')!;
	expect(mine.head.events).toEqual([]);
	expect(mine.packets.map(({ bpm }) => bpm)).toEqual(
		red.delivered.slice(0, mine.packets.length).map(({ bytes }) => bytes[1])
	);
	expect(mine.packets.length).toBeGreaterThan(before + 3);
	// All that was sent until the end was kept, but for a packet on the way.
	expect(red.delivered.length - mine.packets.length).toBeLessThanOrEqual(3);
});

test('one corner fills the second window, which waits for the session and outlives it', async ({
	page,
	corner
}) => {
	await corner.open({ threshold: 170 }, { ...plan, Rounds: 1, 'Round, seconds': 240 });
	const window = await page.context().newPage();
	await window.goto('/ringside/');
	await expect(window.getByText('as soon as one runs in another window')).toBeVisible();

	await corner.practise('12 times as fast');
	await corner.start();
	const size = { width: 1920, height: 1080 };
	await window.setViewportSize(size);
	await expect(window.getByRole('region', { name: 'Clock' })).toContainText('Round 1 of 1');
	await expect(window.getByLabel('Heart rate', { exact: true })).toHaveText(/^\d+$/);
	for (const name of ['Rest drop', 'Over threshold', 'Heart rate'])
		await expect(window.getByLabel(name, { exact: true })).toBeInViewport({ ratio: 1 });
	await expect(window.getByRole('region', { name: 'Clock' })).toContainText('The last minute');
	await corner.inReview();
	await expect(window.getByText('as soon as one runs in another window')).toBeVisible();
});

test('with a second screen the window fills that one, once the reason has been said', async ({
	page,
	corner
}) => {
	await page.addInitScript(() => {
		const laptop = { availLeft: 0, availTop: 0, availWidth: 1366, availHeight: 728 };
		const hall = { availLeft: 1366, availTop: 0, availWidth: 1280, availHeight: 720 };
		const { query } = Permissions.prototype;
		let state = 'prompt';
		Permissions.prototype.query = function (of) {
			return String(of.name) === 'window-management'
				? Promise.resolve({ state } as PermissionStatus)
				: query.call(this, of);
		};
		Object.defineProperty(Screen.prototype, 'isExtended', { get: () => true });
		const opened: string[] = [];
		const { open } = globalThis;
		Object.assign(window, {
			opened,
			getScreenDetails: () => {
				state = 'granted';
				return Promise.resolve({ screens: [laptop, hall], currentScreen: laptop });
			},
			open: (url: string, name: string, features: string) => {
				opened.push(features);
				return open.call(globalThis, url, name, features);
			}
		});
	});
	const opened = () => page.evaluate(() => (window as unknown as { opened: string[] }).opened);
	await corner.begin('skip', plan);
	await (await corner.more('Open ring-side screen')).click();
	await expect(page.getByText('The browser will ask whether this page may see your screens.')).toBeVisible();
	expect(await opened()).toEqual([]);

	const opening = page.waitForEvent('popup');
	await page.getByRole('button', { name: 'Ask', exact: true }).click();
	const window = await opening;
	await expect(window.getByRole('timer')).toBeVisible();
	expect(await opened()).toEqual(['popup,left=1366,top=0,width=1280,height=720']);
	await expect(page.getByText('The browser will ask')).toHaveCount(0);
	await window.close();

	const again = page.waitForEvent('popup');
	await (await corner.more('Open ring-side screen')).click();
	await again;
	expect(await opened()).toHaveLength(2);
});
