import { expect, test } from './fixtures';
import { noteWords } from './noted';
import { meanRate } from './packets';

const share = 0.75;
const thresholds = { Me: 172, Odalys: 172 };

test('a rest ends ten seconds after the slower of two hearts has come down to its share, and is kept as it was given', async ({
	page,
	corner,
	squad
}) => {
	await corner.open(
		{ threshold: thresholds.Me },
		{ Rounds: 2, 'Round, seconds': 120, 'Get ready, seconds': 0 }
	);
	await page
		.getByRole('combobox', { name: 'Who rings the bell' })
		.selectOption({ label: 'The page, rest until recovered' });
	await page.getByRole('spinbutton', { name: 'Longest rest, seconds' }).fill('20');
	await expect(page.getByText('make the longest one at least that long')).toBeVisible();
	await page.getByRole('spinbutton', { name: 'Longest rest, seconds' }).fill('240');
	await expect(page.getByText('Up to 9:00,')).toBeVisible();
	await squad.add(2, 'Odalys');

	await test.step('each has a threshold of their own', async () => {
		await page.getByRole('navigation', { name: 'Main' }).getByRole('link', { name: 'Athletes' }).click();
		await page.getByRole('link', { name: 'Details', exact: true }).click();
		const who = page.getByRole('combobox', { name: 'Athlete' });
		await who.selectOption('Odalys');
		const threshold = page.getByRole('spinbutton', { name: /^Threshold/ });
		await threshold.fill(String(thresholds.Odalys));
		await threshold.press('Tab');
		await who.selectOption('Me');
		await page.getByRole('link', { name: 'Train', exact: true }).click();
	});
	await page.getByRole('combobox', { name: 'Simulation speed' }).selectOption('12 times as fast');
	await squad.practise(1);
	// This simulated heart falls faster than the first one.
	await squad.practise(2);
	const slowOneWaitedFor = await noteWords(
		page,
		/Rest until recovered: waiting for .*Odalys \(\d+, down to \d+\)/,
		/Rest until recovered: waiting for Me \(\d+, down to 129\)\./
	);
	await corner.start();

	await expect(corner.clock).toContainText('Rest after round 1');
	await slowOneWaitedFor();
	await expect(corner.clock).toContainText('Round 2 of 2');
	await corner.finish();

	const kept = await corner.saved();
	expect(kept).toHaveLength(2);
	const [over] = kept[0]!.head.amendments.filter(({ kind }) => kind === 'rest over');
	for (const { head } of kept)
		expect(head.amendments.filter(({ kind }) => kind === 'rest over')).toEqual([over]);

	const roundEndMs = 120_000;
	const meanAt = (name: string, atMs: number) => {
		const { packets } = kept.find(({ head }) => head.athlete.name === name)!;
		const restS = Math.floor((atMs - roundEndMs) / 1000);
		const arrivals = packets.map(({ ms, bpm }) => ({ s: (ms - roundEndMs) / 1000, bpm }));
		return meanRate(arrivals, restS - 5, restS)!;
	};
	// Both are down when it is noted, and some seconds before only the fast one was. Sped up, packets come in
	// bursts, so the page may have looked a second or two before the last of them: a beat or two.
	const nearly = 2;
	expect(meanAt('Me', over!.atMs)).toBeLessThanOrEqual(thresholds.Me * share + nearly);
	expect(meanAt('Odalys', over!.atMs)).toBeLessThanOrEqual(thresholds.Odalys * share + nearly);
	expect(meanAt('Me', over!.atMs - 15_000)).toBeGreaterThan(thresholds.Me * share);
	expect(meanAt('Odalys', over!.atMs - 15_000)).toBeLessThanOrEqual(thresholds.Odalys * share);

	const [round] = kept[0]!.summary!.rounds;
	expect(round!.rest).toMatchObject({ startMs: roundEndMs, endMs: over!.atMs + 10_000 });
});

test('a heart that is down at once still gets thirty seconds, shown and not judged', async ({
	page,
	corner
}) => {
	await corner.open({ threshold: 220 }, { Rounds: 2, 'Round, seconds': 30, 'Get ready, seconds': 0 });
	await page
		.getByRole('combobox', { name: 'Who rings the bell' })
		.selectOption({ label: 'The page, rest until recovered' });
	await page.getByRole('spinbutton', { name: 'Longest rest, seconds' }).fill('240');
	await corner.practise('12 times as fast');
	const bothStood = await noteWords(
		page,
		/down; the bell comes after 30 seconds\./,
		/the bell follows the whistle/
	);
	await corner.start();
	await bothStood();
	await expect(corner.clock).toContainText('Round 2 of 2');
	await corner.finish();

	await expect(await corner.cell('1', 'Verdict')).toContainText('over the rest that was given');
	await expect(page.getByText('The rest ended before 60 seconds.')).toBeVisible();
	await expect(await corner.cell('1', '1-minute drop')).toHaveText('–');
	const [session] = await corner.saved();
	const [over] = session!.head.amendments.filter(({ kind }) => kind === 'rest over');
	const { rest } = session!.summary!.rounds[0]!;
	expect(rest!.endMs).toBe(Math.max(60_000, over!.atMs + 10_000));
	expect(over!.atMs).toBeGreaterThanOrEqual(50_000);
	// A second that has begun is counted whole.
	const givenS = Math.ceil((rest!.endMs - 30_000) / 1000 - 0.001);
	await expect(await corner.cell('1', 'Rest')).toHaveText(`0:${givenS}`);
});
