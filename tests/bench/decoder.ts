import { Parser } from 'binary-parser';
import { decodeHeartRateMeasurement, encodeHeartRateMeasurement } from '$lib/gatt/heart-rate-measurement';
import { median, type Row } from './table';

const repeats = 7;
const passes = 60;

/** Our decoder beside a general-purpose parser generator, on the same packets, turn by turn. */
export function decoderRows(): Row[] {
	const packets = packetsOfAnHour();
	const views = packets.map((bytes) => new DataView(bytes.buffer));
	const general = generalParser();
	for (const [i, bytes] of packets.entries()) {
		const ours = decodeHeartRateMeasurement(views[i]!);
		const theirs = general.parse(bytes) as Parsed;
		if (ours.bpm !== theirs.bpm || ours.rrMs.length !== (theirs.rr?.length ?? 0))
			throw new Error(`The two decoders do not agree on packet ${i}.`);
	}
	const perSecond = (decode: (i: number) => unknown) => {
		const startMs = performance.now();
		for (let pass = 0; pass < passes; pass++) for (let i = 0; i < packets.length; i++) decode(i);
		return (passes * packets.length * 1000) / (performance.now() - startMs);
	};
	const ours: number[] = [];
	const theirs: number[] = [];
	for (let i = 0; i < repeats; i++) {
		ours.push(perSecond((at) => decodeHeartRateMeasurement(views[at]!)));
		theirs.push(perSecond((at) => general.parse(packets[at]!)));
	}
	const ratio = median(ours.map((rate, i) => rate / theirs[i]!));
	const millions = (rates: number[]) => (median(rates) / 1e6).toFixed(1);
	return [
		{
			row: 'Decoder: packets a second, ours against a general-purpose parser',
			measured: ratio,
			limit: 1,
			kind: 'over',
			unit: 'times',
			note: `${millions(ours)} against ${millions(theirs)} million a second`
		}
	];
}

interface Parsed {
	bpm: number;
	rr?: number[];
}

/** The same fields as the Heart Rate Service names them, put together from the parser's own parts. */
function generalParser() {
	const flag = (mask: number) =>
		function (this: { flags: number }) {
			return this.flags & mask ? 1 : 0;
		};
	const nothing = new Parser();
	return Parser.start()
		.uint8('flags')
		.choice({ tag: flag(1), choices: { 0: Parser.start().uint8('bpm'), 1: Parser.start().uint16le('bpm') } })
		.choice({ tag: flag(8), choices: { 0: nothing, 1: Parser.start().uint16le('energyKJ') } })
		.choice({
			tag: flag(16),
			choices: { 0: nothing, 1: Parser.start().array('rr', { type: 'uint16le', readUntil: 'eof' }) }
		});
}

function packetsOfAnHour(): Uint8Array<ArrayBuffer>[] {
	return Array.from({ length: 3600 }, (_, s) =>
		encodeHeartRateMeasurement({
			bpm: 90 + (s % 110),
			contact: s % 3 === 0 ? 'not supported' : 'contact',
			...(s % 10 === 0 && { energyKJ: s }),
			rrMs: Array.from({ length: s % 4 }, (_, i) => 400 + i * 10)
		})
	);
}
