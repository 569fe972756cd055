import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { defaultBellSettings } from '$lib/bell/settings';
import type { Ringer } from '$lib/bell/ringer';
import { strapErrorWords } from '$lib/components/train/strap-words';
import { LiveSession } from '$lib/session/live-session.svelte';
import { realClock } from '$lib/time/clock';
import { FakeRadio } from '../gatt/fake-bluetooth';
import { makeSink, shortPlan } from './builders';

const silent = { wake() {}, schedule() {}, topUp() {}, configure() {} } as unknown as Ringer;

describe('one strap and several corners', () => {
	/** The device that the coach picks in the next chooser. */
	let picked: FakeRadio;
	const radio = (name: string) => Object.assign(new FakeRadio(realClock()), { name });
	const bluetooth = {
		getAvailability: async () => true,
		requestDevice: (options: RequestDeviceOptions) => picked.bluetooth.requestDevice(options)
	};

	beforeEach(() => vi.stubGlobal('navigator', { bluetooth }));
	afterEach(() => vi.unstubAllGlobals());

	async function setUp() {
		const fetchOutside = () => Promise.resolve({ ringer: silent, openSink: () => makeSink().sink });
		const live = new LiveSession({ fetchOutside });
		await live.load();
		live.roster.first.athleteId = 'odalys';
		live.roster.add('tomas');
		return live;
	}
	const cornerOf = (live: LiveSession, i: number) => live.roster.corners[i]!;
	const pair = (live: LiveSession, i: number, device: FakeRadio) => {
		picked = device;
		return cornerOf(live, i).strap.pair(false);
	};
	async function running() {
		const live = await setUp();
		const [red, blue] = [radio('Red'), radio('Blue')];
		await pair(live, 0, red);
		await pair(live, 1, blue);
		const athletes = [
			{ athleteId: 'odalys', name: 'Odalys' },
			{ athleteId: 'tomas', name: 'Tomas' }
		];
		live.begin(shortPlan, athletes, defaultBellSettings);
		return { live, red, blue };
	}

	it('never stand on one device: the second is refused, and told who wears it', async () => {
		const live = await setUp();
		const red = radio('Red');
		await pair(live, 0, red);

		expect(await pair(live, 1, red)).toBeUndefined();
		expect(cornerOf(live, 1).strap.error).toBe('worn already');
		expect(live.roster.holderIdFor(cornerOf(live, 1), 'odalys')).toBe('odalys');
		expect(cornerOf(live, 1).strap.seat).toBeUndefined();
		expect(cornerOf(live, 0).strap.seat?.strap.state.kind).toBe('connected');

		cornerOf(live, 0).strap.leave();
		expect(await pair(live, 1, red), 'taken off, it can be worn by another').toBeDefined();
	});

	it('may give a corner its own strap once more', async () => {
		const live = await setUp();
		const red = radio('Red');
		await pair(live, 0, red);
		expect(await pair(live, 0, red)).toBeDefined();
		expect(cornerOf(live, 0).strap.error).toBeUndefined();
		expect(cornerOf(live, 0).strap.seat?.strap.state.kind).toBe('connected');
	});

	it('refuse it to who joins in mid-session, and after a swap name who wears it by then', async () => {
		const { live, red } = await running();
		const { corners } = live.running!;
		picked = red;
		const joins = () => corners.join({ athleteId: 'adem', name: 'Adem' }, false);

		expect(await joins()).toBe(false);
		expect(corners).toMatchObject({ problem: 'worn already', wearer: 'Odalys' });
		corners.swap(0, 1);
		expect(await joins()).toBe(false);
		expect(corners).toMatchObject({ problem: 'worn already', wearer: 'Tomas' });
		expect(live.running!.view!.corners.map(({ name }) => name)).toEqual(['Odalys', 'Tomas']);

		corners.leave(1);
		expect(await joins(), 'whoever leaves frees the strap').toBe(true);
		expect(corners.problem).toBeUndefined();
		await live.discard();
	});

	it('refuse it to a corner that pairs again, and let that corner have its own lost one', async () => {
		const { live, red, blue } = await running();
		const { corners } = live.running!;
		blue.connecting = 'refuse';
		blue.drop();
		expect(live.running!.view!.corners[1]!.signal).toMatchObject({ words: 'signal lost 0 s ago' });
		picked = red;
		await corners.pairAgain(1);
		expect(corners).toMatchObject({ problem: 'worn already', wearer: 'Odalys' });
		blue.connecting = 'accept';
		picked = blue;
		await corners.pairAgain(1);
		expect(corners.problem).toBeUndefined();
		expect(cornerOf(live, 1).strap.seat?.strap.state.kind).toBe('connected');
		await live.discard();
	});

	it('are counted by their links: neither a lost strap nor a simulated one holds any', async () => {
		const live = await setUp();
		const { roster } = live;
		expect(roster.linkCount).toBe(0);
		const [red, blue] = [radio('Red'), radio('Blue')];
		await pair(live, 0, red);
		await pair(live, 1, blue);
		await roster.add('adem').strap.practise('keep clock');
		expect(roster.linkCount).toBe(2);

		blue.connecting = 'refuse';
		blue.drop();
		expect(roster.linkCount).toBe(1);
		roster.clear();
		expect(roster.linkCount).toBe(0);
	});

	it('are told apart in words that name the boxer and the way out', () => {
		const words = (wearer?: string, isRunning = false) =>
			strapErrorWords('worn already', { wearer, linkCount: 1, isRunning });
		expect(words('Odalys')).toBe(
			'Odalys wears that strap. Choose another one. Or disconnect it from Odalys first.'
		);
		expect(words('Odalys', true)).toContain('free once Odalys leaves');
		expect(words()).toContain('another boxer');
	});
});
