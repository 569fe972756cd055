import { Bluez } from '../bluez';
import { Corner } from '../corner';
import { expect, test as base } from '../fixtures';
import { arrivalsOf, dropAt, packet, recoveryBpm } from '../packets';
import { Squad } from '../squad';

/** Stories whose packets are pushed, by Chromium's own BlueZ client: see `Bluez`. */
const test = base.extend<{ bluez: Bluez }>({
	// eslint-disable-next-line no-empty-pattern -- Playwright reads from the pattern what a fixture stands on: nothing
	bluez: async ({}, use) => {
		const bluez = await Bluez.start();
		await use(bluez);
		await bluez.off();
	},
	environment: async ({ bluez }, use) => use(bluez.environment),
	corner: async ({ page, bluez }, use) => {
		await bluez.serve(page);
		await use(new Corner(page, bluez));
	},
	squad: async ({ corner, bluez }, use) => use(new Squad(corner, bluez))
});

// A round that no machine is too slow for.
const longRound = { Rounds: 1, 'Round, seconds': 900, 'Get ready, seconds': 0 };
const bpmOf = (packets: readonly number[][]) => packets.map(([, bpm]) => bpm);

test('what a strap pushes, one by one and in a burst, is what is kept, and the drop of the rest is its own', async ({
	bluez,
	corner
}) => {
	const getReadyS = 3;
	const roundS = 10;
	const bellS = getReadyS + roundS;
	const rateAt = (elapsedS: number) => Math.round(recoveryBpm(elapsedS - bellS));
	const strap = bluez.addStrap({ address: '02:00:00:00:0B:01', name: 'Chest strap A' });
	await corner.open(
		{ threshold: 170 },
		{ Rounds: 1, 'Round, seconds': roundS, 'Rest, seconds': 60, 'Get ready, seconds': getReadyS }
	);
	await corner.pair(strap);
	const startMs = await corner.start();
	const fromS = await corner.middleOfSecond(startMs);
	strap.stream((second) => packet({ bpm: rateAt(fromS + second), contact: true }));
	await expect(corner.heartRate).toHaveText('180');

	await expect(corner.clock).toContainText('The last minute');
	await corner.clockDownTo('0:40');
	// The radio held back, and hands over all at once: the last of them is the present one.
	for (const bpm of [164, 163, 162, 161, 160]) strap.notify(packet({ bpm, contact: true }));

	await corner.inReview();
	const heard = await bluez.heard(strap);
	const drop60 = dropAt(arrivalsOf(heard, startMs), bellS, 60);
	await expect(await corner.cell('1', '1-minute drop')).toHaveText(
		`${Math.round(drop60)} ± ${Math.round(0.2 * drop60)}`
	);
	const [session] = await corner.saved();
	expect(session!.head.practice).toBe(false);
	const kept = session!.packets.map(({ bpm }) => bpm);
	expect(kept).toEqual(bpmOf(strap.sent).slice(0, kept.length));
	expect(kept.join(' '), 'the burst, in its order').toContain('164 163 162 161 160');
	expect(session!.head.events).toEqual([]);
});

test('a link that breaks in the middle of a burst: what came before is kept, nothing after, and the strap is back by itself', async ({
	page,
	bluez,
	corner
}) => {
	const strap = bluez.addStrap({ address: '02:00:00:00:0B:02', name: 'Chest strap B' });
	await corner.open('skip', longRound);
	await corner.pair(strap);
	await corner.start();
	await expect.poll(() => strap.subscribed).toBe(true);
	strap.notify(packet({ bpm: 150, contact: true }));
	await expect(corner.heartRate).toHaveText('150');

	for (const reach of ['refused', 'unanswered'] as const) {
		const attempts = strap.attempts;
		for (let bpm = 101; bpm <= 140; bpm++) {
			if (bpm === 121) strap.move(reach);
			strap.notify(packet({ bpm, contact: true }));
		}
		await expect(page.getByText(/^signal lost \d+ s ago$/)).toBeVisible();
		await expect(corner.heartRate).toHaveText('–');
		await expect.poll(() => strap.attempts).toBeGreaterThan(attempts);
		strap.move('in reach');
		await expect.poll(() => strap.subscribed).toBe(true);
		await expect(corner.heartRate).toHaveText('–');
		strap.notify(packet({ bpm: 151, contact: true }));
		await expect(corner.heartRate).toHaveText('151');
		await expect(page.getByText('signal lost')).toHaveCount(0);
	}

	await corner.finish();
	const [session] = await corner.saved();
	const kept = session!.packets.map(({ bpm }) => bpm);
	expect(kept).toEqual(bpmOf((await bluez.heard(strap)).map(({ bytes }) => bytes)));
	// What the browser has not handed over when the link breaks it never does: of each burst a beginning is kept.
	const bursts = kept.join(' ').split(/ ?15[01] ?/);
	const sent = Array.from({ length: 20 }, (_, i) => 101 + i).join(' ');
	expect(bursts).toHaveLength(4);
	for (const burst of bursts) expect(`${sent} `.startsWith(burst && `${burst} `), burst).toBe(true);
	const { events } = session!.head;
	expect(events.map(({ kind }) => kind)).toEqual([
		'signal lost',
		'signal back',
		'signal lost',
		'signal back'
	]);
});

