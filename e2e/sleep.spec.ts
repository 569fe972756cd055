import type { Page } from '@playwright/test';
import { secondsIn } from './corner';
import { expect, test } from './fixtures';
import { packet } from './packets';

const minute = 60_000;
const plan = { Rounds: 1, 'Round, seconds': 60, 'Get ready, seconds': 0 };

/** Lets the story set the page's clocks: `leap(page, wall, monotonic)` adds milliseconds to each and answers the time left. */
const addLeaps = (page: Page) =>
	page.addInitScript(() => {
		const leaps = { wallMs: 0, monotonicMs: 0 };
		const { now: wallNow } = Date;
		const monotonicNow = performance.now.bind(performance);
		Date.now = () => wallNow() + leaps.wallMs;
		performance.now = () => monotonicNow() + leaps.monotonicMs;
		Object.assign(window, { leaps });
	});
const leap = (page: Page, wallMs: number, monotonicMs = 0) =>
	page.evaluate(
		([wallMs, monotonicMs]) => {
			const { leaps } = window as unknown as { leaps: { wallMs: number; monotonicMs: number } };
			leaps.wallMs += wallMs!;
			leaps.monotonicMs += monotonicMs!;
			return document.querySelector('[role="timer"]')?.textContent ?? '';
		},
		[wallMs, monotonicMs]
	);

test('a computer that sleeps in mid-round finds its session paused at that moment, and asked about', async ({
	page,
	radio,
	corner
}) => {
	await addLeaps(page);
	const strap = await radio.addStrap({ address: '02:00:00:00:00:71', name: 'Chest strap A' });
	await corner.open('skip', plan);
	await corner.pair(strap);
	await corner.start();
	strap.stream(() => packet({ bpm: 151 }));
	await corner.clockDownTo('0:50');

	// The monotonic clock stands still in the sleep, and no packet comes through.
	await strap.silence();
	const shownS = secondsIn(await leap(page, 10 * minute));
	const question = page.getByRole('alert', { name: 'The computer slept' });
	await expect(question).toContainText('The computer slept for 10 minutes.');
	await expect(corner.clock).toContainText(/Round 1 of 1.*paused/);
	const leftS = secondsIn((await corner.timeLeft.textContent())!);
	// Paused at the last sign of life before the gap: no second of the sleep is taken off the round.
	expect(leftS).toBeGreaterThanOrEqual(shownS);

	strap.stream(() => packet({ bpm: 112 }));
	await expect(corner.heartRate).toHaveText('112');
	await question.getByRole('button', { name: 'Go on' }).click();
	await expect(question).toHaveCount(0);
	await expect(corner.clock).not.toContainText('paused');
	await expect.poll(async () => secondsIn((await corner.timeLeft.textContent())!)).toBeLessThan(leftS);

	await test.step('asleep again, on a clock that goes on: finished at once', async () => {
		await strap.silence();
		await leap(page, 3 * minute, 3 * minute);
		await expect(question).toContainText('The computer slept for 3 minutes.');
		await question.getByRole('button', { name: 'Finish' }).click();
		await corner.inReview();
	});
	const [session] = await corner.saved();
	const { events, amendments, endedMs } = session!.head;
	expect(amendments.map(({ kind }) => kind)).toEqual(['pause', 'resume', 'pause', 'finish', 'finish']);
	const slept = events.filter(({ kind }) => kind === 'slept').map(({ ms }) => ms);
	expect(slept).toEqual([Math.round(amendments[0]!.atMs), Math.round(amendments[2]!.atMs)]);
	expect(amendments[1]!.atMs - amendments[0]!.atMs).toBeGreaterThan(10 * minute);
	expect(endedMs).toBeGreaterThan(13 * minute);
});

test('a wall clock set an hour ahead and back again in a round changes nothing', async ({
	page,
	radio,
	corner
}) => {
	await addLeaps(page);
	const strap = await radio.addStrap({ address: '02:00:00:00:00:72', name: 'Chest strap A' });
	await corner.open('skip', plan);
	await corner.pair(strap);
	await corner.start();
	let second = 0;
	strap.stream((now) => packet({ bpm: 140 + (second = now) }));
	await corner.clockDownTo('0:55');

	await leap(page, 60 * minute);
	await corner.clockDownTo('0:50');
	await leap(page, -60 * minute);
	await corner.clockDownTo('0:45');
	await expect(corner.clock).toContainText('Round 1 of 1');
	await expect(corner.clock).not.toContainText('paused');
	await expect
		.poll(async () => 140 + second - Number(await corner.heartRate.textContent()))
		.toBeLessThanOrEqual(2);
	await corner.finish();
	const [session] = await corner.saved();
	expect(session!.head.events).toEqual([]);
	expect(session!.head.endedMs).toBeLessThan(30 * minute);
});
