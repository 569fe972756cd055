import { describe, expect, it } from 'vitest';
import { allConnected, gym } from './gym-bench';
import { pass, settled } from './strap-bench';

const eight = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H'];
/** What a connect may take, once it is its turn. */
const limitMs = 8000;

describe('eight straps that are lost at once', () => {
	it('are connected again one after another, in the order in which they ask', async () => {
		const { clock, radios, straps } = await allConnected(eight);
		for (const radio of radios) radio.connecting = 'hang';
		for (const radio of radios) radio.drop();
		await pass(clock, 250);
		for (let turn = 0; turn < eight.length; turn++) {
			await pass(clock, 400);
			expect(
				radios.map(({ triesMs }) => triesMs.length - 1),
				`connects begun while ${eight[turn]} is under way`
			).toEqual(eight.map((_, i) => (i <= turn ? 1 : 0)));
			radios[turn]!.letThrough();
			await settled();
			expect(straps[turn]!.state.kind).toBe('connected');
		}
		expect(straps.map(({ state }) => state.kind)).toEqual(eight.map(() => 'connected'));
	});

	it('wait for one that never answers no longer than its limit', async () => {
		const { clock, radios, straps } = await allConnected(eight);
		const [dead, ...others] = radios;
		dead!.connecting = 'hang';
		for (const radio of radios) radio.drop();
		await pass(clock, 250 + limitMs - 50);
		expect(others.map(({ isUp }) => isUp)).not.toContain(true);
		await pass(clock, 50);
		expect(straps.map(({ state }) => state.kind)).toEqual(['lost', ...others.map(() => 'connected')]);

		dead!.connecting = 'accept';
		await pass(clock, 1000);
		expect(straps[0]!.state.kind).toBe('connected');
	});

	it('wait for one of several that never answer, and not for all of them, however many these are', async () => {
		const { clock, radios, straps } = await allConnected(eight);
		const [back, ...dead] = radios;
		for (const radio of dead) radio.connecting = 'hang';
		for (const radio of dead) radio.drop();
		const goOn = async (seconds: number) => {
			for (let second = 0; second < seconds; second++) {
				await pass(clock, 1000, 250);
				back!.notify([0x00, 150]);
			}
		};
		const fewestTries = () => Math.min(...dead.map(({ triesMs }) => triesMs.length - 1));
		const roundS = (dead.length * limitMs) / 1000 + 2;
		await goOn(roundS);
		expect(fewestTries()).toBe(1);
		back!.drop();
		await goOn(limitMs / 1000 + 1);
		expect(straps.map(({ state }) => state.kind)).toEqual(['connected', ...dead.map(() => 'lost')]);

		await goOn(roundS);
		expect(fewestTries(), 'and nobody is passed over').toBe(2);
	});
});

describe('a strap that stands in line', () => {
	it('is looked for when its turn has come, and its limit begins then', async () => {
		const { clock, radios, pair } = gym(['A', 'B']);
		for (const radio of radios) radio.connecting = 'hang';
		const [first, second] = [await pair(radios[0]!), await pair(radios[1]!)];
		const outcomes = Promise.allSettled([first.connect(), second.connect()]);
		await pass(clock, limitMs + 1000);
		expect(radios.map(({ triesMs }) => triesMs)).toEqual([[0], [limitMs]]);
		expect(second.state.kind).toBe('looking');
		radios[1]!.letThrough();
		expect(await outcomes).toMatchObject([
			{ status: 'rejected', reason: { code: 'unreachable' } },
			{ status: 'fulfilled' }
		]);
	});

	it('goes before those that did not answer the last time, where it is new', async () => {
		const { clock, radios, pair } = gym(['A', 'B', 'C']);
		for (const radio of radios) radio.connecting = 'hang';
		const [first, second, third] = [await pair(radios[0]!), await pair(radios[1]!), await pair(radios[2]!)];
		const unanswered = Promise.allSettled([first.connect(), second.connect()]);
		await pass(clock, 2 * limitMs);
		await unanswered;
		const again = Promise.allSettled([first.connect(), second.connect(), third.connect()]);
		await pass(clock, 1000);
		radios[0]!.letThrough();
		await settled();

		expect(radios.map(({ triesMs }) => triesMs)).toEqual([[0, 2 * limitMs], [limitMs], [2 * limitMs + 1000]]);
		for (const strap of [first, second, third]) strap.close();
		await again;
	});

	it('leaves it where it is given back, and nobody waits for it', async () => {
		const { clock, radios, pair } = gym(['A', 'B', 'C']);
		radios[0]!.connecting = 'hang';
		const straps = [];
		for (const radio of radios) straps.push(await pair(radio));
		const outcomes = Promise.allSettled(straps.map((strap) => strap.connect()));
		await pass(clock, 1000);
		straps[1]!.close();
		radios[0]!.letThrough();

		expect(await outcomes).toMatchObject([
			{ status: 'fulfilled' },
			{ status: 'rejected', reason: { code: 'cancelled' } },
			{ status: 'fulfilled' }
		]);
		expect(radios[1]!.triesMs).toEqual([]);
		expect(radios.map(({ isUp }) => isUp)).toEqual([true, false, true]);
	});

	it('is not kept from its device by the strap whose place it takes, whatever that still waits for', async () => {
		const { clock, radios, straps, pair } = await allConnected(['A']);
		const radio = radios[0]!;
		radio.connecting = 'hang';
		radio.drop();
		await pass(clock, 500);
		const { gatt } = radio.device as BluetoothDevice;
		const { disconnect } = gatt!;
		const log: string[] = [];
		gatt!.disconnect = () => {
			log.push('disconnect');
			disconnect();
		};
		radio.connecting = 'accept';
		const again = await pair(radio, straps[0]);
		straps[0]!.close();
		const connecting = again.connect().then(() => log.push('connected'));
		await connecting;
		await pass(clock, 1000);

		expect(log).toEqual(['disconnect', 'connected']);
		expect(again.state.kind).toBe('connected');
	});
});
