import { chanceOf, type Chance } from './chance';
import {
	decodeHeartRateMeasurement,
	encodeHeartRateMeasurement,
	MalformedMeasurement
} from '$lib/gatt/heart-rate-measurement';

export interface PacketFigures {
	packets: number;
	decoded: number;
	refused: number;
	/** Errors other than the refusal, and values that the fields cannot hold. */
	uncaught: number;
	/** Refusals that do not say which field is missing at which byte. */
	unclear: number;
	faults: string[];
}

/** Half of the packets are chance alone, 0 to 24 bytes; half were sound until a bit, an end or a byte was changed. */
export function throwPackets(packets: number, seed: number): PacketFigures {
	const chance = chanceOf(seed);
	const figures: PacketFigures = { packets, decoded: 0, refused: 0, uncaught: 0, unclear: 0, faults: [] };
	for (let i = 0; i < packets; i++) {
		const bytes = chance.uniform() < 0.5 ? randomBytes(chance) : mutated(soundPacket(chance), chance);
		const fault = decodeOne(bytes, chance.below(4), figures);
		if (fault) figures.faults.push(`Packet ${i} of seed ${seed} (${bytes.join(' ')}): ${fault}`);
	}
	return figures;
}

function decodeOne(bytes: number[], offset: number, figures: PacketFigures): string | undefined {
	// As browsers hand them out: a window into a larger buffer, whose other bytes are none of its business.
	const buffer = Uint8Array.from([...Array<number>(offset).fill(0xff), ...bytes, 0xff, 0xff]);
	try {
		const read = decodeHeartRateMeasurement(new DataView(buffer.buffer, offset, bytes.length));
		figures.decoded++;
		const fits = (value: number, most: number) => Number.isInteger(value) && value >= 0 && value <= most;
		const isSound =
			fits(read.bpm, 0xffff) &&
			['not supported', 'no contact', 'contact'].includes(read.contact) &&
			(read.energyKJ === undefined || fits(read.energyKJ, 0xffff)) &&
			read.rrMs.length <= bytes.length / 2 &&
			read.rrMs.every((ms) => fits((ms * 1024) / 1000, 0xffff));
		if (isSound) return undefined;
		figures.uncaught++;
		return JSON.stringify(read);
	} catch (error) {
		if (!(error instanceof MalformedMeasurement)) {
			figures.uncaught++;
			return String(error);
		}
		figures.refused++;
		if (/^The packet of \d+ bytes ends where .+ should take [12] at byte \d+\.$/.test(error.message))
			return undefined;
		figures.unclear++;
		return error.message;
	}
}

function randomBytes(chance: Chance): number[] {
	return Array.from({ length: chance.below(25) }, () => chance.below(256));
}

function soundPacket(chance: Chance): number[] {
	return Array.from(
		encodeHeartRateMeasurement({
			bpm: chance.pick([chance.below(256), chance.below(65_536)]),
			contact: chance.pick(['not supported', 'no contact', 'contact']),
			...(chance.uniform() < 0.5 && { energyKJ: chance.below(65_536) }),
			rrMs: Array.from({ length: chance.below(8) }, () => chance.below(64_000))
		})
	);
}

function mutated(bytes: number[], chance: Chance): number[] {
	const at = chance.below(bytes.length);
	switch (chance.below(4)) {
		case 0:
			return bytes.with(at, bytes[at]! ^ (1 << chance.below(8)));
		case 1:
			return bytes.slice(0, at);
		case 2:
			return bytes.toSpliced(at, 0, chance.below(256));
		default:
			return bytes.with(0, chance.below(256));
	}
}
