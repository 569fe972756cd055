import type { Reading } from '$lib/physiology/grid';

type StrapPacket = Reading & { rrMs: number[] };

interface StrapShape {
	/** Rate of the heart, bpm, s from the bell; the past is asked for too. */
	bpmAt: (s: number) => number;
	/** Time constant of the strap's smoothing, s; 0 for none. */
	smoothingS: number;
	/** How late the strap sends its rate, s. */
	lateS: number;
	fromS: number;
	toS: number;
}

/**
 * The packets of a strap of this shape, one a second with the bell at 0 ms: an exponentially smoothed, late rate in
 * whole beats beside intervals that are exact but for their 1/1024 s.
 */
export function packetsOf({ bpmAt, smoothingS, lateS, fromS, toS }: StrapShape): StrapPacket[] {
	const packets: StrapPacket[] = [];
	let beatS = fromS;
	const stepS = 0.05;
	let smoothed = bpmAt(fromS - lateS);
	for (let s = fromS; s < toS; s++) {
		for (let t = s; t < s + 1; t += stepS) {
			const share = smoothingS > 0 ? stepS / smoothingS : 1;
			smoothed += share * (bpmAt(t - lateS) - smoothed);
		}
		const rrMs: number[] = [];
		for (let rrS = 60 / bpmAt(beatS); beatS + rrS <= s + 1; rrS = 60 / bpmAt(beatS)) {
			beatS += rrS;
			rrMs.push((Math.round(rrS * 1024) * 1000) / 1024);
		}
		packets.push({ ms: 1000 * (s + 1) - 1, bpm: Math.round(smoothed), contact: 'contact', rrMs });
	}
	return packets;
}
