import { Corner } from '../corner';
import { expect, test } from '../fixtures';
import { framesOf } from '../frames';
import { Squad } from '../squad';

const names = ['Odalys', 'Tomas', 'Nerea of the very long name', 'Adem', 'Ilse', 'Bao', 'Kofi'];
const plan = { Rounds: 12, 'Round, seconds': 180, 'Rest, seconds': 60, 'Get ready, seconds': 0 };

test('eight corners fit and read on a laptop and on a phone, and can be watched from a second tab', async ({
	page,
	radio,
	corner,
	squad
}) => {
	await corner.open({ threshold: 170 }, plan);
	for (const [i, name] of names.entries()) await squad.add(i + 2, name);
	for (let number = 1; number <= 8; number++) await squad.practise(number);
	await corner.start();

	for (const phase of ['Round 1 of 12', 'Rest after round 1']) {
		await expect(corner.clock).toContainText(phase);
		for (const size of [
			{ width: 1366, height: 768 },
			{ width: 390, height: 844 }
		]) {
			await page.setViewportSize(size);
			const where = `${phase}, ${size.width} wide`;
			const controls = (await page.getByRole('group', { name: 'Controls' }).boundingBox())!;
			await expect(corner.timeLeft, where).toBeInViewport({ ratio: 1 });
			for (let number = 1; number <= 8; number++) {
				const lane = squad.lane(number);
				await expect(lane, where).toBeInViewport({ ratio: 1 });
				await expect(squad.reading(number, 'Heart rate'), where).toHaveText(/^\d+$/);
				const box = (await lane.boundingBox())!;
				expect(box.y + box.height, `${where}: lane ${number} above the controls`).toBeLessThanOrEqual(
					controls.y + 1
				);
				// A figure of 24 px is read at arm's length; on the laptop twice that, from the ropes.
				const rate = (await squad.reading(number, 'Heart rate').boundingBox())!;
				expect(rate.height, `${where}: beats of lane ${number}`).toBeGreaterThanOrEqual(
					size.width > 1000 ? 48 : 24
				);
				expect(rate.y + rate.height, `${where}: beats of lane ${number}`).toBeLessThanOrEqual(
					box.y + box.height + 1
				);
			}
			expect(
				await page.evaluate(() => document.documentElement.scrollWidth - innerWidth),
				`${where}: pixels beyond the right edge`
			).toBe(0);
		}
		await corner.button('Next').click();
	}

	// On the smallest phone the lanes scroll, and a glove still finds each of them.
	await page.setViewportSize({ width: 360, height: 740 });
	for (let number = 1; number <= 8; number++) {
		const swap = (await squad
			.lane(number)
			.getByRole('button', { name: /^Swap strap/ })
			.boundingBox())!;
		expect(Math.min(swap.width, swap.height), `swap of lane ${number}`).toBeGreaterThanOrEqual(64);
	}
	expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);

	// How fast depends on the machine; that nothing holds the painting up for good does not.
	const frames = await framesOf(page, 2);
	test.info().annotations.push({ type: 'frames a second', description: frames.perSecond.toFixed(1) });
	expect(frames.longestMs, 'the longest wait for a frame').toBeLessThan(2000);

	const second = new Corner(await page.context().newPage(), radio);
	const watching = new Squad(second, radio);
	await second.page.goto('/live/');
	await expect(second.page.getByText('Watching.')).toBeVisible();
	await expect(watching.reading(8, 'Heart rate')).toHaveText(/^\d+$/);
	await expect(second.page.getByRole('button', { name: /^Swap/ })).toHaveCount(0);
	await second.page.keyboard.press('3');
	await expect(second.heartRate).toHaveText(/^\d+$/);
	await expect(second.page.getByRole('button', { name: 'All boxers' })).toBeVisible();
});

test('a session of two corners that was left unfinished goes on with both, and one press brings both simulated straps back', async ({
	page,
	corner,
	squad
}) => {
	await corner.open('skip', { ...plan, Rounds: 1 });
	await squad.add(2, 'Odalys');
	await squad.practise(1);
	await squad.practise(2);
	await corner.start();
	await corner.clockDownTo('2:56');

	await corner.reload();
	await corner.open();
	await corner.button('Go on').click();
	await expect(squad.lane(1)).toContainText('no strap');
	await expect(squad.lane(2)).toContainText('no strap');
	await squad.lane(2).getByRole('button', { name: 'Use simulated strap' }).click();
	for (const number of [1, 2]) await expect(squad.reading(number, 'Heart rate')).toHaveText(/^\d+$/);
	await corner.clockDownTo('2:50');
	await corner.finish();

	const kept = await corner.saved();
	expect(kept.map(({ head }) => head.athlete.name).sort()).toEqual(['Me', 'Odalys']);
	for (const { head, packets } of kept) {
		expect(head.strapChanges, 'the same strap came back').toBeUndefined();
		expect(packets.length).toBeGreaterThan(4);
	}
	await page.getByRole('link', { name: 'Train', exact: true }).click();
	await expect(squad.place(2), 'the corners stay for the next bout').toContainText('Simulated strap 2');
});
