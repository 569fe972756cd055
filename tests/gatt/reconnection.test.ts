import { getEventListeners } from 'node:events';
import { describe, expect, it } from 'vitest';
import { lateClock, microtasks, pass, settled } from './strap-bench';
import { connected, packet, send } from './web-bluetooth-bench';

describe('after the connection breaks', () => {
	it('finds everything anew without being asked, and packets come again', async () => {
		const { clock, radio, strap, heard } = await connected();
		const dead = radio.characteristic();
		await pass(clock, 5000);
		radio.drop();
		expect(strap.state).toEqual({ kind: 'lost', sinceMs: 5000 });
		await pass(clock, 1000);
		expect(strap.state).toEqual({ kind: 'connected' });
		dead.emit([0x00, 99]);
		radio.notify(packet);

		expect(heard.readings.map(({ measurement }) => measurement.bpm)).toEqual([150]);
		expect(heard.states).toEqual(['looking', 'connected', 'lost', 'connected']);
	});

	it('waits ever longer between tries, but never more than two seconds, for as long as it takes', async () => {
		const { clock, radio, strap } = await connected();
		radio.connecting = 'refuse';
		radio.drop();
		await pass(clock, 600_000, 250);

		const [, ...triesMs] = radio.triesMs;
		expect(triesMs.slice(0, 7)).toEqual([250, 750, 1750, 3750, 5750, 7750, 9750]);
		expect(triesMs.length).toBeGreaterThan(295);
		expect(strap.state).toEqual({ kind: 'lost', sinceMs: 0 });

		radio.connecting = 'accept';
		await pass(clock, 2000);
		expect(strap.state.kind).toBe('connected');
	});

	it('needs nobody who asks for it, and tells of the loss once, however often it tries', async () => {
		const { clock, radio, strap, heard } = await connected();
		let changes = 0;
		strap.onChange(() => changes++);
		radio.connecting = 'refuse';
		radio.drop();
		await strap.connect();
		expect(radio.triesMs).toEqual([0]);
		await pass(clock, 60_000, 250);

		expect(changes).toBe(1);
		expect(heard.states).toEqual(['looking', 'connected', 'lost']);
	});

	it('gives up a try that hangs after eight seconds and makes another', async () => {
		const { clock, radio, strap } = await connected();
		radio.connecting = 'hang';
		radio.drop();
		await pass(clock, 8500);
		radio.connecting = 'accept';
		await pass(clock, 1000);

		expect(radio.triesMs).toEqual([0, 250, 8750]);
		expect(strap.state.kind).toBe('connected');
	});

	it('makes one connection of a try that hung and comes through beside the next one', async () => {
		const { clock, radio, strap, heard } = await connected();
		radio.connecting = 'hang';
		radio.drop();
		await pass(clock, 9000);
		radio.letThrough();
		await pass(clock, 1000);
		await send({ clock, radio, strap, heard }, 2);

		expect(strap.state.kind).toBe('connected');
		expect(heard.states).toEqual(['looking', 'connected', 'lost', 'connected']);
		expect(heard.readings).toHaveLength(2);
	});

	it('tries again where it breaks a second time during the discovery', async () => {
		const { clock, radio, strap, heard } = await connected();
		radio.discovery = 'hang';
		radio.drop();
		await pass(clock, 300);
		radio.drop();
		radio.discovery = 'accept';
		await pass(clock, 10_000);

		expect(strap.state.kind).toBe('connected');
		expect(heard.states).toEqual(['looking', 'connected', 'lost', 'connected']);
	});

	it('hears at once of a break during a discovery that never answers, and needs no eight seconds for it', async () => {
		const { clock, radio, strap } = await connected();
		radio.discovery = 'hang';
		radio.drop();
		await pass(clock, 300);
		radio.discovery = 'accept';
		radio.drop();
		await pass(clock, 1000);

		expect(strap.state.kind).toBe('connected');
		expect(radio.triesMs).toEqual([0, 250, 800]);
	});

	it('comes back wherever on the way to a connection it breaks again', async () => {
		for (let steps = 0; steps < 40; steps++) {
			const bench = await connected();
			const { clock, radio, strap, heard } = bench;
			radio.drop();
			clock.advanceTo(250);
			await microtasks(steps);
			radio.drop();
			await pass(clock, 3000);
			await send(bench, 2);

			expect(strap.state, `after ${steps} steps`).toEqual({ kind: 'connected' });
			expect(heard.readings, `after ${steps} steps`).toHaveLength(2);
			expect(clock.wakesToCome, `after ${steps} steps`).toBe(1);
		}
	});

	it('takes no notice of an event that comes late, in the middle of the next discovery', async () => {
		const { clock, radio, strap, heard } = await connected();
		const { gatt } = radio.device as BluetoothDevice;
		const find = gatt!.getPrimaryService;
		let goOn = () => {};
		gatt!.getPrimaryService = async (uuid) => {
			await new Promise<void>((resolve) => (goOn = resolve));
			return find(uuid);
		};
		radio.drop();
		await pass(clock, 300);
		radio.tellDisconnected();
		await settled();
		goOn();
		await settled();

		expect(heard.states).toEqual(['looking', 'connected', 'lost', 'connected']);
		expect(strap.state).toEqual({ kind: 'connected' });
		expect(radio.triesMs).toEqual([0, 250]);
	});

	it('keeps trying a device that lacks the service for a while', async () => {
		const { clock, radio, strap } = await connected();
		const { services } = radio;
		radio.services = {};
		radio.drop();
		await pass(clock, 3000);
		radio.services = services;
		await pass(clock, 2000);

		expect(strap.state.kind).toBe('connected');
	});

	it('says while Bluetooth itself is off, since when the strap is lost, and comes back once it is on', async () => {
		const { clock, radio, strap, heard } = await connected();
		await pass(clock, 5000);
		radio.isAdapterOn = false;
		radio.connecting = 'refuse';
		radio.drop();
		await pass(clock, 100);
		expect(strap.state).toEqual({ kind: 'lost', sinceMs: 5000, isAdapterOff: true });
		await pass(clock, 60_000);
		expect(strap.state).toEqual({ kind: 'lost', sinceMs: 5000, isAdapterOff: true });
		radio.isAdapterOn = true;
		await pass(clock, 2000);
		expect(strap.state).toEqual({ kind: 'lost', sinceMs: 5000 });
		radio.connecting = 'accept';
		await pass(clock, 2000);
		expect(strap.state).toEqual({ kind: 'connected' });
		expect(heard.states).toEqual(['looking', 'connected', 'lost', 'connected']);
	});

	it('is not lost anew where the browser says that Bluetooth is off only once the strap is back', async () => {
		const { clock, radio, strap, heard } = await connected();
		let answer: (isOn: boolean) => void = () => {};
		const asked = new Promise<boolean>((resolve) => (answer = resolve));
		Object.assign(radio.bluetooth, { getAvailability: () => asked });
		radio.drop();
		await pass(clock, 1000);
		expect(strap.state).toEqual({ kind: 'connected' });
		answer(false);
		await pass(clock, 100);

		expect(strap.state).toEqual({ kind: 'connected' });
		expect(heard.states).toEqual(['looking', 'connected', 'lost', 'connected']);
	});

	it('takes an event that comes twice for one loss', async () => {
		const { clock, radio, heard } = await connected();
		radio.drop();
		radio.tellDisconnected();
		await pass(clock, 1000);

		expect(radio.triesMs).toHaveLength(2);
		expect(heard.states).toEqual(['looking', 'connected', 'lost', 'connected']);
	});

	it('takes no notice of an event that comes late, when it is connected again', async () => {
		const { clock, radio, strap } = await connected();
		radio.drop();
		await pass(clock, 1000);
		radio.tellDisconnected();

		expect(strap.state.kind).toBe('connected');
		await pass(clock, 5000);
		expect(radio.triesMs).toHaveLength(2);
	});

	it('survives a hundred losses with one connection and the same few wakes at the end', async () => {
		const bench = await connected();
		const { clock, radio, heard } = bench;
		const wakes = clock.wakesToCome;
		for (let loss = 0; loss < 100; loss++) {
			radio.drop();
			await pass(clock, 500, 250);
		}
		await send(bench, 3);

		expect(radio.triesMs).toHaveLength(101);
		expect(heard.readings).toHaveLength(3);
		expect(clock.wakesToCome).toBe(wakes);
		// One for as long as the strap is there, one of the present connection.
		expect(getEventListeners(radio.device, 'gattserverdisconnected')).toHaveLength(2);
	});
});

