import { median, sampleStandardDeviation } from 'simple-statistics';
import { afterEach, describe, expect, it } from 'vitest';
import { dayOf } from '$lib/record/athlete-changes';
import {
	changeWords,
	countedDrop,
	countedSessions,
	progressOf,
	sevenDayMedian,
	weeklyLoads,
	weightsOf,
	type KeptSession
} from '$lib/review/progress';
import { makeHead } from '../store/builders';

const zone = process.env.TZ;
afterEach(() => {
	if (zone === undefined) delete process.env.TZ;
	else process.env.TZ = zone;
});

const day = 86_400_000;
const restOf = (drop60: number) => ({
	kind: 'rest' as const,
	startMs: 0,
	endMs: 60_000,
	drop60,
	verdict: 'not judged' as const,
	nearEdge: false
});
const session = (drops: number[], overrides: Partial<KeptSession> & { at?: string } = {}): KeptSession => ({
	head: makeHead({ id: overrides.at ?? 'x', startedAt: overrides.at ?? '2026-03-02T18:30:00.000Z' }),
	edit: {},
	summary: {
		methodsVersion: 1,
		rounds: drops.map((drop, i) => ({ round: i + 1, attempt: 1, startMs: i, endMs: i, rest: restOf(drop) })),
		drop60Count: drops.length,
		lengthS: 0,
		workS: 0,
		costs: {
			energy: { reason: 'unknown' },
			metWorkKJ: { reason: 'unknown' },
			load: { reason: 'unknown' },
			isMaxEstimated: true
		},
		unusual: [],
		ignoresContact: false
	},
	...overrides
});

describe('what counts in progress', () => {
	it('leaves practice out, but for the example', () => {
		const practice = session([40], { head: makeHead({ id: 'p', practice: true }) });
		const example = session([40], { head: makeHead({ id: 'e', practice: true, example: true }) });
		const ids = countedSessions([practice, example, session([40])], { athleteId: 'ath-1' }).map(
			(one) => one.head.id
		);
		expect(ids.sort()).toEqual(['e', 'x']);
	});

	it('goes by what was put right: athlete, activity, plan', () => {
		const moved = session([40], {
			edit: { athlete: { id: 'ath-2', name: 'B' }, activity: 'bag', planName: 'P' }
		});
		expect(countedSessions([moved], { athleteId: 'ath-1' })).toEqual([]);
		expect(countedSessions([moved], { athleteId: 'ath-2', activity: 'bag', plan: 'P' })).toHaveLength(1);
	});

	it('leaves out a rest that was set aside', () => {
		const aside = session([40, 50, 10], { edit: { restsSetAside: [{ round: 3, reason: 'talked' }] } });
		// Mean 45; 20 % of it over the root of two measurements is 6.36 (Bosquet et al. 2008; computed by hand).
		expect(countedDrop(aside)?.value).toBe(45);
		expect(countedDrop(aside)?.error).toBeCloseTo(6.36, 2);
	});

	it('leaves out what another’s heart did before a swap of straps, and keeps what came before a mere replacement', () => {
		const change = { ms: 90_000, strapName: 'Strap 2', practice: false };
		const rests = [10_000, 120_000].map((startMs, i) => ({
			round: i + 1,
			attempt: 1,
			startMs: 0,
			endMs: 1,
			rest: { ...restOf(i === 0 ? 20 : 44), startMs }
		}));
		const dropOf = (swapped: { swapped?: true }) => {
			const plain = session([]);
			const head = makeHead({ strapChanges: [{ ...change, ...swapped }] });
			return countedDrop({ ...plain, head, summary: { ...plain.summary!, rounds: rests } })?.value;
		};
		expect(dropOf({ swapped: true })).toBe(44);
		expect(dropOf({})).toBe(32);
	});

	it('has no drop where none was measured', () => {
		expect(progressOf([session([])], 'drop at 60')).toEqual([]);
	});
});

describe('the 7-day median', () => {
	it('is the median of the seven days up to each measurement', () => {
		const values = [50, 44, 47, 60, 41, 52];
		const points = values.map((value, i) => ({ atMs: i * 2 * day, value }));
		sevenDayMedian(points).forEach(({ value }, i) => {
			// Every second day: four of them lie within seven days.
			expect(value).toBe(median(values.slice(Math.max(0, i - 3), i + 1)));
		});
	});
});

