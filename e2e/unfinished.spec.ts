import { secondsIn } from './corner';
import { expect, test } from './fixtures';
import { packet } from './packets';

test('a page reloaded in mid-round finds its session: time has gone on, and one click brings the strap back', async ({
	page,
	radio,
	corner
}) => {
	const getReadyS = 3;
	const roundS = 60;
	const strap = await radio.addStrap({ address: '02:00:00:00:00:51', name: 'Chest strap A' });
	await corner.open(
		{ threshold: 170 },
		{ Rounds: 1, 'Round, seconds': roundS, 'Get ready, seconds': getReadyS }
	);
	await corner.pair(strap);
	const pressedMs = await corner.start();
	// A slow machine begins somewhere between the press and the first look at the clock.
	const earliestMs = (await page.evaluate(() => performance.timeOrigin)) + pressedMs;
	const latestMs = Date.now();
	let worn = 0;
	let isAway = false;
	strap.stream((second) => {
		worn = second;
		return packet({ bpm: isAway ? 150 : Math.min(141 + second, 148) });
	});
	await expect(corner.heartRate).toHaveText('148');

	isAway = true;
	const goneS = worn;
	await corner.reload();
	expect(await page.evaluate(() => 'getDevices' in navigator.bluetooth), 'without a flag').toBe(false);
	await expect.poll(() => worn - goneS, 'seconds that the page is away').toBeGreaterThan(4);
	await page.getByRole('link', { name: 'Back to Train' }).click();
	await expect(corner.unfinished).toContainText('A session was left unfinished');
	await expect(corner.unfinished).toContainText('pair the strap again with one press');
	await corner.button('Go on').click();
	await expect(corner.clock).toContainText('Round 1 of 1');
	const shouldS = (startedMs: number) => getReadyS + roundS - (Date.now() - startedMs) / 1000;
	const atMostS = shouldS(latestMs) + 1.5;
	const leftS = secondsIn((await corner.timeLeft.textContent())!);
	// A second that has begun is shown whole.
	expect(leftS).toBeLessThan(atMostS);
	expect(leftS).toBeGreaterThan(shouldS(earliestMs) - 1.5);
	await expect(corner.heartRate).toHaveText('–');

	await corner.pair(strap);
	await expect(corner.heartRate).toHaveText('150');
	await expect(corner.button('Pair strap')).toHaveCount(0);
	const again = strap.delivered.length;
	await expect.poll(() => strap.delivered.length).toBeGreaterThan(again + 2);
	const finishingMs = Date.now();
	await corner.finish();

	await expect(page.getByText('Chest strap A')).toBeVisible();
	const sessions = await corner.saved();
	expect(sessions).toHaveLength(1);
	const { packets } = sessions[0]!;
	const rates = packets.map(({ bpm }) => bpm);
	// The journal is at most a second behind, so the very last packet before the reload may be missing.
	expect(rates.slice(0, 7)).toEqual([141, 142, 143, 144, 145, 146, 147]);
	expect(rates.filter((bpm) => bpm === 150).length).toBeGreaterThan(2);
	const steps = packets.slice(1).map(({ ms }, i) => ms - packets[i]!.ms);
	expect(Math.min(...steps)).toBeGreaterThan(0);
	// The gap is as long as the strap was away, by the wall clock.
	const last = packets.at(-1)!;
	expect(last.ms).toBeGreaterThan(finishingMs - latestMs - 4000);
	expect(last.ms).toBeLessThan(Date.now() - earliestMs);
	expect(Math.max(...steps)).toBeGreaterThan(4000);
});

test('an unfinished session can be kept as it is, and then lies in the review', async ({ page, corner }) => {
	await corner.begin('skip', { Rounds: 1, 'Round, seconds': 60, 'Get ready, seconds': 0 });
	await corner.clockDownTo('0:56');

	await corner.reload();
	await corner.open();
	await corner.button('Save it as it is').click();
	await corner.inReview();
	await expect(await corner.cell('1', 'Length')).toHaveText(/^0:\d\d$/);
	await expect(await corner.cell('1', 'Verdict')).toHaveText('no rest followed');

	await page.getByRole('link', { name: 'Train', exact: true }).click();
	await expect(corner.button('Use simulated strap')).toBeVisible();
	await expect(corner.unfinished).toHaveCount(0);
	const [session] = await corner.saved();
	expect(session!.packets.length).toBeGreaterThan(2);
});

test('an unfinished session can be discarded, and then nothing of it is left', async ({ corner }) => {
	await corner.begin('skip', { Rounds: 1, 'Round, seconds': 60, 'Get ready, seconds': 0 });
	await corner.clockDownTo('0:57');

	await corner.reload();
	await corner.open();
	await corner.button('Discard it').click();
	await expect(corner.unfinished).toHaveCount(0);
	await corner.expectNothingKept();
});
