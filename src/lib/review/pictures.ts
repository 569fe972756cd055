import { secondsOf, type Seconds } from '$lib/physiology/grid';
import type { PhaseKind } from '$lib/rounds/timeline';
import { heardIn } from './heard';
import type { SessionRecord } from '$lib/record/record';
import { assertMeasurable, livedPhases, type Summary } from './summary';

/** What the pictures of a review draw, in seconds of elapsed time. */
export interface SessionPictures {
	points: { tS: number; bpm: number | null }[];
	phases: {
		kind: PhaseKind;
		round?: number;
		startS: number;
		endS: number;
		pauses: { fromS: number; toS: number }[];
	}[];
	rests: { round: number; bellBpm: number; points: { s: number; bpm: number | null }[]; drop60?: number }[];
}

const shortestDrawnMs = 5000;

const orNull = (bpm: number) => (Number.isNaN(bpm) ? null : bpm);

/** Prepares a record for its pictures: one point a second, gaps as null. */
export function picturesOf(record: SessionRecord, summary: Summary): SessionPictures {
	const { head } = record;
	assertMeasurable(head);
	const { readings } = heardIn(record);
	const points = (seconds: Seconds) => Array.from(seconds, orNull);
	return {
		points: points(secondsOf(readings, 0, head.endedMs / 1000)).map((bpm, tS) => ({ tS, bpm })),
		phases: livedPhases(head).map(({ kind, round, startMs, endMs, pauses }) => ({
			kind,
			round,
			startS: startMs / 1000,
			endS: endMs / 1000,
			pauses: pauses.map(({ fromMs, toMs }) => ({
				fromS: fromMs / 1000,
				toS: Math.min(toMs, head.endedMs) / 1000
			}))
		})),
		rests: summary.rounds.flatMap(({ round, rest }) =>
			// One that was cut off at once leaves nothing to draw.
			rest?.bellBpm === undefined || rest.endMs - rest.startMs < shortestDrawnMs
				? []
				: {
						round,
						bellBpm: rest.bellBpm,
						drop60: rest.drop60,
						points: points(secondsOf(readings, rest.startMs, (rest.endMs - rest.startMs) / 1000)).map(
							(bpm, s) => ({ s: s + 1, bpm })
						)
					}
		)
	};
}
