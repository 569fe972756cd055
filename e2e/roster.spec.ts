import { expect, test } from './fixtures';

test('the corners stay put up over a reload, without whoever was deleted since', async ({
	page,
	radio,
	corner,
	squad
}) => {
	const names = (count: number) =>
		Promise.all(
			Array.from({ length: count }, (_, i) =>
				squad
					.place(i + 1)
					.getByRole('combobox', { name: 'Athlete' })
					.evaluate((select) => (select as HTMLSelectElement).selectedOptions[0]?.label)
			)
		);
	const places = page.getByRole('group', { name: /^Boxer \d$/ });
	const strap = await radio.addStrap({ address: '02:00:00:00:00:71', name: 'Strap 7F' });
	await corner.open('skip');
	await squad.add(2, 'Odalys');
	await squad.add(3, 'Tomas');
	await corner.reload();
	await expect.poll(() => names(3)).toEqual(['Me', 'Odalys', 'Tomas']);
	await squad.pair(2, strap);
	await squad.practise(1);
	await squad.practise(3);
	await corner.start();
	// In the warm-up there is no closing minute.
	await corner.holdFinish();
	await expect(page).toHaveURL(/\/review\/#/);

	await corner.reload();
	await page.getByRole('link', { name: 'Train', exact: true }).click();
	await expect(places).toHaveCount(3);
	await expect.poll(() => names(3)).toEqual(['Me', 'Odalys', 'Tomas']);
	await expect(squad.place(2)).toContainText('No strap yet; the last one was Strap 7F.');

	await page
		.getByRole('navigation', { name: 'Main' })
		.getByRole('link', { name: 'Athletes', exact: true })
		.click();
	await expect(page).toHaveURL('/athletes/');
	await page.getByRole('combobox', { name: 'Athlete' }).selectOption('Odalys');
	await page.getByRole('link', { name: 'Details', exact: true }).click();
	await page.getByRole('button', { name: 'Delete Odalys' }).click();
	await page.getByRole('button', { name: 'Delete Odalys' }).click();
	await expect(page.getByRole('button', { name: 'Undo' })).toBeVisible();
	await corner.reload();
	await page.getByRole('link', { name: 'Train', exact: true }).click();
	await expect(places).toHaveCount(2);
	await expect.poll(() => names(2)).toEqual(['Me', 'Tomas']);

	await squad.place(2).getByRole('button', { name: 'Remove' }).click();
	await expect(places).toHaveCount(0);
	await corner.reload();
	await expect(corner.button('Pair strap')).toBeVisible();
	await expect(places).toHaveCount(0);
});
