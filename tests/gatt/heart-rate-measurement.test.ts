import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import {
	decodeHeartRateMeasurement,
	encodeHeartRateMeasurement,
	MalformedMeasurement,
	type HeartRateMeasurement
} from '$lib/gatt/heart-rate-measurement';
import { bytesOf, examples, viewOf } from './measurement-examples';

const decode = (bytes: Uint8Array) => decodeHeartRateMeasurement(viewOf(bytes));
const decodeHex = (hex: string) => decode(bytesOf(hex));
const makeMeasurement = (overrides: Partial<HeartRateMeasurement> = {}): HeartRateMeasurement => ({
	bpm: 150,
	contact: 'contact',
	rrMs: [],
	...overrides
});

describe('decoding a Heart Rate Measurement', () => {
	it.each(examples)('reads $hex', ({ hex, bpm, contact, energyKJ, rr1024 }) => {
		const measurement = decodeHex(hex);

		expect(measurement).toEqual({
			bpm,
			contact,
			...(energyKJ === undefined ? {} : { energyKJ }),
			rrMs: rr1024.map((units) => (units / 1024) * 1000)
		});
	});

	it('leaves energy out where the packet has none, which is not zero', () => {
		expect(decodeHex('06 AA')).not.toHaveProperty('energyKJ');
		expect(decodeHex('0E AA 00 00').energyKJ).toBe(0);
	});

	it('takes 1024 units for one second and not for 1024 ms', () => {
		expect(decodeHex('10 3C 00 04').rrMs).toEqual([1000]);
	});

	it('takes an announced but empty RR field for no intervals', () => {
		expect(decodeHex('10 5A')).toEqual({ bpm: 90, contact: 'not supported', rrMs: [] });
	});

	it('reads a packet with all the RR intervals a larger ATT MTU has room for', () => {
		const packet = Uint8Array.of(0x10, 60, ...Array.from({ length: 30 }, () => [0x00, 0x04]).flat());

		expect(decode(packet).rrMs).toEqual(Array.from({ length: 30 }, () => 1000));
	});

	it('ignores what follows where no RR intervals are announced', () => {
		expect(decodeHex('06 AA 12 34 56')).toEqual({ bpm: 170, contact: 'contact', rrMs: [] });
		expect(decodeHex('0E AA 80 00 FF')).toEqual({ bpm: 170, contact: 'contact', energyKJ: 128, rrMs: [] });
	});

	it.each(Array.from({ length: 32 }, (_, flags) => flags))(
		'reads alike with any reserved bit beside %i',
		(flags) => {
			const rest = [0x2c, 0x01, 0x05, 0x00, 0x00, 0x04, 0x01, 0x04].slice(flags & 1 ? 0 : 1);
			const plain = decode(Uint8Array.of(flags, ...rest, ...(flags & 8 ? [] : [0, 4])));

			for (const reserved of [0x20, 0x40, 0x80, 0xe0]) {
				expect(decode(Uint8Array.of(flags | reserved, ...rest, ...(flags & 8 ? [] : [0, 4])))).toEqual(plain);
			}
			expect(plain.bpm).toBe(flags & 1 ? 300 : 1);
			expect('energyKJ' in plain).toBe(Boolean(flags & 8));
			expect(plain.rrMs.length > 0).toBe(Boolean(flags & 16));
			expect(plain.contact).toBe(
				['not supported', 'not supported', 'no contact', 'contact'][(flags >> 1) & 3]
			);
		}
	);

	it('reads a view that begins in the middle of a longer buffer and ends before it does', () => {
		const buffer = Uint8Array.of(0xff, 0xff, 0x16, 0x48, 0x7a, 0x03, 0xff, 0xff).buffer;

		expect(decodeHeartRateMeasurement(new DataView(buffer, 2, 4))).toEqual({
			bpm: 72,
			contact: 'contact',
			rrMs: [(890 / 1024) * 1000]
		});
	});

	it.each([
		{ bytes: [], missing: 'the flags' },
		{ bytes: [0x00], missing: 'the heart rate' },
		{ bytes: [0x01, 0x50], missing: 'the heart rate' },
		{ bytes: [0x08, 0x50], missing: 'the energy expended' },
		{ bytes: [0x08, 0x50, 0x01], missing: 'the energy expended' },
		{ bytes: [0x10, 0x50, 0x3c, 0x03, 0x04], missing: 'an RR interval' }
	])('refuses $bytes and says that $missing is cut off', ({ bytes, missing }) => {
		const read = () => decode(Uint8Array.from(bytes));

		expect(read).toThrow(MalformedMeasurement);
		expect(read).toThrow(missing);
		expect(read).toThrow(`${bytes.length} bytes`);
		expect(read).toThrow(expect.objectContaining({ name: 'MalformedMeasurement' }));
	});

	it('ends in a value or in MalformedMeasurement for any 100,000 packets', () => {
		const outcomes = { value: 0, malformed: 0 };
		fc.assert(
			fc.property(fc.uint8Array({ maxLength: 24 }), (bytes) => {
				try {
					const { bpm, rrMs } = decode(bytes);
					outcomes.value++;
					return Number.isInteger(bpm) && bpm >= 0 && rrMs.every((ms) => ms >= 0 && ms < 64_000);
				} catch (error) {
					outcomes.malformed++;
					return error instanceof MalformedMeasurement;
				}
			}),
			{ numRuns: 100_000 }
		);

		// Both happen often enough to be meant: one in ten at least.
		expect(outcomes.value).toBeGreaterThan(outcomes.malformed / 9);
		expect(outcomes.malformed).toBeGreaterThan(outcomes.value / 9);
	});
});

