import { serialize } from 'node:v8';
import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { readings } from '../store/arbitraries';
import { makeReading } from '../store/builders';
import { packReadings, unpackReadings } from '$lib/record/columns';
import type { RecordBody } from '$lib/record/body';

function byteLengthOf(body: RecordBody): number {
	return Object.values(body).reduce<number>(
		(sum, column) => sum + (ArrayBuffer.isView(column) ? column.byteLength : 0),
		0
	);
}

describe('the columns of a record', () => {
	it('give back every reading exactly, whatever straps send', () => {
		fc.assert(
			fc.property(readings, (given) => {
				expect(unpackReadings(packReadings(given))).toStrictEqual(given);
			})
		);
	});

	it('keep readings from before Start, with their negative times', () => {
		const given = [makeReading({ ms: -1500 }), makeReading({ ms: -500 }), makeReading({ ms: 500 })];
		expect(unpackReadings(packReadings(given)).map(({ ms }) => ms)).toEqual([-1500, -500, 500]);
	});

	it('are narrow while every step fits 16 bits and every rate 8', () => {
		const body = packReadings([makeReading({ bpm: 255 }), makeReading({ ms: 65_535, bpm: 30 })]);
		expect(body.stepMs).toEqual(Uint16Array.of(0, 65_535));
		expect(body.bpm).toEqual(Uint8Array.of(255, 30));
	});

	it('widen for a silence of more than 65 s and for a rate over 255', () => {
		const body = packReadings([makeReading({ bpm: 256 }), makeReading({ ms: 65_536 })]);
		expect(body.stepMs).toEqual(Uint32Array.of(0, 65_536));
		expect(body.bpm).toEqual(Uint16Array.of(256, 150));
	});

	it('hold RR intervals in the 1024ths of a second that the Heart Rate Service sends', () => {
		// Bluetooth SIG, Heart Rate Service 1.0, 3.1.1.5: resolution 1/1024 s. 410 units are 400.390625 ms.
		expect(packReadings([makeReading({ rrMs: [400.390625, 1000] })]).rr1024).toEqual(
			Uint16Array.of(410, 1024)
		);
	});

	it('round an interval of no whole 1024th to the nearest', () => {
		// 400 ms are 409.6 units, 401 ms are 410.624.
		expect(packReadings([makeReading({ rrMs: [400, 401] })]).rr1024).toEqual(Uint16Array.of(410, 411));
	});

	it('tell an energy of 0 from none at all', () => {
		const given = [makeReading({ energyKJ: 0 }), makeReading({ ms: 1000 })];
		expect(unpackReadings(packReadings(given))).toStrictEqual(given);
	});

	it('may be empty', () => {
		expect(unpackReadings(packReadings([]))).toEqual([]);
	});

	it('store an hour at 150 beats a minute, every RR interval included, in 40 kB', () => {
		// 3600 packets a second apart, 9000 beats: two or three intervals of 0.4 s in each packet.
		const hour = Array.from({ length: 3600 }, (_, i) =>
			makeReading({ ms: i * 1000, rrMs: Array.from({ length: i % 2 === 0 ? 2 : 3 }, () => 400.390625) })
		);
		const body = packReadings(hour);
		expect(body.rr1024).toHaveLength(9000);
		expect(byteLengthOf(body)).toBe(36_000);
		// As the browser writes it: the structured clone, names and lengths included.
		expect(serialize(body).byteLength).toBeLessThanOrEqual(40_000);
	});
});
