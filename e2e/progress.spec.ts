import { expect, test } from './fixtures';

test('the example gym fills progress, is marked, and goes in one step', async ({ page, corner }) => {
	await page.goto('/progress/');
	await expect(page.getByText('Nothing to compare yet.')).toBeVisible();
	await page.getByRole('link', { name: 'See it with the example gym' }).click();
	await page.getByRole('button', { name: 'Bring in the example gym' }).click();
	await expect(page.getByText(/The example gym is here: 12 invented athletes/)).toBeVisible({
		timeout: 120_000
	});

	// Whose card says what is hard is not asked for it.
	await page.getByRole('link', { name: 'Corner', exact: true }).click();
	await expect(page.getByText(/^Threshold \d+.* beats a minute\.$/)).toBeVisible();
	await expect(page.getByRole('heading', { name: 'One question before the first bell' })).toHaveCount(0);

	await page.getByRole('link', { name: 'Progress', exact: true }).click();
	await expect(page.getByText('Example: an invented athlete')).toBeVisible();
	const drops = page.getByRole('group', { name: /^Drop at 60, \d+ measurements/ });
	await expect(drops.getByRole('link')).not.toHaveCount(0);
	// Drops are compared like with like: here the checks, which are the latest.
	await expect(
		page.getByText(/recovery check, standing; \d+ sessions? with other work or posture left out/).first()
	).toBeVisible();
	await page.getByRole('combobox', { name: 'Plan' }).selectOption('Recovery check, 3 x 3');
	await expect(drops.getByRole('link')).toHaveCount(7);
	await expect(page.getByRole('region', { name: /^Tau/ })).toContainText(
		/^.*(Clearly lower|No clear change).*$/s
	);
	await expect(page.getByText(/^Usual for this athlete: \d+, mostly/)).toBeVisible();
	await expect(page.getByText(/^The drops differ by/)).toBeVisible();

	await test.step('both of two sessions fit a phone', async () => {
		const size = page.viewportSize()!;
		await page.setViewportSize({ width: 390, height: 844 });
		await page.getByRole('combobox', { name: 'Second session' }).scrollIntoViewIfNeeded();
		for (const name of ['First session', 'Second session'])
			await expect(page.getByRole('combobox', { name })).toBeInViewport({ ratio: 1 });
		await page.setViewportSize(size);
	});

	await page.getByRole('link', { name: 'Athlete', exact: true }).click();
	await page.getByRole('button', { name: 'Remove the example gym' }).click();
	await expect(page.getByText('The example gym was removed')).toBeVisible();
	expect(await corner.saved()).toHaveLength(0);
});

test('a rest that is set aside with a reason leaves progress, and the readings stay', async ({
	page,
	corner
}) => {
	await page.goto('/athletes/');
	await page.getByRole('button', { name: 'Bring in the example gym' }).click();
	await expect(page.getByText(/The example gym is here/)).toBeVisible({ timeout: 120_000 });
	await page.goto('/progress/');
	await page.getByRole('combobox', { name: 'Plan' }).selectOption('Recovery check, 3 x 3');
	const points = page.getByRole('group', { name: /^Drop at 60, / }).getByRole('link');
	await expect(points).toHaveCount(7);
	await points.first().focus();
	await page.keyboard.press('Enter');
	await page.getByText('What surrounded it, and what to put right').click();
	for (const rest of ['1', '2', '3']) {
		await page.getByRole('combobox', { name: 'Leave a rest out of progress' }).selectOption(`Rest ${rest}`);
		await page.getByRole('textbox', { name: 'Why' }).fill('talked through it');
		await page.getByRole('button', { name: 'Leave it out' }).click();
		await expect(page.getByText(`Rest ${rest} is left out: talked through it`)).toBeVisible();
	}
	await expect(await corner.cell('1', 'Drop at 60')).toContainText(/\d+/);
	await page.goto('/progress/');
	await page.getByRole('combobox', { name: 'Plan' }).selectOption('Recovery check, 3 x 3');
	await expect(points).toHaveCount(6);
});

test('everything is reached by the keyboard alone', async ({ page, corner }) => {
	await page.goto('/measure/');
	await expect(page.getByRole('button', { name: 'Use practice strap' })).toBeVisible();
	/** Tabs on until this has the focus. */
	const to = async (name: RegExp) => {
		for (let i = 0; i < 60; i++) {
			await page.keyboard.press('Tab');
			const words = await page.evaluate(() => {
				const at = document.activeElement as HTMLInputElement | null;
				// A navigation gives the focus back to the body, whose text is that of the whole page.
				if (at === document.body) return '';
				return `${at?.labels?.[0]?.textContent ?? ''} ${at?.textContent ?? ''}`;
			});
			if (name.test(words)) return;
		}
		throw new Error(`The keyboard does not reach ${name}.`);
	};
	await to(/Use practice strap/);
	await page.keyboard.press('Enter');
	await expect(corner.strap).toContainText('simulated athlete');
	await to(/Threshold run/);
	await page.keyboard.press('ArrowDown');
	await expect(page.getByRole('radio', { name: /Resting rate/ })).toBeChecked();
	await to(/^\s*Start/);
	await page.keyboard.press('Enter');
	await expect(corner.clock).toContainText('Five quiet minutes');
	await page.keyboard.down('q');
	await expect(page.getByRole('region', { name: 'Result' })).toBeVisible();
	await page.keyboard.up('q');
	await to(/^\s*Athlete/);
	await page.keyboard.press('Enter');
	await expect(page.getByRole('heading', { name: 'Add an athlete' })).toBeVisible();
	await to(/Name or alias of the new athlete/);
	await page.keyboard.type('By keys');
	await page.keyboard.press('Enter');
	await expect(page.getByRole('radio', { name: /By keys/ })).toBeChecked();
	await page.getByRole('link', { name: 'Progress', exact: true }).focus();
	await page.keyboard.press('Enter');
	await expect(page.getByText('Nothing to compare yet.')).toBeVisible();
});
