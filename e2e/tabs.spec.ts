import { Corner } from './corner';
import { expect, test } from './fixtures';

const plan = { Rounds: 1, 'Round, seconds': 90, 'Get ready, seconds': 0 };
const elsewhere = 'Another tab is recording. One at a time.';

test('a second tab says that another records, watches it without a hand on it, and is free when it ends', async ({
	page,
	radio,
	corner
}) => {
	await corner.open('skip');
	const second = new Corner(await page.context().newPage(), radio);
	await second.open();
	await second.practise();
	await expect(second.button('Start')).toBeEnabled();

	await corner.plan(plan);
	await corner.practise();
	await corner.start();
	await test.step('a tab that was open before', async () => {
		await expect(second.page.getByText(elsewhere)).toBeVisible();
		await expect(second.button('Start')).toBeDisabled();
	});
	await test.step('a tab that is opened now', async () => {
		await second.open();
		await expect(second.page.getByText(elsewhere)).toBeVisible();
		await expect(second.unfinished).toContainText('Another tab is recording');
		for (const name of ['Go on', 'Save it as it is', 'Discard it'] as const)
			await expect(second.button(name)).toHaveCount(0);
	});

	await second.page.getByRole('link', { name: 'Watch it' }).click();
	await expect(second.page.getByText('Watching.')).toBeVisible();
	await expect(second.clock).toContainText('Round 1 of 1');
	await expect(second.heartRate).toHaveText(/^\d+$/);
	await expect(second.page.getByRole('group', { name: 'Controls' })).toHaveCount(0);

	await test.step('keys do nothing there; a pause here is seen there', async () => {
		await second.page.keyboard.press('Space');
		await second.page.keyboard.press('ArrowRight');
		await expect(corner.clock).toContainText('Round 1 of 1');
		await expect(corner.clock).not.toContainText('paused');
		await corner.button('Pause').click();
		await expect(second.clock).toContainText('paused');
		await expect(second.timeLeft).toHaveText((await corner.timeLeft.textContent())!);
		await corner.button('Resume').click();
		await expect(second.clock).not.toContainText('paused');
	});

	await corner.finish();
	await expect(second.page.getByText('No session is running in this page.')).toBeVisible();
	await second.page.getByRole('link', { name: 'Back to Train' }).click();
	await second.practise();
	await expect(second.button('Start')).toBeEnabled();
	await expect(second.unfinished).toHaveCount(0);
	expect(await second.saved()).toHaveLength(1);
});

test('a tab that records and dies leaves its session to the other, which goes on with it', async ({
	page,
	radio,
	corner
}) => {
	const second = new Corner(await page.context().newPage(), radio);
	await corner.begin('skip', plan);
	await corner.clockDownTo('1:26');
	await second.open();
	await expect(second.unfinished).toContainText('Another tab is recording');

	await page.close();
	await expect(second.unfinished).toContainText('A session was left unfinished');
	await second.button('Go on').click();
	await expect(second.clock).toContainText('Round 1 of 1');

	const third = new Corner(await second.page.context().newPage(), radio);
	await third.open();
	await expect(third.unfinished).toContainText('Another tab is recording');
	await second.finish();
	await expect(third.unfinished).toHaveCount(0);
});

test('where the browser has neither locks nor channels a session runs as ever', async ({ page, corner }) => {
	await page.addInitScript(() => {
		Object.defineProperty(navigator, 'locks', { value: undefined });
		Object.defineProperty(window, 'BroadcastChannel', { value: undefined });
	});
	await corner.begin('skip', plan);
	await corner.clockDownTo('1:27');
	await corner.finish();
	expect(await corner.saved()).toHaveLength(1);
});
