import { expect, test } from '../fixtures';
import { arrivalsOf, dropAt, packet, recoveryBpm } from '../packets';

const getReadyS = 3;
const roundS = 12;
const bellS = getReadyS + roundS;
const plan = { Rounds: 2, 'Round, seconds': roundS, 'Rest, seconds': 60, 'Get ready, seconds': getReadyS };

test('one strap is lost in the rest while the other one’s drop is measured to the beat; then somebody joins and leaves', async ({
	page,
	radio,
	corner,
	squad
}) => {
	const red = await radio.addStrap({ address: '02:00:00:00:00:61', name: 'Chest strap red' });
	const blue = await radio.addStrap({ address: '02:00:00:00:00:62', name: 'Chest strap blue' });
	await corner.open({ threshold: 170 }, plan);
	await squad.add(2, 'Odalys');
	await squad.pair(1, red);
	await squad.pair(2, blue);
	const startMs = await corner.start();
	const fromS = await corner.middleOfSecond(startMs);
	red.stream((second) => packet({ bpm: Math.round(recoveryBpm(fromS + second - bellS)) }));
	blue.stream(() => packet({ bpm: 131 }));

	await test.step('each corner shows its own heart', async () => {
		await expect(squad.reading(1, 'Heart rate')).toHaveText('180');
		await expect(squad.reading(2, 'Heart rate')).toHaveText('131');
	});

	await expect(corner.clock).toContainText('Rest after round 1');
	await corner.clockDownTo('0:45');
	blue.refuse(1000);
	await blue.drop();
	await expect(squad.lane(2)).toContainText('signal lost');
	await expect(squad.reading(2, 'Heart rate')).toHaveText('–');
	await expect(squad.lane(1)).not.toContainText('signal lost');

	await test.step('the chosen corner fills the screen, by key and by click, and gives it back', async () => {
		await page.keyboard.press('1');
		await expect(page.getByRole('img', { name: /^Bell rate 180, down/ })).toBeVisible();
		await page.getByRole('button', { name: 'Enlarge boxer 2, Odalys' }).click();
		await expect(page.getByText('The page keeps trying; the clock goes on.')).toBeVisible();
		await page.keyboard.press('0');
		await expect(squad.lane(2)).toBeVisible();
		await squad.lane(1).click({ position: { x: 250, y: 40 } });
		await expect(page.getByRole('img', { name: /^Bell rate 180, down/ })).toBeVisible();
		await page.getByRole('button', { name: 'All boxers' }).click();
	});

	const { dialog, close } = await squad.open();
	await test.step('a third athlete joins on a simulated strap', async () => {
		await squad.newcomer(dialog, 'Somebody joins', 'Tomas');
		await dialog.getByRole('button', { name: 'Use simulated strap' }).click();
		await expect(dialog.getByRole('listitem')).toHaveCount(3);
		await close();
		await expect(squad.reading(3, 'Heart rate')).toHaveText(/^\d+$/);
	});

	await expect(corner.clock).toContainText('Round 2 of 2', { timeout: 120_000 });
	const drop60 = dropAt(arrivalsOf(red.delivered, startMs), bellS, 60);
	await expect(squad.reading(1, 'Rest drop')).toContainText(`${Math.round(drop60)}`);
	await expect(squad.reading(1, 'Rest drop')).toContainText('too close to call');

	await test.step('the one without a signal leaves', async () => {
		const again = await squad.open();
		const leaves = again.dialog.getByRole('listitem').filter({ hasText: 'Odalys' });
		await leaves.getByRole('button', { name: 'Leaves', exact: true }).click();
		await leaves.getByRole('button', { name: 'Yes, Odalys leaves' }).click();
		await again.close();
		await expect(squad.lane(2)).toHaveCount(0);
		await expect(squad.lane(3)).toBeVisible();
	});
	await corner.finish();

	await expect(await squad.cell('Me', 'Round 1')).toContainText(`${Math.round(drop60)} at the bell 180`);
	await expect(await squad.cell('Tomas', 'Round 1')).toHaveText('not there');
	await page.getByRole('link', { name: 'Odalys' }).click();
	await expect(page.getByText('The signal was lost once; gaps stay gaps.')).toBeVisible();
	await expect(page.getByText(/^Left at 1:\d\d; the session went on\.$/)).toBeVisible();
	await expect(await squad.cell('Odalys', 'Round 1')).toContainText('–');

	const kept = await corner.saved();
	const named = (name: string) => kept.find(({ head }) => head.athlete.name === name)!;
	expect(kept).toHaveLength(3);
	expect(new Set(kept.map(({ head }) => head.groupId)).size).toBe(1);
	expect(named('Me').summary!.rounds[0]!.rest!.drop60).toBeCloseTo(drop60, 6);
	expect(named('Me').head.events).toEqual([]);
	expect(named('Odalys').head.events.map(({ kind }) => kind)).toEqual(['signal lost']);
	expect(new Set(named('Odalys').packets.map(({ bpm }) => bpm))).toEqual(new Set([131]));
	expect(named('Odalys').head.endedMs).toBeLessThan(named('Me').head.endedMs);
	expect(named('Tomas').head.joinedMs).toBeGreaterThan(bellS * 1000);
	expect(named('Tomas').packets[0]!.ms).toBeGreaterThan(named('Tomas').head.joinedMs!);
});

