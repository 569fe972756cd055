import type { HeartRateMeasurement } from '$lib/gatt/heart-rate-measurement';

/** A value in a form short to write down; RR in 1/1024 s, as on the air. */
interface Example {
	hex: string;
	bpm: number;
	contact: HeartRateMeasurement['contact'];
	energyKJ?: number;
	rr1024: number[];
}

// Written by hand from the field layout of Bluetooth SIG, Heart Rate Service 1.0, 3.1.1 and the GATT Specification
// Supplement, one or more for each flag.
export const examples: Example[] = [
	{ hex: '00 50', bpm: 80, contact: 'not supported', rr1024: [] },
	{ hex: '01 C8 00', bpm: 200, contact: 'not supported', rr1024: [] },
	{ hex: '02 AA', bpm: 170, contact: 'not supported', rr1024: [] },
	{ hex: '04 AA', bpm: 170, contact: 'no contact', rr1024: [] },
	{ hex: '06 AA', bpm: 170, contact: 'contact', rr1024: [] },
	{ hex: '0E 4B 80 00', bpm: 75, contact: 'contact', energyKJ: 128, rr1024: [] },
	{ hex: '10 5A 00 08 00 10', bpm: 90, contact: 'not supported', rr1024: [2048, 4096] },
	{ hex: '16 48 7A 03 66 03', bpm: 72, contact: 'contact', rr1024: [890, 870] },
	{
		hex: '1F 2C 01 FF FF 00 04 FF 03 00 02 00 01',
		bpm: 300,
		contact: 'contact',
		energyKJ: 65535,
		rr1024: [1024, 1023, 512, 256]
	},
	{ hex: 'E0 50', bpm: 80, contact: 'not supported', rr1024: [] }
];

export function bytesOf(hex: string): Uint8Array<ArrayBuffer> {
	return Uint8Array.from(hex.split(' '), (byte) => Number.parseInt(byte, 16));
}

export function viewOf(bytes: Uint8Array): DataView {
	return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}
