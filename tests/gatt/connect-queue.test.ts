import { getEventListeners } from 'node:events';
import { describe, expect, it } from 'vitest';
import { ConnectQueue, connectQueueOf } from '$lib/gatt/connect-queue';
import { TimedOut } from '$lib/gatt/limited-wait';
import { microtasks, pass, settled, watchedClock } from './strap-bench';

const limitMs = 8000;

/** A queue, what happens in it in order, and devices that answer when the test says so. */
function setUp() {
	const clock = watchedClock();
	const queue = new ConnectQueue();
	const heard: string[] = [];
	function ask(name: string, hasHung = false) {
		const link = new AbortController();
		let accept = () => {};
		let refuse: (reason: Error) => void = () => {};
		const done = queue.run({
			clock,
			limitMs,
			hasHung,
			signal: link.signal,
			connect: () => {
				heard.push(`${name} begins`);
				return new Promise<string>((resolve, reject) => {
					accept = () => resolve(name);
					refuse = reject;
				});
			},
			hangUp: () => heard.push(`${name} hangs up`)
		});
		// Each test asks for the outcomes that it is about.
		const outcome = done.then(
			(answer) => answer,
			(reason: unknown) => reason
		);
		return { outcome, link, accept: () => accept(), refuse: (reason: Error) => refuse(reason) };
	}
	return { clock, queue, heard, ask };
}

describe('connects that stand in line', () => {
	it('are made one after another, in the order of asking', async () => {
		const { clock, heard, ask } = setUp();
		const [red, blue, green] = [ask('red'), ask('blue'), ask('green')];
		await settled();
		expect(heard).toEqual(['red begins']);
		red.accept();
		expect(await red.outcome).toBe('red');
		await settled();
		expect(heard).toEqual(['red begins', 'blue begins']);
		blue.accept();
		await settled();
		green.accept();
		expect(await green.outcome).toBe('green');
		expect(heard).toEqual(['red begins', 'blue begins', 'green begins']);
		expect(clock.wakesToCome).toBe(0);

		const late = ask('late');
		await settled();
		late.accept();
		expect(await late.outcome, 'a queue that has run empty takes the next at once').toBe('late');
	});

	it('go on after one that fails, which hangs up before the next begins', async () => {
		const { heard, ask } = setUp();
		const [red, blue] = [ask('red'), ask('blue')];
		await settled();
		const refusal = new DOMException('out of reach', 'NetworkError');
		red.refuse(refusal);
		expect(await red.outcome).toBe(refusal);
		await settled();
		expect(heard).toEqual(['red begins', 'red hangs up', 'blue begins']);
		blue.accept();
		expect(await blue.outcome).toBe('blue');
	});

	it('go on after one that cannot even be asked', async () => {
		const { clock, queue, ask } = setUp();
		const gone = queue.run({
			clock,
			limitMs,
			hasHung: false,
			signal: new AbortController().signal,
			connect: () => {
				throw new DOMException('no adapter', 'InvalidStateError');
			},
			hangUp: () => {}
		});
		const red = ask('red');
		await expect(gone).rejects.toThrow('no adapter');
		await settled();
		red.accept();
		expect(await red.outcome).toBe('red');
	});

	it('wait the limit for one that never answers, and each has a limit of its own', async () => {
		const { clock, heard, ask } = setUp();
		const [red, blue, green] = [ask('red'), ask('blue'), ask('green')];
		await pass(clock, limitMs - 50);
		expect(heard).toEqual(['red begins']);
		await pass(clock, 50);
		expect(await red.outcome).toBeInstanceOf(TimedOut);
		expect(heard).toEqual(['red begins', 'red hangs up', 'blue begins']);

		await pass(clock, limitMs - 50);
		expect(heard, 'the time in line is none of the try’s own').toHaveLength(3);
		await pass(clock, 50);
		expect(await blue.outcome).toBeInstanceOf(TimedOut);
		green.accept();
		expect(await green.outcome).toBe('green');
		expect(clock.wakesToCome).toBe(0);
	});

	it('let everybody else go before those that did not answer the last time', async () => {
		const { heard, ask } = setUp();
		const all = [ask('red', true), ask('blue', true), ask('green', true), ask('white'), ask('gold')];
		for (let turn = 0; turn < all.length; turn++) {
			await settled();
			for (const one of all) one.accept();
		}
		await settled();
		expect(heard.map((what) => what.split(' ')[0])).toEqual(['red', 'white', 'gold', 'blue', 'green']);
	});

	it('never reach one that was given up while it waited, nor wait for it', async () => {
		const { heard, ask } = setUp();
		const [red, blue, green] = [ask('red'), ask('blue'), ask('green')];
		await settled();
		blue.link.abort('given back');
		expect(await blue.outcome, 'it is told at once').toBe('given back');
		red.accept();
		await settled();
		expect(heard).toEqual(['red begins', 'green begins']);
		green.accept();
		expect(await green.outcome).toBe('green');
	});

	it('never begin for one that was given up by then, and are handed on, however near its turn was', async () => {
		for (let steps = 0; steps < 12; steps++) {
			const { heard, ask } = setUp();
			const [red, blue, green] = [ask('red'), ask('blue'), ask('green')];
			await settled();
			red.accept();
			await microtasks(steps);
			const ofBlue = heard.includes('blue begins') ? ['blue begins', 'blue hangs up'] : [];
			blue.link.abort('given back');
			expect(await blue.outcome, `after ${steps} steps`).toBe('given back');
			await settled();
			expect(heard, `after ${steps} steps`).toEqual(['red begins', ...ofBlue, 'green begins']);
			green.accept();
			expect(await green.outcome).toBe('green');
		}
	});

	it('never begin for one that was given up before it asked', async () => {
		const { clock, queue } = setUp();
		const link = new AbortController();
		link.abort('given back');
		const begun: string[] = [];
		const asked = queue.run({
			clock,
			limitMs,
			hasHung: false,
			signal: link.signal,
			connect: async () => void begun.push('red'),
			hangUp: () => {}
		});
		await expect(asked).rejects.toBe('given back');
		expect(begun).toEqual([]);
	});

	it('are free at once where the one under way is given up', async () => {
		const { clock, heard, ask } = setUp();
		const [red, blue] = [ask('red'), ask('blue')];
		await settled();
		red.link.abort('given back');
		expect(await red.outcome).toBe('given back');
		await settled();
		expect(heard).toEqual(['red begins', 'red hangs up', 'blue begins']);
		blue.accept();
		await blue.outcome;
		expect(clock.wakesToCome).toBe(0);
	});

	it('leave nothing behind at what gives them up', async () => {
		const { ask } = setUp();
		const [red, blue] = [ask('red'), ask('blue')];
		await settled();
		expect([red, blue].map(({ link }) => getEventListeners(link.signal, 'abort').length)).toEqual([1, 1]);
		red.accept();
		await settled();
		blue.accept();
		await settled();
		expect([red, blue].map(({ link }) => getEventListeners(link.signal, 'abort').length)).toEqual([0, 0]);
	});
});

it('has one queue for each radio', () => {
	const [one, other] = [{} as Bluetooth, {} as Bluetooth];
	const queue = connectQueueOf(one);

	expect(queue).toBeInstanceOf(ConnectQueue);
	expect(connectQueueOf(one)).toBe(queue);
	expect(connectQueueOf(other)).not.toBe(queue);
});
