import type { Track } from './tap';

/** What is to be heard, on the session's clock. */
export interface Stroke {
	name: string;
	atMs: number;
}

export interface Judged {
	/** How far each stroke that was heard lies off, in milliseconds. */
	errors: {
		atMs: number;
		/** Of the moment that the reading of the clocks named which its start was reckoned with. */
		onsetMs: number;
		/** Of its moment on the page's clock, by the reading nearest to the stroke itself. */
		clockMs: number;
	}[];
	missed: (Stroke & { nearestMs: number })[];
	/** Heard and not due. */
	doubled: number;
	count: number;
}

const sameStrokeMs = 250;
const sameStartS = 0.02;

/** Puts the onsets of one or more outputs, one after the other, beside what is due; `originMs` is 0 of `due` on the page's clock. */
export function judge(due: readonly Stroke[], tracks: readonly Track[], originMs: number): Judged {
	const heard = tracks.flatMap((track) =>
		track.onsets.map((sample) => {
			const atS = sample / track.sampleRate;
			const reading = nearest(track.pairs, atS);
			const start = track.starts.findLast((one) => Math.abs(one.atS - atS) < sameStartS);
			// Before its first sample has left, an output answers zeros, and no start is reckoned with those.
			const reckoned = start?.contextTimeS ? start : start && reading;
			return { elapsedMs: pageMsOf(atS, reading) - originMs, reckonedMs: pageMsOf(atS, reckoned) - originMs };
		})
	);
	const judged: Judged = { errors: [], missed: [], doubled: heard.length, count: heard.length };
	const taken = new Set<number>();
	for (const { name, atMs } of due) {
		// Meant for this moment and heard about then: with one due each second, one that is a second late is not the next.
		const at = heard.findIndex(
			({ elapsedMs, reckonedMs }, i) =>
				!taken.has(i) &&
				Math.abs(elapsedMs - atMs) < sameStrokeMs &&
				!(Math.abs(reckonedMs - atMs) >= sameStrokeMs)
		);
		const onset = heard[at];
		if (!onset) {
			// How far off the nearest stroke was tells a sound that came late from one that never came.
			const nearestMs = Math.min(...heard.map(({ elapsedMs }) => Math.abs(elapsedMs - atMs)));
			judged.missed.push({ name, atMs, nearestMs });
			continue;
		}
		taken.add(at);
		judged.doubled--;
		judged.errors.push({
			atMs,
			onsetMs: Math.abs(onset.reckonedMs - atMs),
			clockMs: Math.abs(onset.elapsedMs - atMs)
		});
	}
	return judged;
}

/** Missed where no control stroke of the same second is missing: where one is, the output stood still. */
export function missedAlone(ours: Judged, control: Judged): Judged['missed'] {
	return ours.missed.filter(
		(stroke) => !control.missed.some(({ atMs }) => Math.abs(atMs - stroke.atMs) <= 500)
	);
}

export function worst(
	{ errors }: Judged,
	which: 'onsetMs' | 'clockMs',
	{ fromMs = 0, toMs = Infinity } = {}
): number {
	return Math.max(
		...errors.filter(({ atMs }) => atMs >= fromMs && atMs <= toMs).map((error) => error[which])
	);
}

function nearest(pairs: Track['pairs'], atS: number): Track['pairs'][number] | undefined {
	return pairs.reduce<Track['pairs'][number] | undefined>(
		(best, pair) =>
			best && Math.abs(best.contextTimeS - atS) <= Math.abs(pair.contextTimeS - atS) ? best : pair,
		undefined
	);
}

function pageMsOf(atS: number, reading: Track['pairs'][number] | undefined): number {
	return reading ? reading.performanceTimeMs + (atS - reading.contextTimeS) * 1000 : NaN;
}
