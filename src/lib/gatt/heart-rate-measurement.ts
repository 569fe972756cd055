/** One decoded Heart Rate Measurement (0x2A37). */
export interface HeartRateMeasurement {
	/** Beats per minute as sent, 0 to 65535. */
	bpm: number;
	contact: 'not supported' | 'no contact' | 'contact';
	/** Energy expended since the last reset, kJ; absent from most packets, which does not mean zero. */
	energyKJ?: number;
	/** RR intervals in milliseconds (multiples of 1000/1024), oldest first. */
	rrMs: number[];
}

/** A packet that ends before a field its flags announce, or inside one. The message says which. */
export class MalformedMeasurement extends Error {
	override readonly name = 'MalformedMeasurement';
}

// Flags, the first byte: Bluetooth SIG, Heart Rate Service 1.0, 3.1.1.1. Bits 5 to 7 are reserved.
const wideRate = 0b0_0001;
const contactDetected = 0b0_0010;
const contactSupported = 0b0_0100;
const hasEnergy = 0b0_1000;
const hasRr = 0b1_0000;

const rrUnitsPerMs = 1024 / 1000;
const uint16Max = 0xffff;
// What a notification carries at the default ATT MTU of 23: three bytes are the opcode and the handle.
const longestPacket = 20;

/**
 * Reads one Heart Rate Measurement (0x2A37; Bluetooth SIG, Heart Rate Service 1.0 and GATT Specification
 * Supplement). Every combination of flags is read and any length a larger ATT MTU allows.
 *
 * The reserved bits 5 to 7 are ignored, and so are bytes left over where no RR intervals are announced: they
 * are where a later version of the characteristic would put its fields. Where RR intervals are announced they
 * fill the rest of the packet, so an odd byte there is a packet cut short. An announced but empty RR field is legal.
 *
 * @throws MalformedMeasurement where the packet ends too early.
 * @example decodeHeartRateMeasurement(new DataView(Uint8Array.of(0x06, 0xaa).buffer))
 * // { bpm: 170, contact: 'contact', rrMs: [] }
 */
export function decodeHeartRateMeasurement(bytes: DataView): HeartRateMeasurement {
	let offset = 0;
	function take(length: 1 | 2, field: string): number {
		if (offset + length > bytes.byteLength) {
			throw new MalformedMeasurement(
				`The packet of ${bytes.byteLength} bytes ends where ${field} should take ${length} at byte ${offset}.`
			);
		}
		const value = length === 1 ? bytes.getUint8(offset) : bytes.getUint16(offset, true);
		offset += length;
		return value;
	}

	const flags = take(1, 'the flags');
	const bpm = take(flags & wideRate ? 2 : 1, 'the heart rate');
	const energy = flags & hasEnergy ? { energyKJ: take(2, 'the energy expended') } : {};
	const rrMs: number[] = [];
	if (flags & hasRr) {
		while (offset < bytes.byteLength) rrMs.push(take(2, 'an RR interval') / rrUnitsPerMs);
	}
	return { bpm, contact: contactOf(flags), ...energy, rrMs };
}

function contactOf(flags: number): HeartRateMeasurement['contact'] {
	if (!(flags & contactSupported)) return 'not supported';
	return flags & contactDetected ? 'contact' : 'no contact';
}

/**
 * Writes one Heart Rate Measurement, the rate in 8 bits where it fits. RR intervals are rounded to 1/1024 s; all
 * else is read back as it was.
 *
 * @throws RangeError where a number is not one the field can hold (whole beats and whole kilojoules from 0 to
 * 65535, RR intervals from 0 to 63999 ms) or where the packet would be longer than 20 bytes.
 */
export function encodeHeartRateMeasurement(measurement: HeartRateMeasurement): Uint8Array<ArrayBuffer> {
	const { bpm, contact, energyKJ, rrMs } = measurement;
	const wide = bpm > 0xff;
	const length = 1 + (wide ? 2 : 1) + (energyKJ === undefined ? 0 : 2) + 2 * rrMs.length;
	if (length > longestPacket) {
		throw new RangeError(
			`A packet holds ${longestPacket} bytes and this one needs ${length}: send some of its ${rrMs.length} RR intervals later.`
		);
	}

	const bytes = new DataView(new ArrayBuffer(length));
	let offset = 1;
	let flags = contactFlags[contact];
	function putUint16(value: number, field: string): void {
		bytes.setUint16(offset, checked(value, field), true);
		offset += 2;
	}

	if (wide) {
		flags |= wideRate;
		putUint16(bpm, 'The heart rate');
	} else {
		bytes.setUint8(offset++, checked(bpm, 'The heart rate'));
	}
	if (energyKJ !== undefined) {
		flags |= hasEnergy;
		putUint16(energyKJ, 'The energy expended');
	}
	if (rrMs.length > 0) flags |= hasRr;
	for (const ms of rrMs) putUint16(Math.round(ms * rrUnitsPerMs), 'An RR interval in 1/1024 s');
	bytes.setUint8(0, flags);
	return new Uint8Array(bytes.buffer);
}

const contactFlags: Record<HeartRateMeasurement['contact'], number> = {
	'not supported': 0,
	'no contact': contactSupported,
	contact: contactSupported | contactDetected
};

function checked(value: number, field: string): number {
	if (Number.isInteger(value) && value >= 0 && value <= uint16Max) return value;
	throw new RangeError(`${field} is ${value}: it must be a whole number from 0 to ${uint16Max}.`);
}
