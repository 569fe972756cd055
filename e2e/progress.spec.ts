import { expect, test } from './fixtures';

test('the example gym fills progress, is marked, and goes in one step', async ({ page, corner }) => {
	await page.goto('/athletes/progress/');
	await expect(page.getByText('Nothing to compare yet.')).toBeVisible();
	await page.getByRole('link', { name: 'See it with the example gym' }).click();
	await page.getByRole('button', { name: 'Bring in the example gym' }).click();
	await expect(page.getByText(/The example gym is here: 12 invented athletes/)).toBeVisible({
		timeout: 120_000
	});

	// Whose card says what is hard is not asked for it.
	await page.getByRole('link', { name: 'Train', exact: true }).click();
	await expect(page.getByText(/^Threshold \d+, 20-minute mean less 5 %\.$/)).toBeVisible();
	await expect(page.getByRole('heading', { name: 'What is your threshold heart rate?' })).toHaveCount(0);

	await page.getByRole('link', { name: 'Athletes', exact: true }).click();
	await expect(page.getByText('Example: an invented athlete')).toBeVisible();

	await test.step('the first page: four pictures with a sentence each, five sessions, tests due', async () => {
		await expect(
			page.getByText(/^Last session \w{3} \d+ \w{3}( \d{4})?: Threshold run, threshold 1\d\d\.$/)
		).toBeVisible();
		for (const name of ['1-minute drop', 'Threshold', 'Resting rate', 'Weight']) {
			const picture = page.getByRole('region', { name, exact: true });
			await expect(
				picture.getByRole('group', { name: new RegExp(`^${name}, \\d+ measurements`) })
			).toBeVisible();
			await expect(picture).toContainText(/No clear change over|Clearly (higher|lower): from|at the start/);
		}
		await expect(page.getByRole('region', { name: 'Latest sessions' }).getByRole('listitem')).toHaveCount(5);
		await expect(page.getByRole('region', { name: 'Tests due' })).toContainText('None');
	});
	await test.step('the tests, each with its result', async () => {
		await page.getByRole('navigation', { name: 'Athlete' }).getByRole('link', { name: 'Tests' }).click();
		const runs = page.getByRole('region', { name: 'Threshold run' });
		await expect(runs.getByRole('listitem')).toHaveCount(3);
		await expect(runs.getByRole('listitem').first()).toContainText(/threshold 1\d\d, 20-minute mean 1\d\d/);
		await expect(
			page.getByRole('region', { name: 'Resting rate' }).getByRole('listitem').first()
		).toContainText(/lying \d\d, beat-to-beat change \d+ ms/);
		await expect(
			page.getByRole('region', { name: 'Recovery check' }).getByRole('listitem').first()
		).toContainText(/1-minute drop \d\d, recovery speed \d+ s/);
	});

	await page.getByRole('link', { name: 'Progress', exact: true }).click();
	const drops = page.getByRole('group', { name: /^1-minute drop, \d+ measurements/ });
	await expect(drops.getByRole('link')).not.toHaveCount(0);
	// Drops are compared like with like: here the checks, which are the latest.
	await expect(
		page.getByText(/recovery check, standing; \d+ sessions? with other work or posture left out/).first()
	).toBeVisible();
	await page.getByRole('combobox', { name: 'Plan' }).selectOption('Recovery check, 3 x 3');
	await expect(drops.getByRole('link')).toHaveCount(7);
	await expect(page.getByRole('region', { name: 'Recovery speed' })).toContainText(
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

	await page.getByRole('link', { name: 'Settings', exact: true }).click();
	await page.getByRole('button', { name: 'Remove the example gym' }).click();
	await expect(page.getByText('The example gym was removed')).toBeVisible();
	expect(await corner.saved()).toHaveLength(0);
});

test('a rest that is set aside with a reason leaves progress, and the readings stay', async ({
	page,
	corner
}) => {
	await page.goto('/settings/');
	await page.getByRole('button', { name: 'Bring in the example gym' }).click();
	await expect(page.getByText(/The example gym is here/)).toBeVisible({ timeout: 120_000 });
	await page.goto('/athletes/progress/');
	await page.getByRole('combobox', { name: 'Plan' }).selectOption('Recovery check, 3 x 3');
	const points = page.getByRole('group', { name: /^1-minute drop, / }).getByRole('link');
	await expect(points).toHaveCount(7);
	await points.first().focus();
	await page.keyboard.press('Enter');
	await page.getByText('Conditions and corrections').click();
	for (const rest of ['1', '2', '3']) {
		await page.getByRole('combobox', { name: 'Leave a rest out of progress' }).selectOption(`Rest ${rest}`);
		await page.getByRole('textbox', { name: 'Why' }).fill('talked through it');
		await page.getByRole('button', { name: 'Leave it out' }).click();
		await expect(page.getByText(`Rest ${rest} is left out: talked through it`)).toBeVisible();
	}
	await expect(await corner.cell('1', '1-minute drop')).toContainText(/\d+/);
	await page.goto('/athletes/progress/');
	await page.getByRole('combobox', { name: 'Plan' }).selectOption('Recovery check, 3 x 3');
	await expect(points).toHaveCount(6);
});

test('everything is reached by the keyboard alone', async ({ page, corner }) => {
	await page.goto('/tests/');
	await expect(page.getByRole('button', { name: 'Use simulated strap' })).toBeVisible();
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
	await to(/Use simulated strap/);
	await page.keyboard.press('Enter');
	await expect(corner.strap).toContainText('Simulated strap');
	await to(/Threshold run/);
	await page.keyboard.press('ArrowDown');
	await page.keyboard.press('ArrowDown');
	await expect(page.getByRole('radio', { name: /Resting rate/ })).toBeChecked();
	await to(/^\s*Start/);
	await page.keyboard.press('Enter');
	await expect(corner.clock).toContainText('Five quiet minutes');
	await page.keyboard.down('q');
	await expect(page.getByRole('region', { name: 'Result' })).toBeVisible();
	await page.keyboard.up('q');
	await to(/^\s*Me\s*$/);
	await page.keyboard.press('Enter');
	await expect(page.getByRole('heading', { name: 'Tests due' })).toBeVisible();
	await to(/^\s*Details\s*$/);
	await page.keyboard.press('Enter');
	await expect(page.getByRole('heading', { name: 'Add an athlete' })).toBeVisible();
	await to(/Name or alias of the new athlete/);
	await page.keyboard.type('By keys');
	await page.keyboard.press('Enter');
	await expect(page.getByRole('heading', { level: 1 })).toHaveText('By keys');
	await page.getByRole('link', { name: 'Progress', exact: true }).focus();
	await page.keyboard.press('Enter');
	await expect(page.getByText('Nothing to compare yet.')).toBeVisible();
});
