import { expect, test } from '../fixtures';
import { packet } from '../packets';
import { longName, take } from './take';

test('before the first bell', async ({ page, radio, corner }) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:01', name: 'Chest strap A' });
	await corner.open();
	await take(page, '01-first-visit');
	await corner.answer({ threshold: 20 });
	await corner.plan({ Rounds: 0 });
	await page.getByText('Bell and sounds', { exact: true }).click();
	await expect(page.getByText('Hear it').or(page.getByRole('slider')).first()).toBeVisible();
	await take(page, '02-first-screen-errors');
	await corner.answer('skip');
	await page.getByRole('spinbutton', { name: /^Rounds/ }).fill('12');
	await corner.pair('cancel');
	await take(page, '03-chooser-dismissed');
	await corner.pair(strap);
	await expect(corner.strap).toContainText('Chest strap A');
	strap.stream((second) => packet({ bpm: 62 + (second % 3), contact: true, rr1024: [980] }));
	await expect(corner.button('Start')).toBeEnabled();
	await page.waitForTimeout(3000);
	await take(page, '04-ready-strap');
	strap.stream((second) => packet({ bpm: second % 2 ? 0 : 230, contact: false }));
	await page.waitForTimeout(3500);
	await take(page, '05-strap-no-contact');
	await strap.silence();
	strap.refuse(Infinity);
	await strap.drop();
	await page.waitForTimeout(4000);
	await take(page, '06-strap-lost');
});

test('before the first bell, without Bluetooth', async ({ page, radio, corner }) => {
	await radio.power('unplugged');
	await corner.open();
	await expect(page.getByText('Bluetooth is off on this device.')).toBeVisible();
	await take(page, '07-bluetooth-off');
	await radio.power('on');
	await page.addInitScript(() => delete (Navigator.prototype as { bluetooth?: unknown }).bluetooth);
	await corner.open();
	await page.waitForTimeout(500);
	await take(page, '08-browser-cannot-pair');
	await page.addInitScript(() => {
		IDBFactory.prototype.open = () => {
			throw new DOMException('as in a window that keeps nothing', 'SecurityError');
		};
	});
	await corner.open();
	await expect(page.getByRole('region', { name: 'Nothing can be kept in this browser' })).toBeVisible();
	await take(page, '09-no-storage');
	for (const route of ['sessions', 'backup', 'athletes', 'progress', 'fuel'])
		await page.goto(`/${route}/`).then(() => take(page, `09-no-storage-${route}`));
});

test('eight corners', async ({ page, corner, squad }) => {
	await corner.open(
		{ threshold: 162 },
		{ Rounds: 12, 'Get ready, seconds': 0, 'Round, seconds': 60, 'Rest, seconds': 120 }
	);
	const names = [longName, 'Tomas', 'Nerea', 'Adem', 'Ilse', 'Bao', 'Kofi'];
	await squad.add(2, names[0]!);
	await take(page, '10-two-corners-no-straps');
	for (const [i, name] of names.slice(1).entries()) await squad.add(i + 3, name);
	for (let number = 1; number <= 8; number++) await squad.practise(number);
	await take(page, '11-eight-corners');
	await squad.place(1).getByRole('button', { name: 'Swap strap' }).click();
	await take(page, '12-swap-begun');
	await squad.place(1).getByRole('button', { name: 'Swap with which?' }).click();
	await corner.start();
	await expect(corner.timeLeft).toHaveText('0:35', { timeout: 60_000 });
	await take(page, '13-eight-work', 'window');
	await page.keyboard.press('2');
	await take(page, '14-eight-enlarged-long-name', 'window');
	await page.keyboard.press('0');
	await (await corner.more('Boxers')).click();
	await expect(page.getByRole('dialog', { name: 'Boxers' })).toBeVisible();
	await take(page, '15-corners-dialog', 'window');
	await page.keyboard.press('Escape');
	await squad
		.lane(3)
		.getByRole('button', { name: /^Swap strap/ })
		.click();
	await page.screenshot({ path: 'test-results/tour/15-swap-live-laptop-dark.png' });
	await squad
		.lane(3)
		.getByRole('button', { name: /^Swap strap/ })
		.click();
	await expect(corner.clock).toContainText('Rest after round 1', { timeout: 90_000 });
	await expect(corner.timeLeft).toHaveText('1:30', { timeout: 60_000 });
	await take(page, '16-eight-rest', 'window');
	await page.keyboard.press('1');
	await take(page, '17-eight-rest-enlarged', 'window');
	await page.keyboard.press('0');
	await expect(corner.timeLeft).toHaveText('0:40', { timeout: 60_000 });
	await take(page, '18-eight-rest-judged', 'window');
	const opening = page.waitForEvent('popup');
	await (await corner.more('Open ring-side screen')).click();
	const window = await opening;
	await expect(window.getByRole('timer')).toBeVisible();
	await take(window, '19-ringside-eight-rest', 'window');
	await window.close();
	// A minute of the rest is over, so there is none to wait for.
	await corner.holdFinish();
	await corner.inReview();
	await take(page, '20-review-of-eight');
	await page.getByRole('link', { name: 'Train', exact: true }).click();
	await expect(squad.place(2)).toBeVisible();
	await take(page, '21-corners-stay');
});
