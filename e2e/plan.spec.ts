import { expect, test } from './fixtures';

test('a plan is typed field by field, a bad number is named at its field, and the plan is there again next time', async ({
	page,
	corner
}) => {
	const field = (name: string) => page.getByRole('spinbutton', { name });
	await corner.open();
	await corner.planForm.click();

	// Key by key, as a person types: the form must stay open under their hands.
	await field('Round, seconds').selectText();
	await field('Round, seconds').pressSequentially('45');
	await expect(field('Rest, seconds')).toBeVisible();
	await field('Rest, seconds').selectText();
	await field('Rest, seconds').pressSequentially('30');
	await expect(field('Round, seconds')).toHaveValue('45');

	await field('Rounds').fill('0');
	await expect(page.getByText('The number of rounds must be a whole number, 1 or more.')).toBeVisible();
	await expect(field('Rounds')).toHaveAttribute('aria-invalid', 'true');
	await corner.practise();
	await expect(corner.button('Start')).toBeDisabled();
	await field('Rounds').fill('2');
	await expect(corner.button('Start')).toBeEnabled();
	await expect(field('Rounds')).toBeVisible();

	// No session is kept under rounds that it had not.
	await expect(page.getByRole('textbox', { name: 'Name' })).toHaveValue(/, 2 x 0\.75$/);
	await page.getByRole('textbox', { name: 'Name' }).fill('Tuesday bag, 6 x 3');
	await page.getByRole('button', { name: 'Save as your plan' }).click();
	await expect(page.getByText('Saved.', { exact: true })).toBeVisible();
	await corner.reload();
	await expect(page.getByRole('combobox', { name: 'Plan', exact: true })).toHaveValue('Tuesday bag, 6 x 3');
	await corner.planForm.click();
	await expect(field('Round, seconds')).toHaveValue('45');
	await expect(field('Rest, seconds')).toHaveValue('30');
	// One's own plan keeps the name that it was given, and so is changed and not doubled.
	await field('Rounds').fill('3');
	await expect(page.getByRole('textbox', { name: 'Name' })).toHaveValue('Tuesday bag, 6 x 3');
	await expect(page.getByRole('button', { name: 'Save changes' })).toBeVisible();
});

test('a plan of the gym that was started is known again by its name, not as a changed one', async ({
	page,
	corner
}) => {
	const choice = page.getByRole('combobox', { name: 'Plan', exact: true });
	await corner.open();
	await choice.selectOption({ label: "To the gym's own bell" });
	await corner.reload();
	await expect(page.locator('[inert]')).toHaveCount(0);
	await expect(choice).toHaveValue("To the gym's own bell");
});
