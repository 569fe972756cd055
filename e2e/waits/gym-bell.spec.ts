import { expect, test } from '../fixtures';
import { dropAt, packet, recoveryBpm } from '../packets';

test("the gym's own bell: a key at each, nothing heard, and the drop is that of the packets between two presses", async ({
	page,
	radio,
	corner
}) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:71', name: 'Chest strap A' });
	await page.addInitScript(() => {
		const { start } = AudioBufferSourceNode.prototype;
		AudioBufferSourceNode.prototype.start = function (...when) {
			// What is rendered for later is not heard, nor is the constant that the sound library keeps, 128 samples long.
			const { dataset } = document.documentElement;
			const isHeard = this.context instanceof AudioContext && (this.buffer?.length ?? 0) > 128;
			if (isHeard) dataset.sounds = String(Number(dataset.sounds ?? 0) + 1);
			return start.apply(this, when);
		};
	});
	await corner.open({ threshold: 150 });
	await page
		.getByRole('combobox', { name: 'Plan', exact: true })
		.selectOption({ label: "To the gym's own bell" });
	await expect(page.getByText('the page is silent')).toBeVisible();
	await corner.pair(strap);
	await corner.start();
	let bellAtMs = Infinity;
	strap.stream(() => packet({ bpm: Math.round(recoveryBpm((Date.now() - bellAtMs) / 1000)) }));
	await expect(corner.clock).toContainText('Waiting for the first bell');
	await expect(page.getByRole('timer', { name: 'Time gone' })).toBeVisible();

	await page.keyboard.press('?');
	const keys = page.getByRole('dialog', { name: 'Keyboard shortcuts' });
	await expect(keys).toContainText('At each bell of the hall');
	await expect(keys).not.toContainText('Rest 30 seconds longer');
	await page.keyboard.press('Escape');
	// Until it is gone a key belongs to the sheet.
	await expect(keys).toBeHidden();

	await page.keyboard.press('Space');
	await expect(corner.clock).toHaveText(/^\s*Round 1\s/);
	await corner.clockUpTo('0:05');
	await expect(page.getByText('The closing burst is not counted apart')).toBeVisible();

	await test.step("the referee's stop, and time", async () => {
		await page.keyboard.press('t');
		await expect(corner.clock).toContainText('paused');
		await page.getByRole('button', { name: 'Time', exact: true }).click();
		await expect(corner.clock).not.toContainText('paused');
	});
	await corner.clockUpTo('0:18');
	await expect(corner.overThreshold).not.toContainText(/\+\s*\S+ closing burst/);

	// The mouse has left no focus behind that would take the key for a press of the button.
	await page.keyboard.press('Space');
	bellAtMs = Date.now();
	await expect(corner.clock).toContainText('Rest after round 1');
	await corner.clockUpTo('1:02');
	await page.keyboard.press('PageDown');
	await expect(corner.clock).toHaveText(/^\s*Round 2\s/);
	expect(await page.evaluate(() => document.documentElement.dataset.sounds), 'sounds').toBeUndefined();
	await corner.finish();

	await expect(await corner.cell('1', 'Closing burst')).toHaveText('–');
	await expect(page.getByText("only the gym's own bell knows when the round ends")).toBeVisible();
	const [session] = await corner.saved();
	expect(session!.head.amendments.map(({ kind }) => kind)).toEqual([
		'next',
		'pause',
		'resume',
		'next',
		'next',
		'finish',
		'finish'
	]);
	const [, , , bell, nextBell] = session!.head.amendments;
	const arrivals = session!.packets.map(({ ms, bpm }) => ({ s: (ms - bell!.atMs) / 1000, bpm }));
	const drop60 = dropAt(arrivals, 0, 60);
	// By hand, as in the story of the rest: 37.0, and a packet more or less on the way.
	expect(Math.abs(drop60 - 37)).toBeLessThan(2);
	const { rest } = session!.summary!.rounds[0]!;
	expect(rest).toMatchObject({ startMs: bell!.atMs, endMs: nextBell!.atMs });
	expect(rest!.drop60).toBeCloseTo(drop60, 6);
	await expect(await corner.cell('1', '1-minute drop')).toContainText(`${Math.round(drop60)}`);
	await expect(await corner.cell('1', 'Rest')).toHaveText(/^1:\d\d$/);
});