describe('a change', () => {
	const from = (values: number[], error?: number) =>
		values.map((value, i) => ({ atMs: i * 10 * day, value, error, sessionId: `${i}` }));

	it('is one only beyond 2.8 typical errors', () => {
		expect(changeWords(from([60, 60, 50], 3))).toMatch(/more than the error/);
		expect(changeWords(from([60, 60, 52], 3))).toMatch(/no change can be told/);
		expect(changeWords(from([60, 60, 50]))).toMatch(/noise is not known/);
		expect(changeWords(from([60, 50], 1))).toMatch(/Too few/);
	});
});

describe('the weekly load', () => {
	const rated = (at: string, effort?: number) =>
		session([40], {
			at,
			edit: effort === undefined ? {} : { effort },
			head: makeHead({ startedAt: at, endedMs: 3_600_000 })
		});

	it('is effort times minutes over seven days, rest days as 0', () => {
		const [week] = weeklyLoads(
			[rated('2026-03-02T18:00:00.000Z', 7), rated('2026-03-04T18:00:00.000Z', 5)],
			Date.parse('2026-03-09T12:00:00.000Z')
		);
		// 60 min x 7 + 60 min x 5 (Foster et al. 2001). The spread with n - 1 by simple-statistics.
		expect(week?.weeklyLoad).toBe(720);
		const monotony = 720 / 7 / sampleStandardDeviation([420, 0, 300, 0, 0, 0, 0]);
		expect(week?.monotony).toBeCloseTo(monotony, 9);
		expect(week?.strain).toBeCloseTo(720 * monotony, 6);
	});

	it('counts the minutes of somebody who joined later from then on', () => {
		const whole = rated('2026-03-02T18:00:00.000Z', 7);
		const late = { ...whole, head: { ...whole.head, joinedMs: 2_400_000 } };
		// An hour less 40 minutes is 20: 20 x 7.
		expect(weeklyLoads([late], Date.parse('2026-03-09T12:00:00.000Z'))[0]?.weeklyLoad).toBe(140);
	});

	// When the clock goes back an hour in autumn (IANA time zone database).
	it.each([
		['America/New_York', 2026, 10, 1],
		['Europe/Madrid', 2026, 9, 25],
		['Australia/Sydney', 2026, 3, 5]
	])('keeps its days and its first day where the clock goes back in %s', (place, year, month, sunday) => {
		process.env.TZ = place;
		const at = (days: number, hour: number, minute = 0) =>
			new Date(year, month, sunday + days, hour, minute).toISOString();
		// On the day before, late on that of the change, and late on the last day of the first week.
		const first = [rated(at(-1, 18), 1), rated(at(0, 23, 30), 2), rated(at(5, 23, 30), 3)];
		const weeks = weeklyLoads([...first, rated(at(6, 8), 4)], Date.parse(at(7, 12)));
		expect(weeks.map(({ fromMs }) => new Date(fromMs).toISOString())).toEqual([at(-1, 0), at(6, 0)]);
		expect(weeks.map(({ weeklyLoad }) => weeklyLoad)).toEqual([60 * 6, 60 * 4]);
		const spread = sampleStandardDeviation([60, 120, 0, 0, 0, 0, 180]);
		expect(weeks[0]?.monotony).toBeCloseTo(360 / 7 / spread, 9);
	});

	it('is unknown where a session was not rated', () => {
		const [week] = weeklyLoads([rated('2026-03-02T18:00:00.000Z')], Date.parse('2026-03-09T12:00:00.000Z'));
		expect(week).not.toHaveProperty('weeklyLoad');
		expect(week?.reason).toMatch(/rate the sessions/);
	});
});

describe('weights', () => {
	it('are one a day, the entered one before that of a session', () => {
		const noted = session([40], {
			head: makeHead({ athlete: { athleteId: 'ath-1', name: 'Nerea', weightKg: 70 } })
		});
		const entered = [
			{ date: '2026-03-02', kg: 69 },
			{ date: '2026-03-05', kg: 68.5 }
		];
		expect(weightsOf([noted, noted]).map(({ value }) => value)).toEqual([70]);
		expect(weightsOf([noted], entered).map(({ value }) => value)).toEqual([69, 68.5]);
	});

	it.each(['America/New_York', 'Europe/Madrid', 'Australia/Sydney'])(
		'stand on the day they were entered for in %s',
		(place) => {
			process.env.TZ = place;
			const entered = [
				{ date: '2026-01-31', kg: 69 },
				{ date: '2026-07-01', kg: 68.5 }
			];
			const days = weightsOf([], entered).map(({ atMs }) => dayOf(new Date(atMs)));
			expect(days).toEqual(['2026-01-31', '2026-07-01']);
		}
	);
});
