import { expect, test } from './fixtures';

const plan = { Rounds: 1, 'Round, seconds': 60, 'Get ready, seconds': 3 };

test('Space starts the last plan, and one press is one act wherever the focus lies', async ({
	page,
	corner
}) => {
	await corner.open('skip', { ...plan, 'Get ready, seconds': 0 });
	await corner.reload();
	await corner.practise();
	await page.getByRole('heading', { name: 'Strap' }).click();
	await corner.start('Space');
	await expect(corner.clock).toContainText('Round 1 of 1');

	await corner.button('Pause').focus();
	await page.keyboard.press('Space');
	await expect(corner.button('Resume')).toBeVisible();
	await expect(corner.clock).toContainText('paused');

	await corner.button('Resume').focus();
	await page.keyboard.press('Enter');
	await expect(corner.button('Pause')).toBeVisible();

	// Space belongs to the button that has the focus: it flags the moment and does not pause.
	await page.getByRole('button', { name: 'Flag' }).focus();
	await page.keyboard.press('Space');
	await expect(corner.button('Pause')).toBeVisible();

	// A clicker's keys: back stops the clock, on goes on to the next phase.
	await page.keyboard.press('PageUp');
	await expect(corner.button('Resume')).toBeVisible();
	await page.keyboard.press('PageUp');
	await expect(corner.button('Pause')).toBeVisible();
	await page.keyboard.press('PageDown');
	await expect(corner.clock).toContainText('The last minute');

	await corner.holdFinish();
	await corner.inReview();
	const [session] = await corner.saved();
	expect(session!.head.amendments.map(({ kind }) => kind)).toEqual([
		'pause',
		'resume',
		'pause',
		'resume',
		'next',
		'finish'
	]);
	expect(session!.head.events.map(({ kind }) => kind)).toEqual(['marker']);
});

test('the question mark shows the keys and Escape puts them away, and the session runs on behind them', async ({
	page,
	corner
}) => {
	await corner.begin('skip', { ...plan, 'Get ready, seconds': 0 });
	await expect(corner.clock).toContainText('Round 1 of 1');

	await page.keyboard.press('?');
	const sheet = page.getByRole('dialog', { name: 'Keyboard shortcuts' });
	await expect(sheet).toBeVisible();
	for (const words of [
		'Pause and resume',
		'Rest 30 seconds longer',
		'Q, held for a second',
		'D, held for a second'
	])
		await expect(sheet).toContainText(words);
	// What a key does on the sheet stays on the sheet.
	await page.keyboard.press('PageDown');
	await page.keyboard.press('Escape');
	await expect(sheet).toBeHidden();

	await expect(corner.clock).toContainText('Round 1 of 1');
	await expect(corner.button('Pause')).toBeVisible();
});

test('half a second’s press anywhere pauses, and a tap does nothing', async ({ page, corner }) => {
	await corner.begin('skip', { ...plan, 'Round, seconds': 600, 'Get ready, seconds': 0 });
	await expect(corner.clock).toContainText('Round 1 of 1');

	await corner.tap(corner.heartRate, 150);
	await corner.timeLeft.hover();
	await page.mouse.down();
	await expect(corner.button('Resume')).toBeVisible();
	await page.mouse.up();
	await corner.restDrop.hover();
	await page.mouse.down();
	await expect(corner.button('Pause')).toBeVisible();
	await page.mouse.up();

	await corner.finish();
	const [session] = await corner.saved();
	const [pause, resume, ...rest] = session!.head.amendments;
	expect([pause!.kind, resume!.kind]).toEqual(['pause', 'resume']);
	expect(resume!.atMs - pause!.atMs).toBeGreaterThan(500);
	expect(rest.map(({ kind }) => kind)).toEqual(['finish', 'finish']);
});

test('Q ends the session only when it is held', async ({ page, corner }) => {
	await corner.begin('skip', { ...plan, 'Get ready, seconds': 0 });
	await corner.clockDownTo('0:59');

	await corner.tapKey('q', 200);
	await corner.clockDownTo('0:56');
	await expect(corner.clock).toContainText('Round 1 of 1');

	await page.keyboard.down('q');
	await expect(corner.clock).toContainText('The last minute');
	await page.keyboard.up('q');
	await page.keyboard.down('q');
	await corner.inReview();
	await page.keyboard.up('q');
});

test('a false start is scrapped by D, held, or by its button, held, and leaves nothing behind', async ({
	page,
	corner
}) => {
	await corner.begin('skip', plan);
	await expect(corner.clock).toContainText('Round 1 of 1');

	await corner.tapKey('d', 200);
	await corner.clockDownTo('0:57');
	await page.keyboard.down('d');
	await expect(page).toHaveURL('/');
	await page.keyboard.up('d');

	await corner.start();
	await corner.scrap();
	await expect(page).toHaveURL('/');

	await corner.expectNothingKept();
});
