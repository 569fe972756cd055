import { describe, expect, it } from 'vitest';
import type { RecordHead } from '$lib/record/head';
import type { SessionRecord } from '$lib/record/body';
import { picturesOf } from '$lib/review/pictures';
import { summaryOf } from '$lib/review/summary';
import { twoRounds } from './two-rounds';

const drawn = (record: SessionRecord) => picturesOf(record, summaryOf(record));

describe('the pictures of a session', () => {
	it('have a point a second, and none where the strap was silent', () => {
		const { points } = drawn(twoRounds({}, undefined, (s) => s >= 70 && s < 80));
		expect(points).toHaveLength(240);
		expect(points[0]).toEqual({ tS: 0, bpm: 180 });
		expect(points[60]).toEqual({ tS: 60, bpm: 140 });
		// The last reading came at 69.5 and stands for two seconds: to the end of second 70.
		expect(points.slice(70, 81).map(({ bpm }) => bpm)).toEqual([
			140,
			...Array.from({ length: 9 }, () => null),
			140
		]);
	});

	it('have each phase with its drop, and where its work stood over the threshold', () => {
		// The builders' threshold is 171.5; the last ten seconds of a round are the burst (own rule).
		const spells = [
			{ fromS: 120, toS: 170, inBurst: false },
			{ fromS: 170, toS: 180, inBurst: true }
		];
		const { phases } = drawn(twoRounds({}, [160, 175, 180, 130]));
		const none = { pauses: [], spells: [], drop60: undefined };
		expect(phases).toEqual([
			{ kind: 'work', round: 1, startS: 0, endS: 60, ...none },
			{ kind: 'rest', round: 1, startS: 60, endS: 120, ...none, drop60: -15 },
			{ kind: 'work', round: 2, startS: 120, endS: 180, ...none, spells },
			{ kind: 'closing', round: 2, startS: 180, endS: 240, ...none, drop60: 50 }
		]);
	});

	it('have no spell without a threshold', () => {
		const { phases } = drawn(twoRounds({ athlete: { athleteId: 'ath-1', name: 'Nerea' } }));
		expect(phases.map(({ spells }) => spells)).toEqual([[], [], [], []]);
	});

	it('have the pauses, one that was never ended to the end of the session', () => {
		const amendments: RecordHead['amendments'] = [
			{ kind: 'pause', atMs: 20_000 },
			{ kind: 'resume', atMs: 30_000 },
			{ kind: 'pause', atMs: 200_000 }
		];
		const { phases } = drawn(twoRounds({ amendments, endedMs: 220_000 }));
		// Ten seconds later than planned, the closing minute began at 190.
		expect(phases.map(({ endS, pauses }) => [endS, pauses])).toEqual([
			[70, [{ fromS: 20, toS: 30 }]],
			[130, []],
			[190, []],
			[220, [{ fromS: 200, toS: 220 }]]
		]);
	});

	it('have a curve of each rest from its bell on', () => {
		const { rests } = drawn(twoRounds());
		expect(rests.map(({ round, bellBpm, drop60 }) => [round, bellBpm, drop60])).toEqual([
			[1, 180, 40],
			[2, 160, 30]
		]);
		expect(rests[0]!.points).toEqual(Array.from({ length: 60 }, (_, i) => ({ s: i + 1, bpm: 140 })));
		expect(rests[0]).not.toHaveProperty('activity');
	});

	it('name what was done before a rest where the session was of several activities', () => {
		const record = twoRounds();
		const summary = summaryOf(record);
		const rounds = summary.rounds.map((round, i) => ({ ...round, activity: (['bag', 'pads'] as const)[i]! }));
		expect(picturesOf(record, { ...summary, rounds }).rests.map(({ activity }) => activity)).toEqual([
			'bag',
			'pads'
		]);
	});

	it('draw no rest of less than five seconds, and none without a rate at its bell', () => {
		const restsUntil = (endedMs: number) => drawn(twoRounds({ endedMs })).rests.map(({ round }) => round);
		expect(restsUntil(184_999)).toEqual([1]);
		expect(restsUntil(185_000)).toEqual([1, 2]);
		expect(drawn(twoRounds({}, undefined, (s) => s < 60)).rests.map(({ round }) => round)).toEqual([2]);
	});

	it('are none of a session that is too long to be measured', () => {
		const summary = summaryOf(twoRounds());
		expect(() => picturesOf(twoRounds({ endedMs: 9 * 86_400_000 }), summary)).toThrow(/more than 8 days/);
	});
});
