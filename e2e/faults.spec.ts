import { expect, test } from './fixtures';
import { packet } from './packets';

// A round that no machine is too slow for.
const plan = { Rounds: 1, 'Round, seconds': 900, 'Get ready, seconds': 0 };

const unplugged = 'Bluetooth is off or unplugged on this device. Switch it on';
// Chromium cannot tell one without power from a strap out of reach, so the page names both.
const off = 'The strap is out of range, flat, or taken by another program; or Bluetooth is off here.';

for (const { state, advice } of [
	{ state: 'unplugged', advice: unplugged },
	{ state: 'off', advice: off }
] as const) {
	test(`Bluetooth that is ${state} in mid-round is named, the clock goes on, and once it is on the strap comes by itself`, async ({
		page,
		radio,
		corner
	}) => {
		const strap = await radio.addStrap({ address: '02:00:00:00:00:91', name: 'Chest strap A' });
		await corner.open('skip', plan);
		await corner.pair(strap);
		const startMs = await corner.start();
		await corner.middleOfSecond(startMs);
		strap.stream((second) => packet({ bpm: 140 + (second % 20) }));
		await expect(corner.heartRate).toHaveText(/^14[2-9]$/);

		await radio.power(state);
		await expect(page.getByText(advice)).toBeVisible();
		await expect(page.getByText(/^signal lost \d+ s ago$/)).toBeVisible();
		await expect(corner.heartRate).toHaveText('–');
		const left = await corner.timeLeft.textContent();
		await expect(corner.timeLeft).not.toHaveText(left!);

		await radio.power('on');
		await expect(corner.heartRate).toHaveText(/^1[45]\d$/);
		await expect(page.getByText(advice)).toHaveCount(0);
		await corner.finish();
		const [session] = await corner.saved();
		const { events } = session!.head;
		expect(events.map(({ kind }) => kind)).toEqual(['signal lost', 'signal back']);
		const [lostMs, backMs] = events.map(({ ms }) => ms) as [number, number];
		expect(session!.packets.filter(({ ms }) => ms > lostMs && ms < backMs)).toEqual([]);
		expect(session!.packets.filter(({ ms }) => ms > backMs).length).toBeGreaterThan(0);
	});
}

test('opened without Bluetooth the page says so, and no longer once a strap is worn', async ({
	page,
	radio,
	corner
}) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:93', name: 'Chest strap C' });
	await radio.power('unplugged');
	await corner.open();
	const alert = page.getByText('Bluetooth is off on this device. Switch it on, then pair again.');
	await expect(alert).toBeVisible();

	await radio.power('on');
	await strap.advertise();
	await corner.pair(strap);
	await expect(corner.strap).toContainText('Chest strap C');
	await expect(corner.button('Start')).toBeEnabled();
	await expect(alert).toHaveCount(0);
});

test('zero, doubled packets, a burst and a link that falls silent: never an old beat, and the record keeps what came', async ({
	page,
	radio,
	corner
}) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:92', name: 'Chest strap B' });
	await corner.open('skip', plan);
	await corner.pair(strap);
	await corner.start();
	await expect.poll(() => strap.subscribed).toBe(true);

	await strap.notify(packet({ bpm: 150, contact: true, rr1024: [410, 409] }));
	await expect(corner.heartRate).toHaveText('150');
	await strap.notify(packet({ bpm: 0, contact: true }));
	await expect(page.getByText('no usable beat')).toBeVisible();
	await expect(corner.heartRate).toHaveText('–');
	// Twice the same packet, then five at once: kept in the order in which they came.
	for (const bpm of [151, 151, 152, 155, 153, 154, 156])
		await strap.notify(packet({ bpm, contact: true, rr1024: [400] }));
	await expect(corner.heartRate).toHaveText('156');

	await expect(page.getByText(/^no beats for [3-9] s$/)).toBeVisible();
	await expect(corner.heartRate).toHaveText('–');
	await expect(page.getByText('The strap is connected and silent.')).toBeVisible();
	await test.step('after ten seconds the page makes the connection anew', async () => {
		await expect(page.getByText('Connected, and waiting for a beat.')).toBeVisible();
		await expect(corner.heartRate).toHaveText('–');
		await strap.notify(packet({ bpm: 157, contact: true }));
		await expect(corner.heartRate).toHaveText('157');
	});

	await corner.finish();
	const [session] = await corner.saved();
	expect(session!.packets.map(({ bpm }) => bpm)).toEqual([150, 0, 151, 151, 152, 155, 153, 154, 156, 157]);
	const { events } = session!.head;
	expect(events.map(({ kind }) => kind)).toEqual(['signal lost', 'signal back']);
	// Lost since its last packet, not since the page gave it up.
	expect(Math.abs(events[0]!.ms - session!.packets.at(-2)!.ms)).toBeLessThan(5);
});

test('a loudspeaker that vanishes is named and the clock goes on; once it is back the bells are too, without a press', async ({
	page,
	corner
}) => {
	await page.addInitScript(() => {
		const opened: AudioContext[] = [];
		const state = { isGone: false, opened };
		Object.assign(window, { loudspeaker: state });
		const Original = AudioContext;
		window.AudioContext = class extends Original {
			constructor(options?: AudioContextOptions) {
				if (state.isGone) throw new DOMException('There is no output.', 'NotSupportedError');
				super(options);
				opened.push(this);
			}
			override resume() {
				return state.isGone ? Promise.reject(new DOMException('gone', 'InvalidStateError')) : super.resume();
			}
		};
	});
	interface Loudspeaker {
		isGone: boolean;
		opened: AudioContext[];
	}
	const loudspeaker = (act: 'vanish' | 'die' | 'return') =>
		page.evaluate(async (act) => {
			const { loudspeaker } = window as unknown as { loudspeaker: Loudspeaker };
			loudspeaker.isGone = act !== 'return';
			for (const context of loudspeaker.opened.filter(({ state }) => state === 'running')) {
				if (act === 'vanish') await context.suspend();
				if (act === 'die') await context.close();
			}
		}, act);
	const alert = page.getByRole('alert').filter({ hasText: 'The bells are not heard' });
	await corner.begin('skip', plan);
	await expect(corner.heartRate).toHaveText(/^\d+$/);
	await expect(alert).toHaveCount(0);

	for (const act of ['vanish', 'die'] as const) {
		await loudspeaker(act);
		await expect(alert).toBeVisible();
		const left = await corner.timeLeft.textContent();
		await expect(corner.timeLeft).not.toHaveText(left!);
		await loudspeaker('return');
		await expect(alert).toHaveCount(0);
	}
	const states = await page.evaluate(() =>
		(window as unknown as { loudspeaker: Loudspeaker }).loudspeaker.opened.map(({ state }) => state)
	);
	expect(states.at(-1)).toBe('running');
	expect(states.filter((state) => state === 'running')).toHaveLength(1);
	await corner.finish();
});
