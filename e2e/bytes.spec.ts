import { readFile } from 'node:fs/promises';
import { expect, test } from './fixtures';
import { packet, type PacketFields } from './packets';

interface Exported {
	head: { events: { kind: string }[] };
	readings: {
		bpm: number[];
		flags: number[];
		rrCount: number[];
		rr1024: number[];
		energyKJ: number[];
	};
}

test('16-bit rates, RR intervals and energy reach the record, and a malformed packet costs only itself', async ({
	page,
	radio,
	corner
}) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:41', name: 'Chest strap A' });
	await corner.open('skip', { Rounds: 1, 'Round, seconds': 60, 'Get ready, seconds': 0 });
	await corner.pair(strap);
	await corner.start();
	await expect.poll(() => strap.subscribed).toBe(true);

	const sent: PacketFields[] = [
		{ bpm: 151 },
		{ bpm: 152, wide: true, contact: true },
		{ bpm: 153, contact: true, rr1024: [402, 401] },
		{ bpm: 154, wide: true, contact: true, energyKJ: 65535, rr1024: [399] },
		{ bpm: 155, contact: true, energyKJ: 0 },
		// As many intervals as twenty bytes hold beside an 8-bit rate.
		{ bpm: 156, contact: true, rr1024: [390, 391, 392, 393, 394, 395, 396, 397, 65535] },
		// No heart has it, but a strap sent it: the record keeps what the screen refuses.
		{ bpm: 300, contact: true },
		{ bpm: 157, contact: false },
		{ bpm: 158, contact: true }
	];
	for (const fields of sent.slice(0, 6)) await strap.notify(packet(fields));
	await expect(corner.heartRate).toHaveText('156');

	// Flags that promise a 16-bit rate with one byte behind them, and a packet with nothing in it but flags.
	await strap.notify([0x01, 0x96]);
	await strap.notify([0x00]);
	await expect(corner.heartRate).toHaveText('156');
	await strap.notify(packet(sent[6]!));
	await expect(page.getByText('no usable beat')).toBeVisible();
	await expect(corner.heartRate).toHaveText('–');
	await strap.notify(packet(sent[7]!));
	await expect(page.getByText('no skin contact')).toBeVisible();
	await strap.notify(packet(sent[8]!));
	await expect(corner.heartRate).toHaveText('158');
	expect(strap.attempts).toBe(1);

	await corner.finish();
	await expect(page.getByText('2 packets could not be read and were left out.')).toBeVisible();
	const downloading = page.waitForEvent('download');
	await (await corner.file('JSON')).click();
	const { head, readings } = JSON.parse(await readFile(await (await downloading).path(), 'utf8')) as Exported;

	expect(head.events.map(({ kind }) => kind)).toEqual(['malformed packet', 'malformed packet']);
	expect(readings.bpm).toEqual(sent.map(({ bpm }) => bpm));
	expect(readings.rrCount).toEqual(sent.map(({ rr1024 = [] }) => rr1024.length));
	expect(readings.rr1024).toEqual(sent.flatMap(({ rr1024 = [] }) => rr1024));
	expect(readings.energyKJ).toEqual([65535, 0]);
	// As session.schema.json says: 1 contact not supported, 2 none, 3 contact; 4 more where energy was sent.
	expect(readings.flags).toEqual([1, 3, 3, 7, 7, 3, 3, 2, 3]);
});
