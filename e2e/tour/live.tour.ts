import { expect, test } from '../fixtures';
import { packet } from '../packets';
import { longName, take, takeForColourVision } from './take';

/** A heart that rises through a round of a minute and falls in the rest. */
function heartAt(s: number): number {
	const inTurn = s % 120;
	return Math.round(
		inTurn < 60 ? Math.min(176, 120 + inTurn * 1.6) : 176 - 52 * (1 - Math.exp(-(inTurn - 60) / 40))
	);
}

test('one corner, from Start to the review', async ({ page, radio, corner }) => {
	const strap = await radio.addStrap({
		address: '02:00:00:00:00:01',
		name: 'Chest strap with a long name 4711'
	});
	await page.goto('/athletes/details/');
	await page.getByLabel('Name or alias', { exact: true }).fill(longName);
	await page.getByLabel('Name or alias', { exact: true }).press('Tab');
	await corner.open(
		{ threshold: 165 },
		{
			Rounds: 3,
			'Round, seconds': 60,
			'Rest, seconds': 60,
			'Get ready, seconds': 20,
			'Cool-down, seconds': 60
		}
	);
	await corner.pair(strap);
	strap.stream(() => packet({ bpm: 96, contact: true, rr1024: [640] }));
	await expect(corner.button('Start')).toBeEnabled();
	await corner.start();
	const startMs = Date.now();
	strap.stream(() =>
		packet({ bpm: heartAt((Date.now() - startMs) / 1000 - 20 + 120), contact: true, rr1024: [400] })
	);
	await page.waitForTimeout(1500);
	await take(page, '30-get-ready', 'window');
	await expect(corner.clock).toContainText('Round 1 of 3', { timeout: 30_000 });
	await expect(corner.timeLeft).toHaveText('0:40', { timeout: 30_000 });
	await take(page, '31-work-under', 'window');
	await expect(page.locator('.rate.over')).toBeVisible({ timeout: 60_000 });
	await take(page, '32-work-over', 'window');
	await takeForColourVision(page, '32-work-over');
	await expect(corner.clock).toContainText('Rest after round 1', { timeout: 60_000 });
	await expect(corner.timeLeft).toHaveText('0:50');
	await take(page, '33-rest-early', 'window');
	await expect(corner.timeLeft).toHaveText('0:20', { timeout: 60_000 });
	await take(page, '34-rest-late');
	await takeForColourVision(page, '34-rest-late');
	await expect(corner.clock).toContainText('Round 2 of 3', { timeout: 60_000 });
	await page.waitForTimeout(1000);
	await take(page, '35-work-after-rest');
	await strap.silence();
	await page.waitForTimeout(5000);
	await take(page, '36-signal-lost', 'window');
	strap.stream(() =>
		packet({ bpm: heartAt((Date.now() - startMs) / 1000 - 20 + 120), contact: true, rr1024: [400] })
	);
	await page.keyboard.press('?');
	await expect(page.getByRole('dialog', { name: 'Keyboard shortcuts' })).toBeVisible();
	await take(page, '37-keys', 'window');
	await page.keyboard.press('Escape');
	await corner.button('Pause').click();
	await take(page, '38-paused', 'window');
	await corner.button('Resume').click();
	await page.setViewportSize({ width: 390, height: 844 });
	await page.getByRole('button', { name: 'More', exact: true }).click();
	await page.screenshot({ path: 'test-results/tour/38-more-phone-dark.png' });
	await page.getByRole('button', { name: 'More', exact: true }).click();
	await page.setViewportSize({ width: 1366, height: 768 });
	await page.keyboard.down('q');
	await expect(page.getByText('Keep holding')).toBeVisible();
	await page.screenshot({ path: 'test-results/tour/39-keep-holding-laptop-dark.png' });
	await page.keyboard.up('q');
	await corner.holdFinish();
	await expect(corner.clock).toContainText('The last minute');
	await page.waitForTimeout(6000);
	await take(page, '40-last-minute', 'window');
	await corner.holdFinish();
	await corner.inReview();
	await take(page, '41-review-first');
	await takeForColourVision(page, '41-review-first');
	await page.getByRole('button', { name: 'Delete', exact: true }).click();
	await take(page, '42-review-delete', 'window');
	await page.keyboard.press('Escape');
	await page.getByRole('link', { name: 'Print or send' }).click();
	await expect(page.getByRole('article')).toBeVisible();
	await take(page, '43-report-short');
});

