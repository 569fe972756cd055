import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { manualClock } from '$lib/time/manual-clock';
import { canPair, isAdapterOff } from '$lib/gatt/can-pair';
import type { Strap, StrapError } from '$lib/gatt/strap';
import { pairStrap } from '$lib/gatt/pair-strap';
import { FakeRadio } from './fake-bluetooth';

describe('asking whether a strap can be paired', () => {
	afterEach(() => vi.unstubAllGlobals());

	it("asks the browser's own Bluetooth where it is given none", async () => {
		vi.stubGlobal('navigator', { bluetooth: new FakeRadio(manualClock()).bluetooth });
		expect(await canPair()).toBe('yes');
		vi.stubGlobal('navigator', undefined);
		expect(await canPair()).toBe('no bluetooth');
	});

	it('says yes where there is an adapter and it is on', async () => {
		expect(await canPair(new FakeRadio(manualClock()).bluetooth)).toBe('yes');
	});

	it('tells an adapter that is off from a browser without Bluetooth', async () => {
		const radio = new FakeRadio(manualClock());
		radio.isAdapterOn = false;

		expect(await canPair(radio.bluetooth)).toBe('adapter off');
		// Where this runs there is no navigator.bluetooth, as in many browsers and while prerendering.
		expect(await canPair()).toBe('no bluetooth');
	});

	it('leaves it to the chooser where the browser will not say', async () => {
		const bluetooth = { getAvailability: () => Promise.reject(new DOMException('', 'SecurityError')) };

		expect(await canPair(bluetooth as unknown as Bluetooth)).toBe('yes');
		expect(await isAdapterOff(bluetooth as unknown as Bluetooth)).toBe(false);
	});
});

describe('pairing a strap', () => {
	// A newer Node has such a storage too, and would know a name by its id from the test before.
	beforeEach(() => void vi.stubGlobal('sessionStorage', undefined));
	afterEach(() => void vi.unstubAllGlobals());

	it('asks for any device with the Heart Rate Service, and to see its battery', async () => {
		const radio = new FakeRadio(manualClock());
		const strap = await pairStrap({ clock: manualClock(), bluetooth: radio.bluetooth });

		expect(radio.requests).toEqual([
			{
				filters: [{ services: ['heart_rate'] }],
				optionalServices: ['battery_service']
			}
		]);
		expect(strap).toMatchObject({ name: 'Red corner', practice: false, state: { kind: 'idle' } });
		expect(radio.triesMs).toEqual([]);
	});

	it('has a name for a strap that advertises none', async () => {
		const radio = new FakeRadio(manualClock());
		radio.name = undefined;

		expect((await pairStrap({ clock: manualClock(), bluetooth: radio.bluetooth })).name).toBe(
			'unnamed strap'
		);
	});

	it.each([
		{ what: 'a dismissed chooser', thrown: 'NotFoundError', isAdapterOn: true, code: 'cancelled' },
		{ what: 'an adapter that is off', thrown: 'NotFoundError', isAdapterOn: false, code: 'adapter off' },
		{ what: 'a forbidding policy', thrown: 'SecurityError', isAdapterOn: true, code: 'no bluetooth' },
		{ what: 'a refused permission', thrown: 'NotAllowedError', isAdapterOn: true, code: 'no bluetooth' }
	])('rejects with "$code" for $what', async ({ thrown, isAdapterOn, code }) => {
		const radio = new FakeRadio(manualClock());
		// The text says something else on purpose: only the name may count.
		const cause = new DOMException('User cancelled; adapter off; no bluetooth', thrown);
		radio.chooser = cause;
		radio.isAdapterOn = isAdapterOn;

		await expect(pairStrap({ clock: manualClock(), bluetooth: radio.bluetooth })).rejects.toMatchObject({
			name: 'StrapError',
			code,
			cause
		});
	});

	it('gives one device to one strap at a time, and to the strap that takes its place', async () => {
		const clock = manualClock();
		const radio = new FakeRadio(clock);
		const pair = (instead?: Strap) => pairStrap({ clock, instead, bluetooth: radio.bluetooth });
		const one = await pair();
		await one.connect();

		await expect(pair()).rejects.toMatchObject({ code: 'worn already', holder: one });
		expect(one.state.kind, 'the first goes on').toBe('connected');

		const again = await pair(one);
		one.close();
		await again.connect();
		await expect(pair(one)).rejects.toMatchObject({ code: 'worn already', holder: again });
		again.close();
		expect(await pair()).toMatchObject({ name: 'Red corner' });
	});

	it('rejects with "no bluetooth" where the browser has none', async () => {
		const failure: unknown = await pairStrap({ clock: manualClock() }).catch((reason: unknown) => reason);

		expect(failure).toMatchObject({ name: 'StrapError', code: 'no bluetooth' });
		expect((failure as StrapError).cause, 'nobody refused anything').toBeUndefined();
	});
});
