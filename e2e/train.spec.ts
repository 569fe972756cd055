import type { Page } from '@playwright/test';
import { expect, test } from './fixtures';

const sizes = [
	{ width: 1366, height: 640 },
	{ width: 390, height: 844 },
	{ width: 360, height: 740 }
];
// As one of another make calls itself; the form is that of RFC 9110, section 10.1.5.
const otherMake = 'Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0';

/**
 * What is not to be pressed where it stands: controls whose middle something else lies over, and those that cannot be
 * brought into sight without Start going out of it.
 *
 * @param asItStands before anything is scrolled
 */
const outOfReach = (page: Page, asItStands: boolean) =>
	page.evaluate((asItStands) => {
		const start = [...document.querySelectorAll('button')].find((one) => one.textContent.trim() === 'Start')!;
		const isInSight = () => {
			const { top, bottom } = start.getBoundingClientRect();
			return top >= 0 && bottom <= innerHeight;
		};
		const middle = (control: Element) => {
			const { left, top, width, height } = control.getClientRects()[0]!;
			return [left + width / 2, top + height / 2] as const;
		};
		const isHit = (control: Element) => {
			const hit = document.elementFromPoint(...middle(control));
			return control.contains(hit) || (hit?.closest('label')?.contains(control) ?? false);
		};
		return [...document.querySelectorAll('main :is(a, button, input, select, summary)')]
			.filter((control) => control.checkVisibility() && control.getBoundingClientRect().width > 1)
			.filter((control) => {
				if (asItStands) {
					const [, y] = middle(control);
					return y > 0 && y < innerHeight && !isHit(control);
				}
				control.scrollIntoView({ block: 'nearest' });
				return !isHit(control) || !isInSight();
			})
			.map((control) => control.textContent.trim() || control.outerHTML);
	}, asItStands);

async function expectAllInReach(page: Page, where: string): Promise<void> {
	await expect(page.locator('[inert]')).toHaveCount(0);
	for (const size of sizes) {
		await page.setViewportSize(size);
		await page.evaluate(() => scrollTo(0, 0));
		const here = `${where}, ${size.width} x ${size.height}`;
		await expect(page.getByRole('button', { name: 'Start', exact: true }), here).toBeInViewport({ ratio: 1 });
		// On a phone the edge of the bar cuts what a thumb then moves; on a laptop nothing lies over anything.
		if (size.width > 1000) expect(await outOfReach(page, true), here).toEqual([]);
		expect(await outOfReach(page, false), `${here}, scrolled`).toEqual([]);
		expect(await page.locator('.chief:enabled').count(), `${here}: filled buttons`).toBeLessThanOrEqual(1);
	}
}

test('Start is in sight and nothing is covered: on a first visit, with a strap, with four boxers', async ({
	page,
	corner,
	squad
}) => {
	await corner.open();
	await expect(corner.strap).toContainText('Any chest strap');
	await expectAllInReach(page, 'first visit');

	await page.setViewportSize(sizes[0]!);
	await corner.practise('60 times as fast');
	await expect(corner.button('Start')).toBeEnabled();
	await expectAllInReach(page, 'with a strap');

	await page.setViewportSize(sizes[0]!);
	for (const [i, name] of ['Odalys', 'Bartholomew the Younger of the Harbour Street gym', 'Tomas'].entries())
		await squad.add(i + 2, name);
	await squad.practise(3);
	await expectAllInReach(page, 'four boxers');
});

test('nothing is covered while an error is told: of a strap, of the plan, of the store', async ({
	page,
	radio,
	corner
}) => {
	await page.addInitScript(() => {
		IDBFactory.prototype.open = () => {
			throw new DOMException('as where storage is blocked', 'SecurityError');
		};
	});
	const strap = await radio.addStrap({
		address: '02:00:00:00:00:13',
		name: 'Chest strap of the Harbour Street gym, number 12'
	});
	await corner.open();
	strap.refuse(3);
	await corner.pair(strap);
	await expect(page.getByRole('alert').filter({ hasText: 'The strap did not answer.' })).toBeVisible();
	await expectAllInReach(page, 'the strap does not answer, nothing is kept');

	await page.setViewportSize(sizes[0]!);
	await corner.planForm.click();
	await page.getByRole('spinbutton', { name: 'Rounds', exact: true }).fill('0');
	await expect(page.getByText('The number of rounds must be a whole number, 1 or more.')).toBeVisible();
	await expectAllInReach(page, 'a plan that cannot be');
});