test('two straps push at the same time, one is lost and comes back: to each boxer their own heart, whole', async ({
	bluez,
	corner,
	squad
}) => {
	const red = bluez.addStrap({ address: '02:00:00:00:0B:03', name: 'Chest strap red' });
	const blue = bluez.addStrap({ address: '02:00:00:00:0B:04', name: 'Chest strap blue' });
	await corner.open('skip', longRound);
	await squad.add(2, 'Odalys');
	await squad.pair(1, red);
	await squad.pair(2, blue);
	await corner.start();
	red.stream((second) => packet({ bpm: 160 + (second % 10), contact: true }));
	blue.stream((second) => packet({ bpm: 120 + (second % 10), contact: true }));
	await expect(squad.reading(1, 'Heart rate')).toHaveText(/^16\d$/);
	await expect(squad.reading(2, 'Heart rate')).toHaveText(/^12\d$/);

	blue.move('refused');
	await expect(squad.lane(2)).toContainText('signal lost');
	await expect(squad.lane(1)).not.toContainText('signal lost');
	blue.move('in reach');
	await expect(squad.reading(2, 'Heart rate')).toHaveText(/^12\d$/);
	// Both hearts at once, a hundred times each.
	for (let i = 0; i < 100; i++) {
		red.notify(packet({ bpm: 160 + (i % 10), contact: true }));
		blue.notify(packet({ bpm: 120 + (i % 10), contact: true }));
	}
	red.silence();
	blue.silence();
	await expect.poll(async () => (await bluez.heard(blue)).length).toBe(blue.sent.length);
	await corner.finish();

	const kept = await corner.saved();
	for (const [name, strap] of [
		['Me', red],
		['Odalys', blue]
	] as const) {
		const session = kept.find(({ head }) => head.athlete.name === name);
		expect(session?.packets.map(({ bpm }) => bpm)).toEqual(bpmOf(strap.sent));
		expect(session?.head.events.map(({ kind }) => kind)).toEqual(
			strap === red ? [] : ['signal lost', 'signal back']
		);
	}
});

for (const { power, advice } of [
	{ power: 'unplugged', advice: 'Bluetooth is off or unplugged on this device. Switch it on' },
	{
		power: 'off',
		advice: 'The strap is out of range, flat, or taken by another program; or Bluetooth is off here.'
	}
] as const) {
	test(`an adapter that is ${power} in mid-round is named and the clock goes on; once it is on the strap comes by itself`, async ({
		page,
		bluez,
		corner
	}) => {
		const strap = bluez.addStrap({ address: '02:00:00:00:0B:05', name: 'Chest strap C' });
		await corner.open('skip', longRound);
		await corner.pair(strap);
		await corner.start();
		strap.stream((second) => packet({ bpm: 140 + (second % 10), contact: true }));
		await expect(corner.heartRate).toHaveText(/^14\d$/);

		bluez.power(power);
		await expect(page.getByText(advice)).toBeVisible();
		await expect(corner.heartRate).toHaveText('–');
		const left = await corner.timeLeft.textContent();
		await expect(corner.timeLeft).not.toHaveText(left!);

		bluez.power('on');
		await expect(corner.heartRate).toHaveText(/^14\d$/);
		await expect(page.getByText(advice)).toHaveCount(0);
		strap.silence();
		await expect.poll(async () => (await bluez.heard(strap)).length).toBe(strap.sent.length);
		await corner.finish();
		const [session] = await corner.saved();
		expect(session!.packets.map(({ bpm }) => bpm)).toEqual(bpmOf(strap.sent));
		expect(session!.head.events.map(({ kind }) => kind)).toEqual(['signal lost', 'signal back']);
	});
}
