import { secondsOf, type Seconds } from '$lib/physiology/grid';
import { overSpells } from '$lib/physiology/over-spells';
import type { Phase, PhaseKind } from '$lib/rounds/timeline';
import type { Reading } from '$lib/record/columns';
import { heardIn } from './heard';
import type { SessionRecord } from '$lib/record/body';
import { secondsOfPhase, workRoundOf } from './phase-times';
import type { Summary } from '$lib/record/summary';
import { assertMeasurable, livedPhases } from './summary';

/** What the pictures of a review draw, in seconds of elapsed time. */
export interface SessionPictures {
	points: { tS: number; bpm: number | null }[];
	phases: {
		kind: PhaseKind;
		round?: number;
		startS: number;
		endS: number;
		pauses: { fromS: number; toS: number }[];
		/** Where work stood over the threshold: the seconds of the round's row, to the second. */
		spells: { fromS: number; toS: number; inBurst: boolean }[];
		/** Of a rest, where it could be measured. */
		drop60?: number;
	}[];
	rests: {
		round: number;
		/** What was done before it, in a session of several activities. */
		activity?: string;
		bellBpm: number;
		points: { s: number; bpm: number | null }[];
		drop60?: number;
	}[];
}

const shortestDrawnMs = 5000;

const orNull = (bpm: number) => (Number.isNaN(bpm) ? null : bpm);

/** Prepares a record for its pictures: one point a second, gaps as null. */
export function picturesOf(record: SessionRecord, summary: Summary): SessionPictures {
	const { head } = record;
	assertMeasurable(head);
	const { readings } = heardIn(record);
	const points = (seconds: Seconds) => Array.from(seconds, orNull);
	const dropFrom = new Map(summary.rounds.map(({ rest }) => [rest?.startMs, rest?.drop60]));
	return {
		points: points(secondsOf(readings, 0, head.endedMs / 1000)).map((bpm, tS) => ({ tS, bpm })),
		phases: livedPhases(head).map((phase) => ({
			kind: phase.kind,
			round: phase.round,
			startS: phase.startMs / 1000,
			endS: phase.endMs / 1000,
			pauses: phase.pauses.map(({ fromMs, toMs }) => ({
				fromS: fromMs / 1000,
				toS: Math.min(toMs, head.endedMs) / 1000
			})),
			spells: spellsOf(readings, phase, head.athlete.thresholdBpm),
			drop60: dropFrom.get(phase.startMs)
		})),
		rests: summary.rounds.flatMap(({ round, activity, rest }) =>
			// One that was cut off at once leaves nothing to draw.
			rest?.bellBpm === undefined || rest.endMs - rest.startMs < shortestDrawnMs
				? []
				: {
						round,
						...(activity && { activity }),
						bellBpm: rest.bellBpm,
						drop60: rest.drop60,
						points: points(secondsOf(readings, rest.startMs, (rest.endMs - rest.startMs) / 1000)).map(
							(bpm, s) => ({ s: s + 1, bpm })
						)
					}
		)
	};
}

/** On the round's own grid, because its seconds begin at the bell and not with those of the session. */
function spellsOf(readings: readonly Reading[], phase: Phase, thresholdBpm: number | undefined) {
	if (thresholdBpm === undefined || phase.kind !== 'work') return [];
	const bellS = phase.startMs / 1000;
	return overSpells(secondsOfPhase(readings, phase), workRoundOf(phase), thresholdBpm).map(
		({ startS, endS, inBurst }) => ({ fromS: bellS + startS, toS: bellS + endS, inBurst })
	);
}
