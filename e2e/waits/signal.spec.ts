import { expect, test } from '../fixtures';
import { arrivalsOf, dropAt, packet, recoveryBpm } from '../packets';

const getReadyS = 3;
const roundS = 10;
const bellS = getReadyS + roundS;
const plan = { 'Round, seconds': roundS, 'Rest, seconds': 60, 'Get ready, seconds': getReadyS };

const rateAt = (elapsedS: number) => Math.round(recoveryBpm(elapsedS - bellS));

test('a strap lost in mid-rest comes back by itself after two refusals, and the drop is still right', async ({
	page,
	radio,
	corner
}) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:31', name: 'Chest strap A' });
	await corner.open({ threshold: 170 }, { ...plan, Rounds: 2 });
	await corner.pair(strap);
	const startMs = await corner.start();
	const fromS = await corner.middleOfSecond(startMs);
	strap.stream((second) => packet({ bpm: rateAt(fromS + second) }));

	await expect(corner.clock).toContainText('Rest after round 1');
	await corner.clockDownTo('0:40');
	strap.refuse(2);
	await strap.drop();

	await expect(page.getByText(/^signal lost \d+ s ago$/)).toBeVisible();
	await expect(corner.heartRate).toHaveText('–');
	await expect(page.getByText('The page keeps trying; the clock goes on.')).toBeVisible();
	await corner.clockDownTo('0:38');

	await expect(corner.heartRate).toHaveText(/^1[45]\d$/);
	await expect(page.getByText('signal lost')).toHaveCount(0);
	expect(strap.attempts, 'the first, two refused, one that held').toBe(4);

	await expect(corner.clock).toContainText('Round 2 of 2', { timeout: 120_000 });
	const drop60 = dropAt(arrivalsOf(strap.delivered, startMs), bellS, 60);
	await expect(corner.restDrop).toContainText(`${Math.round(drop60)} in rest 1`);

	await corner.finish();
	await expect(page.getByText('The signal was lost once; gaps stay gaps.')).toBeVisible();
	await expect(await corner.cell('1', '1-minute drop')).toHaveText(
		`${Math.round(drop60)} ± ${Math.round(0.2 * drop60)}`
	);

	const [session] = await corner.saved();
	const { events } = session!.head;
	expect(events.map(({ kind }) => kind)).toEqual(['signal lost', 'signal back']);
	const [lostMs, backMs] = events.map(({ ms }) => ms) as [number, number];
	const between = session!.packets.filter(({ ms }) => ms > lostMs && ms < backMs);
	expect(between).toEqual([]);
	// Both refusals cost their backoff, a quarter and half a second, and the third try another second.
	expect(backMs - lostMs).toBeGreaterThan(1700);
	const heard = session!.packets.filter(({ ms }) => ms < lostMs).length;
	expect(heard, 'packets of the round and of the rest so far').toBeGreaterThan(roundS + 10);
	expect(session!.packets.length, 'packets after the loss').toBeGreaterThan(heard);
	expect(session!.packets.map(({ bpm }) => bpm)).toEqual(
		arrivalsOf(strap.delivered, startMs)
			.slice(0, session!.packets.length)
			.map(({ bpm }) => bpm)
	);
});

test('a rest whose last seconds are lost has no drop at 60 and is not judged, and says why', async ({
	page,
	radio,
	corner
}) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:32', name: 'Chest strap B' });
	await corner.open({ threshold: 170 }, { ...plan, Rounds: 1 });
	await corner.pair(strap);
	const startMs = await corner.start();
	const fromS = await corner.middleOfSecond(startMs);
	strap.stream((second) => packet({ bpm: rateAt(fromS + second) }));

	await expect(corner.clock).toContainText('The last minute');
	await corner.clockDownTo('0:08');
	await strap.silence();
	await expect(page.getByText(/^no beats for \d+ s$/)).toBeVisible();
	await expect(page.getByText('The strap is connected and silent.')).toBeVisible();

	await corner.inReview();
	const drop30 = dropAt(arrivalsOf(strap.delivered, startMs), bellS, 30);
	await expect(await corner.cell('1', 'Drop at 0:30')).toHaveText(`${Math.round(drop30)}`);
	await expect(await corner.cell('1', '1-minute drop')).toHaveText('–');
	await expect(await corner.cell('1', 'After 1 min')).toHaveText('–');
	await expect(await corner.cell('1', 'Verdict')).toContainText('not judged');
	await expect(await corner.cell('1', 'Verdict')).toContainText(
		'Too few readings in the 5 seconds before second 60.'
	);
	await expect(page.getByText('no rest of a full minute with a clean signal')).toBeVisible();
});
