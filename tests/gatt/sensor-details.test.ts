import { describe, expect, it } from 'vitest';
import { pass } from './strap-bench';
import { connected, paired, send } from './web-bluetooth-bench';

describe('what a strap need not offer', () => {
	it('is read where it is offered, the battery anew with each connection', async () => {
		const { clock, radio, strap } = await connected();
		expect(strap.details).toEqual({ batteryPercent: 90, location: 'chest' });
		radio.services.battery_service = { battery_level: { bytes: [41] } };
		radio.drop();
		await pass(clock, 1000);

		expect(strap.details).toEqual({ batteryPercent: 41, location: 'chest' });
	});

	it('is followed where the battery notifies', async () => {
		const { clock, radio, strap } = await paired();
		radio.services.battery_service = { battery_level: { bytes: [90], notify: 'accept' } };
		await strap.connect();
		await pass(clock, 100);
		radio.notify([89], 'battery_level');
		expect(strap.details.batteryPercent).toBe(89);
		radio.notify([], 'battery_level');
		radio.notify([101], 'battery_level');
		expect(strap.details.batteryPercent).toBe(89);
		const dead = radio.characteristic('battery_level');
		radio.drop();
		dead.emit([12]);

		expect(strap.details.batteryPercent).toBe(89);
	});

	// Body Sensor Location: Bluetooth SIG, Heart Rate Service 1.0, 3.2.
	it.each(
		['other', 'chest', 'wrist', 'finger', 'hand', 'ear lobe', 'foot'].map((words, code) => ({ code, words }))
	)('puts location $code into words: $words', async ({ code, words }) => {
		const { clock, radio, strap } = await paired();
		radio.services.heart_rate = {
			heart_rate_measurement: { notify: 'accept' },
			body_sensor_location: { bytes: [code] }
		};
		await strap.connect();
		await pass(clock, 100);

		expect(strap.details.location).toBe(words);
	});

	it.each([
		{ what: 'is not there', battery: undefined, location: undefined },
		{ what: 'is empty', battery: { bytes: [] }, location: { bytes: [] } },
		{ what: 'is a reserved value', battery: { bytes: [101] }, location: { bytes: [7] } },
		{ what: 'cannot be read', battery: { read: 'refuse' as const }, location: { read: 'refuse' as const } },
		{ what: 'never answers', battery: { read: 'hang' as const }, location: { read: 'hang' as const } }
	])('stays unknown where it $what, and the packets come', async ({ battery, location }) => {
		const bench = await paired();
		const { radio, strap, heard } = bench;
		radio.services = {
			heart_rate: {
				heart_rate_measurement: { notify: 'accept' },
				...(location && { body_sensor_location: location })
			},
			...(battery && { battery_service: { battery_level: battery } })
		};
		await strap.connect();
		await send(bench, 30);

		expect(strap).toMatchObject({ state: { kind: 'connected' }, malformedCount: 0 });
		expect(strap.details).toEqual({});
		expect(heard.readings).toHaveLength(30);
	});

	it('is not asked for any more once the strap is lost', async () => {
		const { clock, radio, strap } = await paired();
		radio.services.heart_rate = {
			heart_rate_measurement: { notify: 'accept' },
			body_sensor_location: { read: 'hang' }
		};
		const { gatt } = radio.device as BluetoothDevice;
		const find = gatt!.getPrimaryService;
		const asked: unknown[] = [];
		gatt!.getPrimaryService = (uuid) => {
			asked.push(uuid);
			return find(uuid);
		};
		await strap.connect();
		await pass(clock, 100);
		radio.connecting = 'refuse';
		radio.drop();
		await pass(clock, 9000);

		expect(asked).toEqual(['heart_rate']);
		expect(strap.details).toEqual({});
	});

	it('is known for the battery where the location never answers', async () => {
		const { clock, radio, strap } = await paired();
		radio.services.heart_rate = {
			heart_rate_measurement: { notify: 'accept' },
			body_sensor_location: { read: 'hang' }
		};
		await strap.connect();
		await pass(clock, 8100);

		expect(strap.details).toEqual({ batteryPercent: 90 });
	});
});