describe('encoding a Heart Rate Measurement', () => {
	it.each(examples.filter(({ hex }) => /^(00|04|06|0E|10|16|1F)/.test(hex)))(
		'writes $hex as the standard lays it out',
		({ hex, bpm, contact, energyKJ, rr1024 }) => {
			const rrMs = rr1024.map((units) => (units / 1024) * 1000);

			expect(encodeHeartRateMeasurement({ bpm, contact, energyKJ, rrMs })).toEqual(bytesOf(hex));
		}
	);

	// "If the Heart Rate Measurement Value is less than or equal to 255 bpm a UINT8 format should be used": Bluetooth SIG,
	// Heart Rate Service 1.0, 3.1.1.2 (in these words from memory).
	it.each([
		{ bpm: 0, hex: '00 00' },
		{ bpm: 254, hex: '00 FE' },
		{ bpm: 255, hex: '00 FF' },
		{ bpm: 256, hex: '01 00 01' },
		{ bpm: 65_535, hex: '01 FF FF' }
	])('writes $bpm beats in as few bytes as hold them: $hex', ({ bpm, hex }) => {
		const written = encodeHeartRateMeasurement({ bpm, contact: 'not supported', rrMs: [] });

		expect(written).toEqual(bytesOf(hex));
		expect(decode(written).bpm).toBe(bpm);
	});

	it('gives every value back, RR intervals to the nearest 1/1024 s', () => {
		const measurements = fc
			.record({
				bpm: fc.nat(65_535),
				contact: fc.constantFrom('not supported' as const, 'no contact' as const, 'contact' as const),
				energyKJ: fc.option(fc.nat(65_535), { nil: undefined }),
				rrMs: fc.array(fc.double({ min: 0, max: 63_999, noNaN: true }), { maxLength: 9 })
			})
			.filter(
				({ bpm, energyKJ, rrMs }) =>
					(bpm > 255 ? 3 : 2) + (energyKJ === undefined ? 0 : 2) + 2 * rrMs.length <= 20
			);
		fc.assert(
			fc.property(measurements, (sent) => {
				const received = decode(encodeHeartRateMeasurement(sent));
				expect({ ...received, rrMs: undefined }).toEqual({ ...sent, rrMs: undefined });
				expect(received.rrMs).toHaveLength(sent.rrMs.length);
				received.rrMs.forEach((ms, i) => {
					expect(Math.abs(ms - (sent.rrMs[i] ?? NaN))).toBeLessThanOrEqual(500 / 1024 + 1e-9);
				});
			}),
			{ numRuns: 2000 }
		);
	});

	// Nine with an 8-bit rate, eight with energy too: what 20 bytes leave room for at the default ATT MTU of 23.
	it.each([
		{ what: 'an 8-bit rate', bpm: 150, energyKJ: undefined, room: 9 },
		{ what: 'an 8-bit rate and energy', bpm: 150, energyKJ: 7, room: 8 },
		{ what: 'a 16-bit rate', bpm: 300, energyKJ: undefined, room: 8 },
		{ what: 'a 16-bit rate and energy', bpm: 300, energyKJ: 7, room: 7 }
	])('has room for $room RR intervals beside $what and refuses one more', ({ bpm, energyKJ, room }) => {
		const withRr = (count: number) =>
			encodeHeartRateMeasurement(makeMeasurement({ bpm, energyKJ, rrMs: Array(count).fill(400) }));

		expect(withRr(room).length).toBeLessThanOrEqual(20);
		expect(() => withRr(room + 1)).toThrow(/holds 20 bytes/);
	});

	it.each([
		{ field: 'heart rate', overrides: { bpm: -1 } },
		{ field: 'heart rate', overrides: { bpm: 65_536 } },
		{ field: 'heart rate', overrides: { bpm: 150.5 } },
		{ field: 'heart rate', overrides: { bpm: NaN } },
		{ field: 'energy', overrides: { energyKJ: 65_536 } },
		{ field: 'energy', overrides: { energyKJ: 1.5 } },
		{ field: 'RR interval', overrides: { rrMs: [64_000] } },
		{ field: 'RR interval', overrides: { rrMs: [-1] } },
		{ field: 'RR interval', overrides: { rrMs: [NaN] } }
	])('refuses $overrides and names the $field', ({ field, overrides }) => {
		const write = () => encodeHeartRateMeasurement(makeMeasurement(overrides));

		expect(write).toThrow(RangeError);
		expect(write).toThrow(field);
	});
});
