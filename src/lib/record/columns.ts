import type { RecordBody } from './body';
import { recordVersion } from './check';

/** One packet as the columns hold it. `ms` is elapsed time in whole milliseconds. */
export interface Reading {
	ms: number;
	bpm: number;
	contact: 'not supported' | 'no contact' | 'contact';
	energyKJ?: number;
	rrMs: number[];
}

const contactCode = { 'not supported': 1, 'no contact': 2, contact: 3 } as const;
const contactOf = ['not supported', 'not supported', 'no contact', 'contact'] as const;
const energyBit = 4;

/**
 * Packs readings, in order of arrival, into a record's columns. Steps and rates take the narrow form unless
 * a value needs the wide one.
 */
export function packReadings(readings: readonly Reading[]): RecordBody {
	const firstMs = Math.round(readings[0]?.ms ?? 0) + 0;
	let lastMs = firstMs;
	// Steps cannot go back; the running sum keeps later readings on their own moment all the same.
	const steps = readings.map(({ ms }) => {
		const step = Math.max(0, Math.round(ms) - lastMs);
		lastMs += step;
		return step;
	});
	const rates = readings.map((reading) => reading.bpm);
	return {
		version: recordVersion,
		firstMs,
		stepMs: steps.some((step) => step > 0xffff) ? Uint32Array.from(steps) : Uint16Array.from(steps),
		bpm: rates.some((rate) => rate > 0xff) ? Uint16Array.from(rates) : Uint8Array.from(rates),
		flags: Uint8Array.from(
			readings,
			(reading) => contactCode[reading.contact] | (reading.energyKJ === undefined ? 0 : energyBit)
		),
		rrCount: Uint8Array.from(readings, (reading) => reading.rrMs.length),
		rr1024: Uint16Array.from(readings.flatMap((reading) => reading.rrMs.map((ms) => Math.round(ms * 1.024)))),
		energyKJ: Uint16Array.from(readings.flatMap((reading) => reading.energyKJ ?? []))
	};
}

/** Readings by the columns they came from: a review asks for them again and again, and a record never changes. */
const unpacked = new WeakMap<RecordBody, readonly Reading[]>();

/** The readings of a record's columns, in order of arrival: what `packReadings` was given. */
export function unpackReadings(body: RecordBody): readonly Reading[] {
	let readings = unpacked.get(body);
	if (!readings) unpacked.set(body, (readings = unpack(body)));
	return readings;
}

function unpack(body: RecordBody): Reading[] {
	const readings: Reading[] = [];
	let ms = body.firstMs;
	let nextRr = 0;
	let nextEnergy = 0;
	for (let i = 0; i < body.stepMs.length; i++) {
		ms += body.stepMs[i]!;
		const flags = body.flags[i] ?? 0;
		const rrMs: number[] = [];
		for (let left = body.rrCount[i] ?? 0; left > 0 && nextRr < body.rr1024.length; left--)
			rrMs.push((body.rr1024[nextRr++]! * 1000) / 1024);
		const reading: Reading = {
			ms,
			bpm: body.bpm[i] ?? 0,
			contact: contactOf[(flags & 3) as 0 | 1 | 2 | 3],
			rrMs
		};
		if (flags & energyBit) reading.energyKJ = body.energyKJ[nextEnergy++];
		readings.push(reading);
	}
	return readings;
}