test('nothing known of the athlete, and a strap that leaves', async ({ page, radio, corner }) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:01', name: 'Chest strap A' });
	await corner.open('skip', { Rounds: 1, 'Round, seconds': 30, 'Get ready, seconds': 0 });
	await corner.pair(strap);
	await corner.start();
	await page.waitForTimeout(1200);
	await take(page, '44-no-beat-yet', 'window');
	strap.stream(() => packet({ bpm: 141 }));
	await expect(corner.heartRate).toHaveText('141');
	await take(page, '45-work-no-threshold', 'window');
	await corner.reload();
	await page.getByRole('link', { name: 'Back to Train' }).click();
	await expect(corner.unfinished).toBeVisible();
	await take(page, '46-unfinished');
	await corner.button('Go on').click();
	await expect(page.getByRole('timer')).toBeVisible();
	await take(page, '47-no-strap', 'window');
	await corner.holdFinish();
	await corner.holdFinish();
	await corner.inReview();
	await take(page, '48-review-hardly-anything');
});

test("the gym's own bell, rests by heart, watching, sleep and a full disk", async ({
	page,
	radio,
	corner,
	baseURL
}) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:01', name: 'Chest strap A' });
	await page.addInitScript(() => {
		const leaps = { wallMs: 0 };
		const { now } = Date;
		Date.now = () => now() + leaps.wallMs;
		Object.assign(window, { leaps });
	});
	await corner.open({ threshold: 150 });
	await page
		.getByRole('combobox', { name: 'Plan', exact: true })
		.selectOption({ label: "To the gym's own bell" });
	await take(page, '50-gym-bell-first');
	await corner.pair(strap);
	strap.stream((second) => packet({ bpm: 130 + (second % 40) }));
	await corner.start();
	await page.waitForTimeout(1500);
	await take(page, '51-gym-bell-waiting', 'window');
	await page.keyboard.press('Space');
	await page.waitForTimeout(4000);
	await take(page, '52-gym-bell-round', 'window');
	await page.keyboard.press('Space');
	await page.waitForTimeout(4000);
	await take(page, '53-gym-bell-rest', 'window');
	await strap.silence();
	await page.evaluate(() => {
		(window as unknown as { leaps: { wallMs: number } }).leaps.wallMs += 600_000;
	});
	await expect(page.getByRole('alert', { name: 'The computer slept' })).toBeVisible({ timeout: 20_000 });
	await take(page, '54-slept', 'window');
	await page.getByRole('button', { name: 'Go on' }).click();
	const other = await page.context().newPage();
	await other.goto('/');
	await expect(other.getByRole('heading', { name: 'Another tab is recording' })).toBeVisible();
	await take(other, '55-another-tab-records');
	await other.getByRole('link', { name: 'Watch it' }).click();
	await expect(other.getByText('Watching.')).toBeVisible();
	await take(other, '56-watching', 'window');
	await other.close();
	const cdp = await page.context().newCDPSession(page);
	await cdp.send('Storage.overrideQuotaForOrigin', { origin: new URL(baseURL!).origin, quotaSize: 1 });
	await expect(page.getByRole('alert')).toContainText('is full', { timeout: 45_000 });
	await take(page, '57-disk-full', 'window');
	await corner.holdFinish();
	await corner.holdFinish();
	await expect(page.getByRole('heading', { name: 'The session could not be saved' })).toBeVisible();
	await take(page, '58-not-kept');
});

test('rests by heart', async ({ page, corner }) => {
	await corner.open(
		{ threshold: 150 },
		{ Rounds: 3, 'Round, seconds': 30, 'Rest, seconds': 120, 'Get ready, seconds': 0 }
	);
	await page.getByLabel('Who rings').selectOption({ label: 'The page, rest until recovered' });
	await take(page, '60-by-heart-first');
	await corner.practise();
	await corner.start();
	await expect(corner.clock).toContainText('Rest after round 1', { timeout: 60_000 });
	await page.waitForTimeout(12_000);
	await take(page, '61-by-heart-rest', 'window');
	const opening = page.waitForEvent('popup');
	await (await corner.more('Open ring-side screen')).click();
	const window = await opening;
	await expect(window.getByRole('timer')).toBeVisible();
	await take(window, '62-ringside-one', 'window');
	await corner.finish();
	await window.waitForTimeout(1500);
	await take(window, '63-ringside-over', 'window');
});
