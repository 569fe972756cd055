import { getEventListeners } from 'node:events';
import { describe, expect, it } from 'vitest';
import { microtasks, pass, settled } from './strap-bench';
import { connected, packet, paired, type Bench } from './web-bluetooth-bench';

describe('closing in the middle', () => {
	/** Each answers what `connect` has not answered yet. */
	const middles: { what: string; start: (bench: Bench) => Promise<{ connecting?: Promise<void> }> }[] = [
		{
			what: 'of the first connection',
			async start({ radio, strap }) {
				radio.connecting = 'hang';
				return { connecting: strap.connect() };
			}
		},
		{
			what: 'of the first discovery',
			async start({ radio, strap }) {
				radio.discovery = 'hang';
				return { connecting: strap.connect() };
			}
		},
		{
			what: 'of the wait between first tries',
			async start({ radio, strap }) {
				radio.connecting = 'refuse';
				return { connecting: strap.connect() };
			}
		},
		{
			what: 'of a reconnection',
			async start({ clock, radio, strap }) {
				await strap.connect();
				radio.connecting = 'hang';
				radio.drop();
				await pass(clock, 500);
				return {};
			}
		},
		{
			what: 'of the wait between reconnections',
			async start({ clock, radio, strap }) {
				await strap.connect();
				radio.connecting = 'refuse';
				radio.drop();
				await pass(clock, 5000);
				return {};
			}
		}
	];

	it.each(middles)('$what ends everything, even what comes through later', async ({ start }) => {
		const bench = await paired();
		const { clock, radio, strap, heard } = bench;
		const { connecting } = await start(bench);
		const outcome = connecting && expect(connecting).rejects.toMatchObject({ code: 'cancelled' });
		await settled();
		strap.close();
		await outcome;
		const tries = radio.triesMs.length;
		radio.connecting = radio.discovery = 'accept';
		radio.letThrough();
		await pass(clock, 30_000, 500);

		expect(strap.state).toEqual({ kind: 'closed' });
		expect(heard.states.at(-1)).toBe('closed');
		expect(radio.isUp).toBe(false);
		expect(radio.triesMs).toHaveLength(tries);
		expect(clock.wakesToCome).toBe(0);
	});

	it('of any step on the way to the first connection ends everything', async () => {
		for (let steps = 0; steps < 40; steps++) {
			const { clock, radio, strap, heard } = await paired();
			const outcome = Promise.allSettled([strap.connect()]);
			await microtasks(steps);
			strap.close();
			await outcome;
			await pass(clock, 20_000, 1000);

			expect(strap.state, `after ${steps} steps`).toEqual({ kind: 'closed' });
			expect(heard.states.at(-1)).toBe('closed');
			expect(radio.isUp, `after ${steps} steps`).toBe(false);
			expect(clock.wakesToCome, `after ${steps} steps`).toBe(0);
		}
	});

	it('of any step on the way to a reconnection ends everything', async () => {
		for (let steps = 0; steps < 40; steps++) {
			const { clock, radio, strap } = await connected();
			radio.drop();
			clock.advanceTo(250);
			await microtasks(steps);
			strap.close();
			await pass(clock, 20_000, 1000);

			expect(strap.state, `after ${steps} steps`).toEqual({ kind: 'closed' });
			expect(radio.isUp, `after ${steps} steps`).toBe(false);
			expect(clock.wakesToCome, `after ${steps} steps`).toBe(0);
		}
	});

	it('gives the strap back while it is connected', async () => {
		const { clock, radio, strap, heard } = await connected();
		const { device } = radio;
		strap.close();
		radio.characteristic().emit(packet);
		device.dispatchEvent(new Event('gattserverdisconnected'));
		await pass(clock, 5000);

		expect(radio.isUp).toBe(false);
		expect(radio.triesMs).toHaveLength(1);
		expect(heard.readings).toEqual([]);
		expect(getEventListeners(device, 'gattserverdisconnected')).toEqual([]);
	});
});
