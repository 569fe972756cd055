import { expect, test } from '../fixtures';
import { packet } from '../packets';

test('a resting measurement over the radio finds the lowest minute and the RMSSD of the intervals sent', async ({
	page,
	radio,
	corner
}) => {
	test.setTimeout(600_000);
	const strap = await radio.addStrap({ address: '02:00:00:00:00:41', name: 'Chest strap R' });
	await page.goto('/tests/');
	await page.getByRole('radio', { name: /Resting rate/ }).check();
	await corner.pair(strap);
	await expect(corner.button('Start')).toBeEnabled();
	// One beat a second, 1000 and 1040 units of 1/1024 s in turn: neighbours differ by 40 units, 39.0625 ms, so that is
	// the RMSSD (Task Force, Circulation 1996;93:1043-65). Minute 3 is the quietest, at 56.
	let beginMs = 0;
	strap.stream((second) => {
		const s = beginMs ? (Date.now() - beginMs) / 1000 : 0;
		const bpm = s >= 150 && s < 225 ? 56 : 60;
		return packet({ bpm, contact: true, rr1024: [second % 2 ? 1000 : 1040] });
	});
	await expect(corner.strap.getByText('60', { exact: true })).toBeVisible();
	await corner.button('Start').click();
	beginMs = Date.now();
	await expect(corner.clock).toContainText('Five quiet minutes');
	await expect(page.getByText('The strap sends the time of each beat.')).toBeVisible();
	const result = page.getByRole('region', { name: 'Result' });
	await expect(result).toBeVisible({ timeout: 400_000 });
	await expect(result).toContainText(/56\s*lowest minute, lying/);
	await expect(result).toContainText(/Formula, error and source\s*39 ms\s*0 % bad beats\s*Signal/);
	await result.getByRole('button', { name: 'Use 56 as the resting rate' }).click();
	await expect(result).toContainText('In use as the resting rate.');
	await page.getByRole('link', { name: 'Me', exact: true }).click();
	await page.getByRole('link', { name: 'Details', exact: true }).click();
	await expect(page.getByRole('spinbutton', { name: /^Resting rate/ })).toHaveValue('56');
});
