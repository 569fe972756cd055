import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { permittedStraps } from '$lib/gatt/pair-strap';
import { gym } from './gym-bench';

describe('straps that need no chooser', () => {
	it('are those whose names are asked for, and are connected by nobody yet', async () => {
		const { clock, bluetooth, radios, permit } = gym(['Red', 'Blue', 'Green']);
		permit(...radios);
		const straps = await permittedStraps({ names: ['Green', 'Red', 'Black'], clock, bluetooth });

		expect(straps.map(({ name, state }) => [name, state.kind])).toEqual([
			['Green', 'idle'],
			['Red', 'idle']
		]);
		expect(radios.flatMap(({ triesMs, requests }) => [...triesMs, ...requests])).toEqual([]);
		await straps[0]!.connect();
		expect(radios.map(({ isUp }) => isUp)).toEqual([false, false, true]);
	});

	it('are none where the browser does not say what it permits, refuses to, or has no Bluetooth', async () => {
		const { clock, bluetooth } = gym(['Red']);
		const refusing = { getDevices: () => Promise.reject(new DOMException('', 'SecurityError')) };

		expect(await permittedStraps({ names: ['Red'], clock, bluetooth })).toEqual([]);
		expect(
			await permittedStraps({ names: ['Red'], clock, bluetooth: refusing as unknown as Bluetooth })
		).toEqual([]);
		// Where this runs there is no navigator.bluetooth.
		expect(await permittedStraps({ names: ['Red'], clock })).toEqual([]);
	});

	it('are not guessed where two devices share a name, or have none', async () => {
		const { clock, bluetooth, radios, permit } = gym(['Gym strap', 'Gym strap', 'Red']);
		permit(...radios);
		const straps = await permittedStraps({ names: ['Gym strap', 'Red'], clock, bluetooth });
		expect(straps.map(({ name }) => name)).toEqual(['Red']);

		const nameless = gym(['', '', 'Blue']);
		nameless.permit(...nameless.radios);
		const names = ['unnamed strap', 'Blue'];
		const found = await permittedStraps({ ...nameless, names });
		expect(found.map(({ name }) => name)).toEqual(['Blue']);
	});

	it('leave a device alone that is a strap already', async () => {
		const { clock, bluetooth, radios, permit, pair } = gym(['Red']);
		permit(...radios);
		const worn = await pair(radios[0]!);
		await worn.connect();
		expect(await permittedStraps({ names: ['Red'], clock, bluetooth })).toEqual([]);
		expect(worn.state.kind).toBe('connected');

		worn.close();
		expect(await permittedStraps({ names: ['Red'], clock, bluetooth })).toHaveLength(1);
	});
});

describe('a device that is told without its name after a reload', () => {
	const kept = new Map<string, string>();
	beforeEach(() => {
		kept.clear();
		vi.stubGlobal('sessionStorage', {
			getItem: (key: string) => kept.get(key) ?? null,
			setItem: (key: string, value: string) => void kept.set(key, value)
		});
	});
	afterEach(() => vi.unstubAllGlobals());

	/** The names under which straps were picked, and then those of the straps that come back under these. */
	async function comingBack(picked: readonly string[], names: readonly string[]) {
		const before = gym(picked);
		for (const radio of before.radios) await before.pair(radio);
		const after = gym(picked.map(() => ''));
		after.permit(...after.radios);
		const straps = await permittedStraps({ ...after, names });
		for (const strap of straps) await strap.connect();
		return { names: straps.map(({ name }) => name), up: after.radios.map(({ isUp }) => isUp) };
	}

	it('is known by its id, for as long as the tab is there', async () => {
		expect(await comingBack(['Red', 'Blue'], ['Blue'])).toEqual({ names: ['Blue'], up: [false, true] });
	});

	it('leaves no note of a device that has no name', async () => {
		expect(await comingBack([''], ['unnamed strap'])).toEqual({ names: ['unnamed strap'], up: [true] });
		expect([...kept.keys()]).toEqual([]);
	});

	it('is not guessed where another one that was picked has its name', async () => {
		expect(await comingBack(['Gym strap', 'Gym strap'], ['Gym strap'])).toEqual({
			names: [],
			up: [false, false]
		});
	});

	it('is a stranger where the browser lets the page keep nothing, and pairing works as ever', async () => {
		vi.stubGlobal('sessionStorage', undefined);
		expect(await comingBack(['Red'], ['Red'])).toEqual({ names: [], up: [false] });
	});
});
