import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from '../by-chance';
import { expect, it } from 'vitest';
import {
	decodeHeartRateMeasurement,
	encodeHeartRateMeasurement,
	MalformedMeasurement
} from '$lib/gatt/heart-rate-measurement';
import { outside } from '../physiology/outside';
import { bytesOf, examples, viewOf } from './measurement-examples';

// An independent reading of the same bytes: Wireshark's dissector for 0x2A37 (its command-line program tshark).
const hasTshark = spawnSync('tshark', ['--version']).status === 0;

const field = (name: string) => `btatt.heart_rate_measurement.${name}`;
const columns = [
	field('value.8'),
	field('value.16'),
	field('flags.sensor_contact_status.support'),
	field('flags.sensor_contact_status.contact'),
	field('energy_expended'),
	field('rr_interval'),
	'_ws.malformed'
];

/** A capture in the classic pcap format, link type 201 (Bluetooth HCI with a direction), a notification a packet. */
function captureOf(packets: Uint8Array[]): Buffer {
	const header = Buffer.alloc(24);
	header.writeUInt32LE(0xa1b2c3d4, 0);
	header.writeUInt16LE(2, 4);
	header.writeUInt16LE(4, 6);
	header.writeUInt32LE(65_535, 16);
	header.writeUInt32LE(201, 20);
	return Buffer.concat([
		header,
		...packets.flatMap((value, second) => [recordHeader(second, value), frameOf(value)])
	]);
}

function recordHeader(second: number, value: Uint8Array): Buffer {
	const header = Buffer.alloc(16);
	header.writeUInt32LE(second, 0);
	header.writeUInt32LE(frameOf(value).length, 8);
	header.writeUInt32LE(frameOf(value).length, 12);
	return header;
}

function frameOf(value: Uint8Array): Buffer {
	// ATT: Handle Value Notification (0x1B) from handle 0x0012.
	const att = Buffer.from([0x1b, 0x12, 0x00, ...value]);
	const l2cap = Buffer.alloc(4);
	l2cap.writeUInt16LE(att.length, 0);
	l2cap.writeUInt16LE(4, 2);
	const hci = Buffer.alloc(9);
	hci.writeUInt32BE(1, 0);
	hci.writeUInt8(0x02, 4);
	hci.writeUInt16LE(0x2040, 5);
	hci.writeUInt16LE(l2cap.length + att.length, 7);
	return Buffer.concat([hci, l2cap, att]);
}

/** One line a packet, as the dissector reads it. */
function dissect(packets: Uint8Array[]): string[] {
	const folder = mkdtempSync(join(tmpdir(), 'measurement-'));
	try {
		const file = join(folder, 'packets.pcap');
		writeFileSync(file, captureOf(packets));
		const output = execFileSync(
			'tshark',
			['-r', file, '-d', 'btatt.handle==0x0012,btgatt.uuid0x2a37', '-T', 'fields'].concat(
				columns.flatMap((column) => ['-e', column])
			),
			{ encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }
		);
		return output.split('\n').slice(0, -1);
	} finally {
		rmSync(folder, { recursive: true });
	}
}

/** The same line from our own decoder. */
function lineOf(bytes: Uint8Array): string {
	const { bpm, contact, energyKJ, rrMs } = decodeHeartRateMeasurement(viewOf(bytes));
	const wide = (bytes[0] ?? 0) & 1;
	const rr = rrMs.map((ms) => (ms / 1000) * 1024).join(',');
	// The dissector prints the two bits of contact; the first of the four codes to be told apart is support.
	const contactBits =
		contact === 'not supported' ? `0\t${((bytes[0] ?? 0) >> 1) & 1}` : `1\t${contact === 'contact' ? 1 : 0}`;
	return [wide ? '' : bpm, wide ? bpm : '', contactBits, energyKJ ?? '', rr, ''].join('\t');
}

const skipped = hasTshark ? '' : ' (skipped: tshark is not installed on this machine)';

const dissected = outside(
	'grid',
	"Packets as Wireshark's dissector reads them: values read otherwise in one packet",
	'values'
);
/** How many values of a packet the two read otherwise. */
function differing(theirs: string, ours: string): number {
	const other = theirs.split('\t');
	return ours.split('\t').filter((value, i) => value !== other[i]).length;
}

it.runIf(hasTshark)(`reads what an independent dissector reads in the examples${skipped}`, () => {
	const packets = examples.map(({ hex }) => bytesOf(hex));

	const theirs = dissect(packets);
	packets.forEach((packet, i) => dissected.take(differing(theirs[i]!, lineOf(packet)), 0));
	expect(theirs).toEqual(packets.map(lineOf));
});

it.runIf(hasTshark)(`writes what an independent dissector reads back, 500 packets${skipped}`, () => {
	const packets = fc.sample(
		fc
			.record({
				bpm: fc.nat(400),
				contact: fc.constantFrom('not supported' as const, 'no contact' as const, 'contact' as const),
				energyKJ: fc.option(fc.nat(65_535), { nil: undefined }),
				rrMs: fc.array(fc.double({ min: 240, max: 2000, noNaN: true }), { maxLength: 7 })
			})
			.map(encodeHeartRateMeasurement),
		{ numRuns: 500, seed: 2011 }
	);
	const theirs = dissect(packets);
	packets.forEach((packet, i) => dissected.take(differing(theirs[i]!, lineOf(packet)), 0));
	expect(theirs).toEqual(packets.map(lineOf));
});

it.runIf(hasTshark)(`comes to what Methods says${skipped}`, () => {
	dissected.settle();
});

it.runIf(hasTshark)(`finds malformed what an independent dissector finds malformed${skipped}`, () => {
	const packets = ['01 50', '08 50', '08 50 01', '10 50 3C 03 04'].map(bytesOf);

	for (const [i, line] of dissect(packets).entries()) {
		expect(line).toContain('Malformed');
		expect(() => lineOf(packets[i] ?? new Uint8Array())).toThrow(MalformedMeasurement);
	}
});
