/**
 * Heart Rate Measurement packets, put together here from the field table of the Heart Rate Service 1.0
 * (Bluetooth SIG, section 3.1) and on purpose not with the page's own encoder, which the stories put to the
 * test: flags, rate, energy expended in kJ, RR intervals in 1/1024 s, all little-endian.
 */
export interface PacketFields {
	bpm: number;
	/** Sends the rate in 16 bits although it may fit into 8. */
	wide?: boolean;
	/** Left out: this strap cannot tell whether it touches the skin. */
	contact?: boolean;
	energyKJ?: number;
	/** In 1/1024 s, oldest first. */
	rr1024?: number[];
}

const flags = { wide: 0x01, contact: 0x02, contactSupported: 0x04, energy: 0x08, rr: 0x10 };

export function packet({ bpm, wide = bpm > 255, contact, energyKJ, rr1024 = [] }: PacketFields): number[] {
	const head =
		(wide ? flags.wide : 0) |
		(contact === undefined ? 0 : flags.contactSupported) |
		(contact ? flags.contact : 0) |
		(energyKJ === undefined ? 0 : flags.energy) |
		(rr1024.length > 0 ? flags.rr : 0);
	return [
		head,
		...(wide ? twoBytes(bpm) : [bpm]),
		...(energyKJ === undefined ? [] : twoBytes(energyKJ)),
		...rr1024.flatMap(twoBytes)
	];
}

function twoBytes(value: number): number[] {
	return [value & 0xff, value >> 8];
}

/**
 * The recovery that the stories send: a single exponential, 120 + 60 exp(-t/60) beats per minute t seconds after
 * the bell. Worked by hand: 180 at the bell, 156.39 at 30 s, 142.07 at 60 s; the drop at 60 s is 37.9 beats.
 */
export function recoveryBpm(sinceBellS: number): number {
	return 120 + 60 * Math.exp(-Math.max(0, sinceBellS) / 60);
}

/** A packet as the page received it: seconds since Start, and the rate that was sent. */
export interface Arrival {
	s: number;
	bpm: number;
}

/** The packets of a strap that carry a rate of 8 bits, timed by the page's own clock. */
export function arrivalsOf(
	delivered: readonly { atMs: number; bytes: readonly number[] }[],
	startMs: number
): Arrival[] {
	return delivered.map(({ atMs, bytes }) => ({ s: (atMs - startMs) / 1000, bpm: bytes[1] ?? NaN }));
}

/**
 * What second [fromS, fromS + 1) counts for, by the pinned rule and on purpose not with the page's own code: the
 * last packet before its end, if that is at most 2 s old there.
 */
function rateOf(arrivals: readonly Arrival[], fromS: number): number | undefined {
	const last = arrivals.findLast(({ s }) => s < fromS + 1);
	return last && fromS + 1 - last.s <= 2 ? last.bpm : undefined;
}

const seconds = (fromS: number, toS: number) => Array.from({ length: toS - fromS }, (_, i) => fromS + i);

/** Mean of the seconds from `fromS` to before `toS`; undefined where fewer than three of them have a rate. */
export function meanRate(arrivals: readonly Arrival[], fromS: number, toS: number): number | undefined {
	const rates = seconds(fromS, toS).flatMap((s) => rateOf(arrivals, s) ?? []);
	return rates.length < 3 ? undefined : rates.reduce((sum, rate) => sum + rate, 0) / rates.length;
}

/** The five seconds before the bell less the five seconds before `afterS` of the rest. */
export function dropAt(arrivals: readonly Arrival[], bellS: number, afterS: number): number {
	const bell = meanRate(arrivals, bellS - 5, bellS);
	const then = meanRate(arrivals, bellS + afterS - 5, bellS + afterS);
	return (bell ?? NaN) - (then ?? NaN);
}

/**
 * Seconds of the round from `fromS` to before `toS` above the threshold, before its closing burst and in it. By the rule
 * only spells of three seconds and more count, and a second without a rate ends one.
 */
export function secondsOver(
	arrivals: readonly Arrival[],
	fromS: number,
	toS: number,
	thresholdBpm: number,
	burstS = 10
): { overS: number; burstOverS: number } {
	const isOver = (s: number) => s >= fromS && s < toS && (rateOf(arrivals, s) ?? 0) > thresholdBpm;
	const counts = (s: number) =>
		isOver(s) && [s - 2, s - 1, s].some((from) => seconds(from, from + 3).every(isOver));
	const countIn = (from: number, to: number) => seconds(from, to).filter(counts).length;
	return { overS: countIn(fromS, toS - burstS), burstOverS: countIn(toS - burstS, toS) };
}
