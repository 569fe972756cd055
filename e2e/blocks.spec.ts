import { expect, test } from './fixtures';

test('a session of blocks is planned by buttons and keys, and a block of no rounds is named and loses nothing', async ({
	page,
	corner
}) => {
	const block = (number: number) => page.getByRole('group', { name: `Block ${number}`, exact: true });
	const title = (number: number) => page.getByRole('button', { name: new RegExp(`^${number} `) });
	await corner.open({ threshold: 165 });
	await corner.practise();
	await corner.planForm.click();
	await page.getByRole('combobox', { name: 'Aim' }).selectOption('near the threshold, from 90 %');
	// Nobody has a measured maximum.
	await expect(page.getByRole('option', { name: /^a share of the measured maximum/ })).toBeDisabled();

	await page.getByRole('button', { name: 'Add a block' }).click();
	await title(2).click();
	await block(2).getByRole('combobox', { name: 'What is done' }).selectOption('skipping');
	await block(2).getByRole('combobox', { name: 'Aim' }).selectOption('an effort, 0 to 10');
	await block(2).getByRole('spinbutton', { name: 'Effort, 0 to 10' }).fill('4');
	await block(2).getByRole('spinbutton', { name: 'Rounds' }).fill('0');
	await expect(
		page.getByText('Block 2: the number of rounds must be a whole number, 1 or more.')
	).toBeVisible();
	await expect(corner.button('Start')).toBeDisabled();
	await expect(block(2).getByRole('spinbutton', { name: 'Effort, 0 to 10' })).toHaveValue('4');
	await block(2).getByRole('spinbutton', { name: 'Rounds' }).fill('2');
	await block(2).getByRole('spinbutton', { name: 'Pause before it, seconds' }).fill('90');
	await expect(corner.button('Start')).toBeEnabled();
	await expect(title(2)).toHaveText(/Skipping: 2 rounds of 3:00, rests of 1:00, effort 4; 1:30 before it/);

	await test.step('the same by keys, and the hand stays on the block', async () => {
		await title(2).focus();
		await page.keyboard.press('Alt+ArrowUp');
		await expect(title(1)).toHaveText(/Skipping/);
		await expect(title(1)).toBeFocused();
		await page.keyboard.press('Insert');
		await expect(title(2)).toHaveText(/Skipping/);
		await expect(title(2)).toBeFocused();
		await expect(title(3)).toHaveText(/Pads/);
		await page.keyboard.press('Delete');
		await expect(title(3)).toHaveCount(0);
		await page.getByRole('button', { name: 'Later, block 1' }).click();
		await expect(title(1)).toHaveText(/Pads: 4 rounds of 3:00, rests of 1:00, near the threshold$/);
	});

	await expect(page.getByRole('textbox', { name: 'Name' })).toHaveValue('Pads, 6 rounds in 2 blocks');
	await expect(page.getByRole('img', { name: /^The plan to scale: 6 rounds in 2 blocks/ })).toBeVisible();
	await corner.reload();
	await expect(page.locator('[inert]')).toHaveCount(0);
	await expect(page.getByRole('listitem').filter({ hasText: 'Skipping: 2 rounds of 3:00' })).toBeVisible();
});

test('blocks run one after another, one is skipped and one added on the way, and the review tells them apart', async ({
	page,
	corner
}) => {
	await corner.open(
		{ threshold: 110 },
		{ Rounds: 1, 'Round, seconds': 60, 'Rest, seconds': 60, 'Get ready, seconds': 3 }
	);
	await page.getByRole('combobox', { name: 'Aim' }).selectOption('near the threshold, from 90 %');
	await page.getByRole('button', { name: 'Add a block' }).click();
	await page.getByRole('button', { name: /^2 / }).click();
	const second = page.getByRole('group', { name: 'Block 2', exact: true });
	await second.getByRole('combobox', { name: 'What is done' }).selectOption('skipping');
	await second.getByRole('spinbutton', { name: 'Rounds' }).fill('3');
	await corner.practise('12 times as fast');
	await corner.start();

	await expect(corner.clock).toContainText('Round 1 of 4 · pads');
	await expect(page.getByRole('group', { name: 'Aim', exact: true })).toContainText(
		'near the threshold, 99 to 110'
	);
	await test.step('a block is added, which comes last', async () => {
		await (await corner.more('Add a block')).click();
		const dialog = page.getByRole('dialog', { name: 'Add a block' });
		await dialog.getByRole('combobox', { name: 'What is done' }).selectOption('shadow boxing');
		await dialog.getByRole('spinbutton', { name: 'Rounds' }).fill('0');
		await expect(dialog.getByRole('button', { name: 'Add it' })).toBeDisabled();
		await dialog.getByRole('spinbutton', { name: 'Rounds' }).fill('1');
		await dialog.getByRole('button', { name: 'Add it' }).click();
		await expect(dialog).toHaveCount(0);
	});
	await expect(corner.clock).toContainText('Pause before block 2 · skipping');
	await expect(corner.clock).toContainText('Round 2 of 5 · skipping');
	await (await corner.more('Skip block')).click();
	await expect(corner.clock).toContainText('Pause before block 3 · shadow boxing');
	await expect(corner.clock).toContainText('Round 3 of 3 · shadow boxing');
	await corner.inReview();

	const table = page.getByRole('table');
	const blocks = table.getByRole('rowheader').filter({ hasText: /^Block/ });
	await expect(blocks).toHaveText([
		/^Block 1: pads\s+Aim: near the threshold, 99 to 110\. In it \d:\d\d of \d:\d\d/,
		/^Block 2: skipping/,
		/^Block 3: shadow boxing\s+Aim: near the threshold/
	]);
	await expect(await corner.cell('3', '1-minute drop')).toHaveText(/^\d+ ± \d+$/);
	const [session] = await corner.saved();
	const { plan, amendments, version } = session!.head;
	expect([version, plan.blocks?.length, amendments.map(({ kind }) => kind)]).toEqual([
		2,
		1,
		['add block', 'skip block']
	]);
	expect(session!.summary!.rounds.map(({ activity }) => activity)).toEqual([
		'pads',
		'skipping',
		'shadow boxing'
	]);
});