describe('a link that stays up in silence', () => {
	it('is lost since its last packet after ten seconds, and made anew', async () => {
		const bench = await connected();
		const { clock, radio, strap, heard } = bench;
		await send(bench, 5);
		await pass(clock, 9900);
		expect(strap.state.kind).toBe('connected');
		await pass(clock, 100);
		expect(strap.state).toEqual({ kind: 'lost', sinceMs: 5000 });
		expect(radio.isUp).toBe(false);
		await pass(clock, 1000);
		await send(bench, 3);

		expect(heard.states).toEqual(['looking', 'connected', 'lost', 'connected']);
		expect(heard.readings).toHaveLength(8);
	});

	it('is left alone for as long as packets come, malformed ones too', async () => {
		const { clock, radio, heard } = await connected();
		for (let second = 0; second < 60; second += 5) {
			await pass(clock, 5000, 500);
			radio.notify(second % 2 ? [0x00] : packet);
		}

		expect(heard.states).toEqual(['looking', 'connected']);
	});

	it('has twenty seconds for its first packet', async () => {
		const { clock, strap } = await connected();
		await pass(clock, 19_900, 100);
		expect(strap.state.kind).toBe('connected');
		await pass(clock, 100);

		expect(strap.state).toEqual({ kind: 'lost', sinceMs: 0 });
	});

	describe('on a page that was frozen for 50 s', () => {
		/** Packets until 10 s; the watch is to be woken next at 19 s and wakes at 69 s. */
		async function frozen() {
			let lateMs = 0;
			const bench = await connected((clock) => lateClock(clock, () => lateMs));
			await send(bench, 9);
			lateMs = 50_000;
			await send(bench, 1);
			await pass(bench.clock, 58_990);
			lateMs = 0;
			await pass(bench.clock, 100);
			return bench;
		}

		it('is not given up before the packets that wait behind the wake were heard', async () => {
			const { clock, radio, strap, heard } = await frozen();
			expect(strap.state.kind).toBe('connected');
			radio.notify(packet);
			await pass(clock, 9000);

			expect(heard.states).toEqual(['looking', 'connected']);
		});

		it('is given up two seconds later where none waited', async () => {
			const { clock, strap } = await frozen();
			await pass(clock, 1900);
			expect(strap.state.kind).toBe('connected');
			await pass(clock, 100);

			expect(strap.state).toEqual({ kind: 'lost', sinceMs: 10_000 });
		});

		it('is given up at the second wake where the page is woken late again and again', async () => {
			const bench = await connected((clock) => lateClock(clock, () => 50_000));
			const { clock, heard } = bench;
			await send(bench, 5);
			await pass(clock, 125_000, 1000);

			expect(heard.states).toContain('lost');
		});
	});
});
