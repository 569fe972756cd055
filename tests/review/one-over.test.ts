import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { sessionPicture } from '$lib/charts/session-picture';
import { amendmentKinds } from '$lib/rounds/amendment';
import { packReadings } from '$lib/record/columns';
import { picturesOf } from '$lib/review/pictures';
import type { SessionRecord } from '$lib/record/body';
import { summaryOf } from '$lib/review/summary';
import { makeHead, makeReading } from '../store/builders';
import { athlete, shortPlan } from '../session/builders';

const mostMs = 320_000;
const sumOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0);

/** Sessions with bells on any millisecond, pauses, rounds cut or boxed again, and straps that fall silent. */
const anySession: fc.Arbitrary<SessionRecord> = fc
	.record({
		thresholdBpm: fc.constantFrom(164.5, 165),
		roundS: fc.integer({ min: 5, max: 60 }),
		followsGymBell: fc.boolean(),
		endedMs: fc.integer({ min: 20_000, max: mostMs }),
		amendments: fc.array(
			fc.record({
				kind: fc.constantFrom(...amendmentKinds.filter((kind) => kind !== 'finish')),
				atMs: fc.integer({ min: 0, max: mostMs })
			}),
			{ maxLength: 8 }
		),
		packets: fc.array(fc.tuple(fc.integer({ min: 150, max: 2600 }), fc.integer({ min: 161, max: 169 })), {
			minLength: 50,
			maxLength: 300
		})
	})
	.map(({ thresholdBpm, roundS, followsGymBell, endedMs, amendments, packets }) => {
		let ms = 0;
		return {
			head: makeHead({
				plan: { ...shortPlan, roundS, ...(followsGymBell && { followsGymBell }) },
				athlete: { ...athlete, thresholdBpm },
				amendments: amendments.toSorted((one, other) => one.atMs - other.atMs),
				endedMs,
				events: []
			}),
			body: packReadings(packets.map(([stepMs, bpm]) => makeReading({ ms: (ms += stepMs), bpm })))
		};
	});

describe('time over the threshold', () => {
	it('is the same to the second in the sum, the table, the bands and the hatched picture', () => {
		let hatched = 0;
		let burst = 0;
		fc.assert(
			fc.property(anySession, (record) => {
				const summary = summaryOf(record);
				const rows = summary.rounds.flatMap(({ over }) => over ?? []);
				const bands = summary.costs.bands!;
				const { points, phases } = picturesOf(record, summary);
				const { spells } = sessionPicture(points, phases, record.head.athlete.thresholdBpm);
				const hatchedS = (inBurst: boolean) =>
					Math.round(
						sumOf(spells.filter((spell) => spell.inBurst === inBurst).map(({ fromS, toS }) => toS - fromS))
					);
				const overS = sumOf(rows.map((row) => row.overS));
				const burstOverS = sumOf(rows.map((row) => row.burstOverS));
				expect([bands['over threshold'], hatchedS(false)]).toEqual([overS, overS]);
				expect([bands['closing burst'], hatchedS(true)]).toEqual([burstOverS, burstOverS]);
				expect(summary.overS ?? 0).toBe(overS);
				expect(sumOf(Object.values(bands))).toBe(summary.workS);
				hatched += overS;
				burst += burstOverS;
			}),
			{ numRuns: 200 }
		);
		// Sessions in which nothing was over would agree whatever is counted.
		expect(Math.min(hatched, burst)).toBeGreaterThan(100);
	});

	it('draws no spell where no threshold is shown', () => {
		const phases = [
			{ kind: 'work' as const, startS: 0, endS: 9, spells: [{ fromS: 1, toS: 5, inBurst: false }] }
		];
		expect(sessionPicture([], phases, undefined).spells).toEqual([]);
		expect(sessionPicture([], phases, 165).spells).toHaveLength(1);
	});
});
