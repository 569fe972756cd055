import config from '../playwright.config';
import { findChromium } from './find-chromium.js';
import { expect, test } from './fixtures';
import { packet } from './packets';
import { Squad } from './squad';

// Chromium tells what devices it permits, and keeps that over a reload, behind this flag alone, and with its windows.
const flag = 'WebBluetoothNewPermissionsBackend';
const { args, ...launchOptions } = config.use!.launchOptions!;
test.use({
	launchOptions: {
		...launchOptions,
		executablePath: findChromium(),
		args: args!.map((arg) => (arg.startsWith('--enable-features=') ? `${arg},${flag}` : arg))
	}
});

test('where the browser permits it, a page reloaded in mid-round has its strap back with no press but Go on', async ({
	page,
	radio,
	corner
}) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:54', name: 'Chest strap A' });
	await corner.open();
	await corner.answer({ threshold: 170 });
	await corner.plan({ Rounds: 1, 'Round, seconds': 120, 'Get ready, seconds': 0 });
	await corner.pair(strap);
	await corner.start();
	let bpm = 141;
	strap.stream(() => packet({ bpm }));
	await expect(corner.heartRate).toHaveText('141');
	// The journal is at most a second behind.
	await expect.poll(() => strap.delivered.length).toBeGreaterThan(3);

	bpm = 150;
	await corner.reload();
	await page.getByRole('link', { name: 'Back to Train' }).click();
	await corner.button('Go on').click();
	await expect(corner.clock).toContainText('Round 1 of 1');
	await expect(corner.heartRate).toHaveText('150');
	await expect(corner.button('Pair strap')).toHaveCount(0);
	const again = strap.delivered.length;
	await expect.poll(() => strap.delivered.length).toBeGreaterThan(again + 2);
	await corner.finish();

	const [session, ...others] = await corner.saved();
	expect(others).toEqual([]);
	expect(session!.head.strapChanges, 'it is the strap of before').toBeUndefined();
	const rates = session!.packets.map(({ bpm }) => bpm);
	expect(rates.filter((rate) => rate === 141).length).toBeGreaterThan(0);
	expect(rates.filter((rate) => rate === 150).length).toBeGreaterThan(2);
});

test('of several boxers each has their own strap back, and one whose name two straps have is asked for', async ({
	page,
	radio,
	corner
}) => {
	const [red, worn, other] = [
		await radio.addStrap({ address: '02:00:00:00:00:55', name: 'Chest strap red' }),
		await radio.addStrap({ address: '02:00:00:00:00:56', name: 'Gym strap' }),
		await radio.addStrap({ address: '02:00:00:00:00:57', name: 'Gym strap' })
	];
	const squad = new Squad(corner, radio);
	await corner.open();
	await corner.answer('skip');
	await corner.plan({ Rounds: 1, 'Round, seconds': 300, 'Get ready, seconds': 0 });
	await squad.add(2, 'Odalys');
	await squad.pair(1, red);
	await squad.pair(2, other);
	await squad.place(2).getByRole('button', { name: 'Disconnect' }).click();
	await squad.pair(2, worn);
	await corner.start();
	red.stream(() => packet({ bpm: 111 }));
	await expect(squad.reading(1, 'Heart rate')).toHaveText('111');

	await corner.reload();
	const before = [worn, other].map(({ attempts }) => attempts);
	await page.getByRole('link', { name: 'Back to Train' }).click();
	await corner.button('Go on').click();
	await expect(squad.reading(1, 'Heart rate')).toHaveText('111');
	await expect(squad.lane(2).getByRole('button', { name: 'Pair strap' })).toBeVisible();
	expect([worn, other].map(({ attempts }) => attempts)).toEqual(before);

	const answered = radio.choose(worn);
	await squad.lane(2).getByRole('button', { name: 'Pair strap' }).click();
	await answered;
	worn.stream(() => packet({ bpm: 133 }));
	await expect(squad.reading(2, 'Heart rate')).toHaveText('133');
});