test('straps that answer for the wrong athletes change places in two clicks, and are known by name the next time', async ({
	page,
	radio,
	corner,
	squad
}) => {
	const red = await radio.addStrap({ address: '02:00:00:00:00:63', name: 'Chest strap red' });
	const blue = await radio.addStrap({ address: '02:00:00:00:00:64', name: 'Chest strap blue' });
	await corner.open('skip', { Rounds: 1, 'Round, seconds': 60, 'Get ready, seconds': 0 });
	await squad.add(2, 'Odalys');
	await squad.pair(1, red);
	await test.step('one strap is never worn in two corners', async () => {
		const answered = radio.choose(red);
		await squad.place(2).getByRole('button', { name: 'Pair strap' }).click();
		await answered;
		await expect(squad.place(2).getByRole('alert')).toContainText('Me wears that strap.');
		await expect(squad.place(2)).toContainText('No strap yet');
		await expect(squad.place(1)).toContainText('Chest strap red');
	});
	await squad.pair(2, blue);
	await corner.start();
	red.stream(() => packet({ bpm: 111 }));
	blue.stream(() => packet({ bpm: 166 }));
	await expect(squad.reading(1, 'Heart rate')).toHaveText('111');
	await corner.clockDownTo('0:54');

	await squad.swap(1, 2);
	await expect(squad.reading(1, 'Heart rate')).toHaveText('166');
	await expect(squad.reading(2, 'Heart rate')).toHaveText('111');
	await corner.clockDownTo('0:49');
	await corner.finish();
	await expect(
		page.getByText(/^From 0:\d\d on the readings are those of another strap: Chest strap blue/)
	).toBeVisible();

	const kept = await corner.saved();
	for (const [name, before, after] of [
		['Me', 111, 166],
		['Odalys', 166, 111]
	] as const) {
		const { head, packets } = kept.find((one) => one.head.athlete.name === name)!;
		const [change] = head.strapChanges!;
		expect(change!.strapName).toBe(name === 'Me' ? 'Chest strap blue' : 'Chest strap red');
		expect(new Set(packets.filter(({ ms }) => ms <= change!.ms).map(({ bpm }) => bpm))).toEqual(
			new Set([before])
		);
		expect(new Set(packets.filter(({ ms }) => ms > change!.ms).map(({ bpm }) => bpm))).toEqual(
			new Set([after])
		);
		expect(packets.filter(({ ms }) => ms > change!.ms).length).toBeGreaterThan(2);
	}

	await test.step('the next day the strap itself says who wears it', async () => {
		await corner.reload();
		await page.getByRole('link', { name: 'Train', exact: true }).click();
		await page.getByRole('button', { name: 'Add a boxer' }).click();
		await squad.pair(1, red);
		await expect(squad.place(1).getByRole('combobox', { name: 'Athlete' })).toHaveValue(
			kept.find(({ head }) => head.athlete.name === 'Odalys')!.head.athlete.athleteId
		);
	});
});

test('where two athletes have worn a strap of one name, the page asks who wears it now', async ({
	page,
	radio,
	corner,
	squad
}) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:65', name: 'Gym strap' });
	const who = page.getByRole('combobox', { name: 'Who boxes' });
	const falseStart = async () => {
		await corner.start();
		await corner.scrap();
		await expect(corner.button('Start')).toBeVisible();
	};
	await corner.open('skip');
	await squad.add(2, 'Odalys');
	await squad.place(2).getByRole('button', { name: 'Remove' }).click();
	await corner.pair(strap);
	await expect(corner.strap).toContainText('connected');
	await falseStart();
	await who.selectOption('Odalys');
	await falseStart();

	await page.getByRole('button', { name: 'Disconnect' }).click();
	await corner.pair(strap);
	const question = page.getByRole('group', { name: 'Who wears Gym strap?' });
	await expect(question).toContainText('2 athletes have worn a strap called Gym strap.');
	await question.getByRole('button', { name: 'Me', exact: true }).click();
	await expect(question).toHaveCount(0);
	await expect(who.locator('option:checked')).toHaveText('Me');
});
