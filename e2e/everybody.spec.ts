import type { Page } from '@playwright/test';
import type Axe from 'axe-core';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { expect, test } from './fixtures';
import { follow } from './follow';
import { routes } from './routes';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const wcag22aa = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

/** No violation of WCAG 2.2 AA that axe can find; in the light look only the colours are another matter. */
async function expectFit(page: Page, where: string) {
	// Half a megabyte, so each document reads it once.
	if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axeSource);
	const looks = await page.evaluate(async (wcag22aa) => {
		const { axe } = window as unknown as { axe: typeof Axe };
		const looks: { theme: string; found: string[]; looked: number }[] = [];
		for (const theme of ['dark', 'light']) {
			document.documentElement.dataset.theme = theme;
			const { violations, passes, incomplete } = await axe.run(document, {
				runOnly: theme === 'dark' ? wcag22aa : ['color-contrast'],
				// Axe holds it for an experiment; a button whose name is not what it shows cannot be called by voice.
				...(theme === 'dark' && { rules: { 'label-content-name-mismatch': { enabled: true } } }),
				// What is right is looked at and not listed; most of the work would be to tell it.
				resultTypes: ['violations'],
				selectors: false
			});
			const found = violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' | ')}`);
			looks.push({ theme, found, looked: violations.length + passes.length + incomplete.length });
		}
		return looks;
	}, wcag22aa);
	for (const { theme, found, looked } of looks) {
		expect.soft(found, `${where}, ${theme}`).toEqual([]);
		expect.soft(looked, `${where}, ${theme}: rules that had something to look at`).toBeGreaterThan(0);
	}
}

test('every route is fit for everybody before there is anything to show', async ({ page, corner }) => {
	await corner.open();
	await expect(corner.button('Use simulated strap')).toBeVisible();
	await expect(page.locator('[inert]')).toHaveCount(0);
	await expectFit(page, 'first visit');
	for (const route of routes) {
		await follow(page, `/${route}/`);
		await expect(page.getByRole('main')).not.toContainText(/One moment|Opening/);
		await expectFit(page, route);
	}
});

test('forms with errors, a session from Start to its review, and dialogs are fit for everybody', async ({
	page,
	corner
}) => {
	await corner.open({ threshold: 20 });
	await expect(page.getByRole('alert')).toContainText('90 and 220');
	await corner.plan({ Rounds: 0 });
	await page.getByText('Bell and sounds', { exact: true }).click();
	// What is half typed is not kept, and the store is not blamed for it.
	await expect(page.getByText('The number of rounds must be a whole number, 1 or more.')).toBeVisible();
	await expect(page.getByText('gives the page no storage')).toHaveCount(0);
	await expectFit(page, 'first screen with errors');

	await corner.answer({ threshold: 120 });
	await page.getByRole('spinbutton', { name: /^Rounds/ }).fill('2');
	await page.getByRole('spinbutton', { name: 'Get ready, seconds', exact: true }).fill('0');
	await corner.practise();
	await corner.start();
	await expect(corner.clock).toContainText('Round 1 of 2');
	await page.keyboard.press('?');
	await expect(page.getByRole('dialog', { name: 'Keyboard shortcuts' })).toBeVisible();
	await expectFit(page, 'the sheet of keys');
	await page.keyboard.press('Escape');
	await corner.button('Pause').click();
	await expectFit(page, 'work, paused');
	await corner.button('Resume').click();
	await corner.button('Next').click();
	await expect(page.getByText('drop so far')).toBeVisible();
	await corner.button('Pause').click();
	await expectFit(page, 'rest');
	await corner.button('Resume').click();
	await corner.button('Next').click();
	await expect(corner.clock).toContainText('Round 2 of 2');
	await corner.finish();
	await expectFit(page, 'review');
	await corner.file('CSV');
	await expectFit(page, 'review, the files of the session');
	await page.keyboard.press('Escape');
	await page.getByRole('button', { name: 'Delete', exact: true }).click();
	await expectFit(page, 'review, asked whether to delete');
	await page.keyboard.press('Escape');
	await corner.openSessions();
	await expect(page.getByRole('listitem')).toBeVisible();
	await expectFit(page, 'sessions');
});

test('weeks of sessions, a judged review and the reports are fit for everybody', async ({ page, corner }) => {
	await corner.open();
	await follow(page, '/settings/');
	await page.getByRole('button', { name: 'Bring in the example gym' }).click();
	await expect(page.getByRole('progressbar')).toBeVisible();
	await page.getByRole('button', { name: 'Cancel' }).click();
	await expect(page.getByText('The example was not made.')).toBeVisible();
	await page.getByRole('button', { name: 'Bring in the example gym' }).click();
	await expect(page.getByRole('button', { name: 'Remove the example gym' })).toBeVisible({
		timeout: 120_000
	});
	await follow(page, '/athletes/');
	await expect(page.getByRole('heading', { name: 'Latest sessions' })).toBeVisible();
	await expectFit(page, 'athlete');
	await follow(page, '/athletes/tests/');
	await expect(page.getByRole('heading', { name: 'Recovery check' })).toBeVisible();
	await expectFit(page, 'tests of an athlete');
	await follow(page, '/athletes/details/');
	await expect(page.getByRole('heading', { name: 'Add an athlete' })).toBeVisible();
	await expectFit(page, 'details of an athlete');
	await follow(page, '/athletes/progress/');
	await expect(page.getByRole('heading', { name: 'Weekly load' })).toBeVisible();
	await expectFit(page, 'progress');
	await page.getByRole('link', { name: 'Print or send it' }).click();
	await expect(page.getByRole('heading', { name: /^Weight/ })).toBeVisible();
	await expectFit(page, 'report of progress');
	await follow(page, '/sessions/');
	await page.getByRole('link', { name: /Pads/ }).first().click();
	await expect(page.getByRole('heading', { name: 'Round by round' })).toBeVisible();
	await expectFit(page, 'review');
	await page.getByRole('link', { name: 'Print or send' }).click();
	await expect(page.getByRole('article')).toBeVisible();
	await expectFit(page, 'report of a session');
	await follow(page, '/athletes/weight/');
	await expectFit(page, 'fuel');
	await follow(page, '/squad/');
	await page
		.getByRole('button', { name: /^Bente/ })
		.first()
		.click();
	await expect(page.getByRole('heading', { name: 'Effort owed' })).toBeVisible();
	await expectFit(page, 'register');
	await follow(page, '/squad/week/');
	await expect(page.getByRole('rowheader', { name: /^Bente/ })).toBeVisible();
	await expectFit(page, 'week of the squad');
	await follow(page, '/squad/board/');
	await expect(page.getByRole('rowheader', { name: /^Bente/ })).toBeVisible();
	await expectFit(page, 'board');
});

test('what is read out does not chatter, and the clock is not read out at all', async ({ page, corner }) => {
	await corner.begin({ threshold: 120 }, { Rounds: 2, 'Get ready, seconds': 0 });
	await expect(corner.heartRate).toHaveText(/^\d+$/);
	const spoken = await page.evaluate(async () => {
		const said: string[] = [];
		const live = '[role="status"], [role="alert"], [role="log"], [aria-live]:not([aria-live="off"])';
		new MutationObserver((changes) => {
			for (const { target } of changes) {
				const region = (target instanceof Element ? target : target.parentElement)?.closest(live);
				if (region) said.push(region.textContent?.trim() ?? '');
			}
		}).observe(document.body, { subtree: true, childList: true, characterData: true });
		await new Promise((resolve) => setTimeout(resolve, 8000));
		return said;
	});
	// Eight seconds of beats and of a running clock, and nothing new to say.
	expect(spoken).toEqual([]);
	await expect(corner.timeLeft).toHaveAttribute('role', 'timer');
});

test('with twice the zoom everything is there and nothing lies sideways', async ({ page, corner }) => {
	// Twice the zoom is half the window in CSS pixels (WCAG 2.2, 1.4.4 and 1.4.10).
	await page.setViewportSize({ width: 683, height: 384 });
	await corner.begin({ threshold: 170 }, { Rounds: 2, 'Get ready, seconds': 0 });
	const sideways = () => page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
	for (const phase of ['Round 1 of 2', 'Rest after round 1']) {
		await expect(corner.clock).toContainText(phase);
		expect(await sideways(), phase).toBe(0);
		for (const reading of [corner.timeLeft, corner.heartRate, corner.restDrop, corner.overThreshold]) {
			await reading.scrollIntoViewIfNeeded();
			await expect(reading, phase).toBeInViewport({ ratio: 0.9 });
		}
		await expect(corner.button('Pause')).toBeVisible();
		await corner.button('Next').click();
	}
	for (const route of ['', ...routes]) {
		await follow(page, `/${route}/`.replace('//', '/'));
		await expect(page.getByRole('main')).not.toContainText(/One moment|Opening/);
		await expect(page.locator('[inert]')).toHaveCount(0);
		expect(await sideways(), route).toBe(0);
	}
});

test('with reduced motion nothing moves by itself', async ({ page, corner }) => {
	await page.emulateMedia({ reducedMotion: 'reduce' });
	await corner.open('skip');
	await corner.practise();
	await corner.start();
	await expect(corner.heartRate).toHaveText(/^\d+$/);
	// The words stand for the second of the hold alone: the page itself notes them, however busy the machine is.
	await page.evaluate(() => {
		const seen = { isHeld: false, moving: 0 };
		Object.assign(window, { seen });
		new MutationObserver(() => {
			if (!document.body.textContent?.includes('Keep holding')) return;
			seen.isHeld = true;
			seen.moving = Math.max(seen.moving, document.getAnimations().length);
		}).observe(document.body, { subtree: true, childList: true, characterData: true, attributes: true });
	});
	await page.keyboard.down('q');
	await expect
		.poll(() => page.evaluate(() => (window as unknown as { seen: object }).seen))
		.toEqual({ isHeld: true, moving: 0 });
	await page.keyboard.up('q');
});

test('with the single keys switched off no key acts, and the buttons still do', async ({ page, corner }) => {
	await corner.open();
	await corner.setting((page) => page.getByRole('checkbox', { name: 'Use keyboard shortcuts' }).uncheck());
	await corner.answer('skip');
	await corner.plan({ Rounds: 2, 'Get ready, seconds': 0 });
	await corner.practise();
	await expect(corner.button('Start')).toBeEnabled();
	await page.getByRole('heading', { name: 'Strap' }).click();
	await page.keyboard.press('Space');
	await corner.start();
	await expect(corner.clock).toContainText('Round 1 of 2');
	await page.getByRole('heading', { name: 'Live session' }).focus();
	for (const key of ['Space', 'ArrowRight', 'm', '?']) await page.keyboard.press(key);
	await expect(page.getByRole('dialog')).toHaveCount(0);
	await expect(corner.button('Pause')).toBeVisible();
	await expect(corner.clock).toContainText('Round 1 of 2');
	await corner.button('Next').click();
	await expect(corner.clock).toContainText('Rest after round 1');
	await page.getByRole('button', { name: 'More', exact: true }).click();
	await page.getByRole('button', { name: 'Keys' }).click();
	await page.getByRole('dialog').getByRole('checkbox', { name: 'Use keyboard shortcuts' }).check();
	await page.keyboard.press('Escape');
	await expect(page.getByRole('dialog')).toHaveCount(0);
	await page.keyboard.press('ArrowRight');
	await expect(corner.clock).toContainText('Round 2 of 2');
});

test('Space on the Finish button ends nothing until it is held', async ({ page, corner }) => {
	await corner.begin('skip', { Rounds: 1, 'Get ready, seconds': 0 });
	await corner.holdFinish();
	await expect(corner.clock).toContainText('The last minute');
	// The press left the focus on the button; whoever now wants to stop the clock presses Space.
	await page.keyboard.press('Space');
	await page.keyboard.press('Enter');
	await corner.clockDownTo('0:57');
	await page.keyboard.down('Space');
	await corner.inReview();
	await page.keyboard.up('Space');
});