test('on Tests Start is in sight, and the stop signs with their tick stand before it', async ({
	page,
	corner
}) => {
	await page.setViewportSize(sizes[0]!);
	await page.goto('/tests/');
	const tick = page.getByRole('checkbox', { name: /Read and understood/ });
	await expect(tick).toBeInViewport({ ratio: 1 });
	await expectAllInReach(page, 'threshold run');
	await page.getByRole('radio', { name: /Recovery check/ }).check();
	await expectAllInReach(page, 'recovery check');

	await page.setViewportSize(sizes[0]!);
	await page.evaluate(() => scrollTo(0, 0));
	await corner.practise();
	await expect(page.getByText('Read the stop signs and tick the box.')).toBeVisible();
	await tick.check();
	await expect(corner.button('Start')).toBeEnabled();
});

test.describe('a first visit', () => {
	test('with no strap yet says what to do, alarms nobody and fills one button', async ({ page, corner }) => {
		await corner.open();
		await expect(corner.strap).toContainText('Wet it, put it on, then pair it.');
		await expect(page.getByRole('alert')).toHaveCount(0);
		await expect(page.locator('.chief:enabled')).toHaveText('Pair strap');
		await expect(page.getByText('Pair a strap, or use the simulated strap.')).toBeVisible();
		await corner.practise();
		await expect(page.locator('.chief:enabled')).toHaveText('Start');
	});

	for (const { browser, userAgent, says } of [
		{ browser: 'that keeps Bluetooth off', userAgent: '', says: '--enable-features=WebBluetooth' },
		{ browser: 'of another make', userAgent: otherMake, says: 'Open the page in Chrome, Edge or another' }
	])
		test(`in a browser ${browser} says where to go, and the simulated strap works`, async ({
			page,
			corner
		}) => {
			await page.addInitScript((userAgent) => {
				Object.defineProperty(Navigator.prototype, 'bluetooth', { get: () => undefined });
				if (userAgent) Object.defineProperty(Navigator.prototype, 'userAgent', { get: () => userAgent });
			}, userAgent);
			await corner.open();
			await expect(corner.strap).toContainText(says);
			await expect(corner.strap.getByRole('link', { name: 'the import of a recording' })).toBeVisible();
			await expect(page.getByRole('alert')).toHaveCount(0);
			await expect(corner.button('Pair strap')).toHaveCount(0);
			await corner.practise();
			await expect(corner.button('Start')).toBeEnabled();
		});

	test('with Bluetooth switched off says so calmly, and no longer once it is on', async ({
		page,
		radio,
		corner
	}) => {
		await radio.power('unplugged');
		await corner.open();
		await expect(corner.strap).toContainText('Bluetooth is off on this device.');
		await expect(page.getByRole('alert')).toHaveCount(0);
		await radio.power('on');
		await page.evaluate(() => dispatchEvent(new Event('focus')));
		await expect(corner.strap).toContainText('Any chest strap');
	});

	test('without storage says what works all the same', async ({ page, corner }) => {
		await page.addInitScript(() => {
			IDBFactory.prototype.open = () => {
				throw new DOMException('as in a window that keeps nothing', 'SecurityError');
			};
		});
		await corner.open();
		const note = page.getByRole('region', { name: 'Nothing can be kept in this browser' });
		await expect(note).toContainText('Rounds, straps and sounds work');
		await expect(page.getByRole('alert')).toHaveCount(0);
		await corner.practise();
		await expect(corner.button('Start')).toBeEnabled();
	});
});
