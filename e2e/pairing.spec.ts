import { expect, test } from './fixtures';
import { packet } from './packets';

test('a strap is found after a dismissed chooser, says what it is, and is ready after ten steady seconds', async ({
	page,
	radio,
	corner
}) => {
	const strap = await radio.addStrap({
		address: '02:00:00:00:00:11',
		name: 'Chest strap A',
		batteryPercent: 87,
		location: 1
	});
	await corner.open();

	await corner.pair('cancel');
	await expect(corner.strap).toContainText('Wet it, put it on, then pair it.');
	await expect(page.getByRole('alert')).toHaveCount(0);
	await expect(corner.button('Start')).toBeDisabled();
	expect(strap.attempts).toBe(0);

	await corner.pair(strap);
	await expect(corner.strap).toContainText('Chest strap A');
	await expect(corner.strap).toContainText('connected, chest, battery 87 %');
	await expect(corner.button('Start')).toBeEnabled();

	const drySeconds = 3;
	strap.stream((second) => packet({ bpm: 72 + (second % 2), contact: second >= drySeconds }));
	await expect(corner.strap).toContainText('No skin contact: wet the strap and pull it tighter.');
	await expect(corner.strap).toContainText('ten seconds of steady beats');
	await expect(corner.strap).not.toContainText('ready');
	await expect(corner.strap).toContainText('Steady for ten seconds: ready.');
	await expect(corner.strap).toContainText(/7[23] beats a minute/);
	// One a second, ten of them where each comes on time. On a busy machine they come up to half a second early or late
	// to each other, so they are counted, and one may be wanting.
	expect(strap.delivered.length - drySeconds, 'packets on the skin').toBeGreaterThanOrEqual(9);
});

test('a strap that refuses to answer is named with what may be the matter, and can be tried again', async ({
	page,
	radio,
	corner
}) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:12', name: 'Chest strap B' });
	await corner.open();

	strap.refuse(3);
	await corner.pair(strap);
	await expect(page.getByRole('alert')).toContainText('The strap did not answer.');
	await expect(corner.button('Start')).toBeDisabled();

	await corner.pair(strap);
	await expect(corner.strap).toContainText('Chest strap B');
	await expect(page.getByRole('alert')).toHaveCount(0);
	await expect(corner.button('Start')).toBeEnabled();
});
