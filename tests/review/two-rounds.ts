import { packReadings } from '$lib/record/columns';
import type { SessionRecord } from '$lib/record/body';
import type { RecordHead } from '$lib/record/head';
import { makeHead, makeReading, padsPlan } from '../store/builders';

/** Work, rest, work and the closing minute, a minute each. */
export const twoRoundPlan = { ...padsPlan, roundCount: 2, roundS: 60, getReadyS: 0, coolDownS: 0 };

/** Such a session with a reading in every second but those that are `silent`, at these rates in its four minutes. */
export function twoRounds(
	overrides: Partial<RecordHead> = {},
	bpm: readonly [number, number, number, number] = [180, 140, 160, 130],
	silent: (s: number) => boolean = () => false
): SessionRecord {
	const readings = Array.from({ length: 240 }, (_, s) => s).flatMap((s) =>
		silent(s) ? [] : makeReading({ ms: s * 1000 + 500, bpm: bpm[Math.floor(s / 60)]!, rrMs: [] })
	);
	return {
		head: makeHead({ plan: twoRoundPlan, amendments: [], events: [], endedMs: 240_000, ...overrides }),
		body: packReadings(readings)
	};
}
