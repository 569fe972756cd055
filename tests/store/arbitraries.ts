import fc from '../by-chance';
import { makeHead, padsPlan } from './builders';
import { packReadings, type Reading } from '$lib/record/columns';
import { amendmentKinds } from '$lib/rounds/amendment';
import type { RecordHead } from '$lib/record/head';
import type { SessionRecord } from '$lib/record/body';

const rrMs = fc.array(
	fc.integer({ min: 0, max: 0xffff }).map((units) => (units * 1000) / 1024),
	{ maxLength: 9 }
);

const packet = fc.record(
	{
		stepMs: fc.oneof(fc.integer({ min: 0, max: 3000 }), fc.integer({ min: 0, max: 900_000 })),
		bpm: fc.oneof(fc.integer({ min: 0, max: 255 }), fc.integer({ min: 0, max: 0xffff })),
		contact: fc.constantFrom<Reading['contact']>('not supported', 'no contact', 'contact'),
		energyKJ: fc.integer({ min: 0, max: 0xffff }),
		rrMs
	},
	{ requiredKeys: ['stepMs', 'bpm', 'contact', 'rrMs'], noNullPrototype: true }
);

/** Readings as straps send them, in order of arrival, the first perhaps long before Start. */
export const readings: fc.Arbitrary<Reading[]> = fc
	.tuple(fc.integer({ min: -90_000, max: 90_000 }), fc.array(packet, { maxLength: 60 }))
	.map(([firstMs, packets]) => {
		let ms = firstMs;
		return packets.map(({ stepMs, ...rest }, i) => ({ ms: i === 0 ? ms : (ms += stepMs), ...rest }));
	});

const text = fc.string({ unit: 'binary', maxLength: 30 });

/** What only a session of several corners has. */
const cornerMembers = fc.record(
	{
		joinedMs: fc.integer({ min: 0, max: 14_400_000 }),
		left: fc.constant(true as const),
		strapChanges: fc.array(
			fc.record(
				{
					ms: fc.integer({ min: 0, max: 14_400_000 }),
					strapName: text,
					practice: fc.boolean(),
					swapped: fc.constant(true as const)
				},
				{ requiredKeys: ['ms', 'strapName', 'practice'], noNullPrototype: true }
			),
			{ maxLength: 3 }
		),
		group: fc.array(fc.uuid(), { maxLength: 8 })
	},
	{ requiredKeys: [], noNullPrototype: true }
);

export const heads: fc.Arbitrary<RecordHead> = fc
	.record({
		corners: cornerMembers,
		endedMs: fc.integer({ min: 0, max: 14_400_000 }),
		amendments: fc.array(
			fc.record(
				{ kind: fc.constantFrom(...amendmentKinds), atMs: fc.integer({ min: 0, max: 14_400_000 }) },
				{ noNullPrototype: true }
			),
			{ maxLength: 5 }
		),
		plan: fc.constantFrom(
			padsPlan,
			{ ...padsPlan, restDownToPercent: 75 },
			{ ...padsPlan, followsGymBell: true as const }
		),
		athlete: fc.record(
			{
				athleteId: fc.uuid(),
				name: text,
				thresholdBpm: fc.double({ min: 60, max: 220, noNaN: true }),
				measuredMaxBpm: fc.integer({ min: 120, max: 230 }),
				ageYears: fc.integer({ min: 8, max: 100 }),
				slowingMedicine: fc.constant(true as const)
			},
			{ requiredKeys: ['athleteId', 'name'], noNullPrototype: true }
		),
		strapName: text,
		practice: fc.boolean()
	})
	.map(({ corners, ...overrides }) => makeHead({ ...overrides, ...corners }));

export const records: fc.Arbitrary<SessionRecord> = fc.record(
	{ head: heads, body: readings.map(packReadings) },
	{ noNullPrototype: true }
);

export const edits = fc.record(
	{
		title: text,
		note: text,
		effort: fc.integer({ min: 0, max: 10 }),
		told: fc.record(
			{
				sex: fc.constantFrom('female' as const, 'male' as const),
				weightKg: fc.double({ min: 20, max: 250, noNaN: true }),
				ageYears: fc.integer({ min: 8, max: 100 })
			},
			{ requiredKeys: [], noNullPrototype: true }
		)
	},
	{ requiredKeys: [], noNullPrototype: true }
);
