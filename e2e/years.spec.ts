import { copyKept } from './copies';
import { expect, test } from './fixtures';

test('a long history shows its newest sessions first, and what lacks its figures gets them meanwhile', async ({
	page,
	corner
}) => {
	await corner.open();
	// Low, so that the round counts as hard and its rest is judged: progress is of judged rests.
	await corner.answer({ threshold: 110 });
	await corner.plan({ Rounds: 1, 'Round, seconds': 60, 'Rest, seconds': 10, 'Get ready, seconds': 5 });
	await corner.practise('60 times as fast');
	await corner.start();
	await corner.inReview();
	await copyKept(page, 119, 4);

	await corner.openSessions();
	const rows = page.getByRole('main').getByRole('listitem');
	await expect(rows).toHaveCount(50);
	await expect(rows.getByText('1-minute drop')).toHaveCount(50);
	await page.getByRole('button', { name: 'Show older ones (50 of 120 are shown)' }).click();
	await expect(rows).toHaveCount(100);
	await expect(rows.getByText('1-minute drop')).toHaveCount(100);
	await page.getByRole('button', { name: 'Show older ones (100 of 120 are shown)' }).click();
	await expect(rows).toHaveCount(120);
	await expect(page.getByRole('button', { name: /Show older/ })).toHaveCount(0);

	await page.getByRole('link', { name: 'Me', exact: true }).click();
	// 365 days, one of the copies every fourth.
	await expect(page.getByRole('group', { name: '1-minute drop, 91 measurements' })).toBeVisible();
	await expect(page.getByText('The year up to the last of each;')).toBeVisible();
	await page.getByRole('link', { name: 'Progress', exact: true }).click();
	await expect(page.getByRole('group', { name: '1-minute drop, 119 measurements' })).toBeVisible();
	await expect(page.getByRole('progressbar')).toHaveCount(0);
	// As many as cannot be told apart: one is picked at a time, the latest at first.
	const picked = page.getByRole('group', { name: '1-minute drop, 119 measurements' }).getByRole('link');
	await expect(picked).toHaveCount(1);
	const latest = await picked.getAttribute('href');
	await picked.focus();
	await page.keyboard.press('ArrowLeft');
	await expect(picked).not.toHaveAttribute('href', latest!);
	const before = await picked.getAttribute('href');
	await page.keyboard.press('End');
	await expect(picked).toHaveAttribute('href', latest!);
	await page.keyboard.press('ArrowLeft');
	await page.keyboard.press('Enter');
	await expect(page).toHaveURL(new RegExp(`${before}$`));
	const kept = await corner.saved();
	expect(kept.filter(({ summary }) => summary?.rounds[0]?.rest?.drop60 === undefined)).toEqual([]);
});
