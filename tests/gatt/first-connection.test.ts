import { describe, expect, it } from 'vitest';
import type { FakeRadio } from './fake-bluetooth';
import { pass, settled } from './strap-bench';
import { connected, packet, paired } from './web-bluetooth-bench';

describe('the first connection', () => {
	it('tries again at once where the strap refuses, and succeeds at the third try', async () => {
		const { clock, radio, strap, heard } = await paired();
		radio.connecting = 'refuse';
		const connecting = strap.connect();
		await pass(clock, 300);
		radio.connecting = 'accept';
		await pass(clock, 1000);
		await connecting;

		expect(radio.triesMs).toEqual([0, 250, 750]);
		expect(heard.states).toEqual(['looking', 'connected']);
	});

	it.each([
		{ isAdapterOn: true, code: 'unreachable' },
		{ isAdapterOn: false, code: 'adapter off' }
	])('gives up after three refusals as "$code"', async ({ isAdapterOn, code }) => {
		const { clock, radio, strap, heard } = await paired();
		radio.connecting = 'refuse';
		radio.isAdapterOn = isAdapterOn;
		const outcome = expect(strap.connect()).rejects.toMatchObject({ name: 'StrapError', code });
		await pass(clock, 10_000);
		await outcome;

		expect(radio.triesMs).toHaveLength(3);
		expect(heard.states).toEqual(['looking', 'idle']);
		expect(clock.wakesToCome).toBe(0);
	});

	it('is refused at once as "unreachable" by a device that offers no connection', async () => {
		const { radio, strap } = await paired();
		Object.defineProperty(radio.device, 'gatt', { value: undefined });

		await expect(strap.connect()).rejects.toMatchObject({ name: 'StrapError', code: 'unreachable' });
		expect(strap.state.kind).toBe('idle');
		expect(strap.nextDueMs, 'its packets would come by themselves').toBe(Infinity);
		strap.close();
		expect(strap.state.kind).toBe('closed');
	});

	it('tries again where the strap leaves in mid-subscription, and takes it for no other device', async () => {
		const { clock, radio, strap } = await paired();
		const { services } = radio;
		radio.services = { heart_rate: { heart_rate_measurement: { notify: 'breaks' } } };
		const connecting = strap.connect();
		await pass(clock, 200);
		radio.services = services;
		await pass(clock, 100);
		await connecting;

		expect(radio.triesMs).toEqual([0, 250]);
		expect(strap.state.kind).toBe('connected');
	});

	it('is given up as "unreachable" where the strap leaves in the middle of the discovery three times', async () => {
		const { clock, radio, strap } = await paired();
		radio.discovery = 'hang';
		const outcome = expect(strap.connect()).rejects.toMatchObject({
			code: 'unreachable',
			cause: { name: 'NetworkError', message: 'The strap left again.' }
		});
		for (let tries = 1; tries <= 3; tries++) {
			await pass(clock, 100);
			expect(radio.triesMs).toHaveLength(tries);
			radio.drop();
			await pass(clock, 500);
		}
		await outcome;

		expect(radio.triesMs).toEqual([0, 350, 1200]);
		expect(clock.wakesToCome).toBe(0);
	});

	it('takes a strap whose discovery fails for no other device, and tries three times', async () => {
		const { clock, radio, strap } = await paired();
		radio.discovery = 'refuse';
		const outcome = expect(strap.connect()).rejects.toMatchObject({
			code: 'unreachable',
			cause: { name: 'NetworkError' }
		});
		await pass(clock, 1000);
		await outcome;

		expect(radio.triesMs).toEqual([0, 250, 750]);
		expect(radio.isUp).toBe(false);
	});

	it('stops waiting for a connection that hangs after eight seconds, and can be asked again', async () => {
		const { clock, radio, strap } = await paired();
		radio.connecting = 'hang';
		const outcome = expect(strap.connect()).rejects.toMatchObject({ code: 'unreachable' });
		await pass(clock, 7950);
		expect(strap.state.kind).toBe('looking');
		await pass(clock, 50);
		await outcome;
		expect(strap.state.kind).toBe('idle');
		radio.letThrough();
		await settled();
		expect(radio.isUp).toBe(false);

		radio.connecting = 'accept';
		await strap.connect();
		expect(strap.state.kind).toBe('connected');
	});

	const others: { what: string; offered: FakeRadio['services'] }[] = [
		{ what: 'has no Heart Rate Service', offered: {} },
		{ what: 'has no Heart Rate Measurement', offered: { heart_rate: {} } },
		{
			what: 'cannot notify of measurements',
			offered: { heart_rate: { heart_rate_measurement: { read: 'accept' } } }
		}
	];

	it.each(others)('says so of a device that $what', async ({ offered }) => {
		const { radio, strap } = await paired();
		radio.services = offered;

		await expect(strap.connect()).rejects.toMatchObject({
			code: 'not a heart-rate strap',
			cause: { name: 'NotFoundError' }
		});
		expect(radio.triesMs).toHaveLength(1);
		expect(radio.isUp).toBe(false);
		expect(strap.state.kind).toBe('idle');
	});

	it.each(['the services', 'the subscription'])('stops waiting for %s after eight seconds', async (what) => {
		const { clock, radio, strap } = await paired();
		if (what === 'the services') radio.discovery = 'hang';
		else radio.services.heart_rate = { heart_rate_measurement: { notify: 'hang' } };
		const outcome = expect(strap.connect()).rejects.toMatchObject({ code: 'unreachable' });
		await pass(clock, 8000);
		await outcome;

		expect(radio.isUp).toBe(false);
		expect(clock.wakesToCome).toBe(0);
	});
});

describe('packets', () => {
	it('are stamped with the time of their event, in their order of arrival', async () => {
		const { clock, radio, heard } = await connected();
		await pass(clock, 1234);
		radio.notify([0x00, 101]);
		radio.notify([0x00, 102]);

		expect(heard.readings.map(({ ms, measurement }) => [ms, measurement.bpm])).toEqual([
			[1234, 101],
			[1234, 102]
		]);
	});

	it('that are malformed are counted, and the connection goes on', async () => {
		const { radio, strap, heard } = await connected();
		const counts: number[] = [];
		strap.onChange(() => counts.push(strap.malformedCount));
		radio.notify([]);
		radio.notify([0x10, 80, 1]);
		radio.notify(packet);

		expect(counts).toEqual([1, 2]);
		expect(heard.readings).toHaveLength(1);
		expect(strap).toMatchObject({ malformedCount: 2, state: { kind: 'connected' } });
	});
});
