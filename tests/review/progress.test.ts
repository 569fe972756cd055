import { median } from 'simple-statistics';
import { afterEach, describe, expect, it } from 'vitest';
import { yardsticks } from '$lib/physiology/yardstick';
import { dayOf } from '$lib/record/athlete-changes';
import type { GuidedSummary } from '$lib/record/summary';
import type { Activity } from '$lib/rounds/plan';
import { likeWords, twoSessionsWords, usualDrop } from '$lib/review/like-words';
import { changeWords, sevenDayMedian } from '$lib/review/change-in-words';
import {
	activityOf,
	athleteNameOf,
	countedDrop,
	countedSessions,
	doneWords,
	inParts,
	likeSessions,
	loadOf,
	planNameOf,
	progressOf,
	titleOf,
	weightsOf,
	type KeptSession,
	type ProgressFilter
} from '$lib/review/progress';
import { makeHead } from '../store/builders';
import { makeRest, summaryOf } from './kept-session';

const zone = process.env.TZ;
afterEach(() => {
	if (zone === undefined) delete process.env.TZ;
	else process.env.TZ = zone;
});

const day = 86_400_000;
const session = (drops: number[], overrides: Partial<KeptSession> & { at?: string } = {}): KeptSession => ({
	head: makeHead({ id: overrides.at ?? 'x', startedAt: overrides.at ?? '2026-03-02T18:30:00.000Z' }),
	edit: {},
	summary: summaryOf(drops),
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
		// Mean 45; 20 % of it (Bosquet et al. 2008) is 9, half of its variance the day's and half over two rests: root of
		// 40.5 + 20.25.
		expect(countedDrop(aside)).toMatchObject({ value: 45, count: 2 });
		expect(countedDrop(aside)?.error).toBeCloseTo(7.794, 3);
	});

	it('leaves out a rest that is not judged, however deep its drop', () => {
		const mixed = session([40, 50]);
		mixed.summary!.rounds[1]!.rest = makeRest(50, 'not judged');
		expect(countedDrop(mixed)).toMatchObject({ value: 40, count: 1 });
		mixed.summary!.rounds[0]!.rest = makeRest(40, 'not judged');
		expect(countedDrop(mixed)).toBeUndefined();
		expect(progressOf([mixed], 'drop at 60')).toEqual([]);
	});

	it('leaves out what another’s heart did before a swap of straps, and keeps what came before a mere replacement', () => {
		const change = { ms: 90_000, strapName: 'Strap 2', practice: false };
		const rests = [10_000, 120_000].map((startMs, i) => ({
			round: i + 1,
			attempt: 1,
			startMs: 0,
			endMs: 1,
			rest: { ...makeRest(i === 0 ? 20 : 44), startMs }
		}));
		const dropOf = (swapped: { swapped?: true }) => {
			const plain = session([]);
			const head = makeHead({ strapChanges: [{ ...change, ...swapped }] });
			return countedDrop({ ...plain, head, summary: { ...plain.summary!, rounds: rests } })?.value;
		};
		expect(dropOf({ swapped: true })).toBe(44);
		expect(dropOf({})).toBe(32);
	});

	it('takes the rests whose rate was measured alone, and counts them', () => {
		const mixed = session([40, 50, 44]);
		mixed.summary!.rounds[1]!.rest = { ...makeRest(50), drop60: undefined, rate60: undefined };
		expect(countedDrop(mixed)).toMatchObject({ value: 42, count: 2 });
		// 140 and 136 of a threshold of 171.5 are 80.466 %.
		const [rate] = progressOf([mixed], 'rate at 60');
		expect(rate!.value).toBeCloseTo((100 * 138) / 171.5, 9);
		expect(rate!.count).toBe(2);
	});

	it('is oldest first, by each filter that is given', () => {
		const sessions = ['2026-03-09', '2026-03-02', '2026-03-05'].map((date) =>
			session([40], { at: `${date}T18:00:00.000Z` })
		);
		const ids = (filter: Partial<ProgressFilter> = {}) =>
			countedSessions(sessions, { athleteId: 'ath-1', ...filter }).map(({ head }) =>
				head.startedAt.slice(8, 10)
			);
		expect(ids()).toEqual(['02', '05', '09']);
		expect(ids({ plan: 'Six on the pads', activity: 'pads' })).toEqual(['02', '05', '09']);
		expect(ids({ plan: 'Another' })).toEqual([]);
		expect(ids({ activity: 'bag' })).toEqual([]);
	});

	it('has no drop where none was measured', () => {
		expect(progressOf([session([])], 'drop at 60')).toEqual([]);
	});
});

describe('a session of several activities', () => {
	const boxed = (activities: Activity[]) =>
		summaryOf([], {
			rounds: activities.map((activity, i) => ({ ...summaryOf([40 + i]).rounds[0]!, round: i + 1, activity }))
		});
	const both = session([], { summary: boxed(['pads', 'bag', 'bag']) });

	it('is one of each of them, and stands for that with the most drops', () => {
		const parts = inParts(both);
		expect(parts.map(activityOf)).toEqual(['pads', 'bag']);
		expect(parts.map((part) => countedDrop(part)?.value)).toEqual([40, 41.5]);
		expect(activityOf(both)).toBe('bag');
		expect(doneWords(both)).toBe('pads, bag');
		expect(countedSessions([both], { athleteId: 'ath-1', activity: 'pads' })).toHaveLength(1);
	});

	it('is left whole where it was of one, or was not measured', () => {
		const { summary: _, ...unmeasured } = session([]);
		expect(inParts(unmeasured)).toEqual([unmeasured]);
		const one = session([40]);
		expect(inParts(one)).toEqual([one]);
		expect(activityOf({ ...unmeasured, edit: { activity: 'bag' } })).toBe('bag');
		expect(activityOf(unmeasured)).toBe('pads');
	});

	it('is told by what was put right, and without a summary by its plan', () => {
		const { summary: _, ...unmeasured } = session([]);
		expect(doneWords(unmeasured)).toBe('pads');
		expect(doneWords({ ...unmeasured, edit: { activity: 'bag' } })).toBe('bag');
		expect(doneWords(session([40]))).toBe('pads');
		expect(doneWords(session([40], { edit: { activity: 'bag' } }))).toBe('bag');
	});
});

describe('what a session is called', () => {
	it('is its title, else the plan as it was put right', () => {
		const { head } = session([]);
		expect(titleOf({ head, edit: {} })).toBe('Six on the pads');
		expect(titleOf({ head, edit: { title: '', planName: 'Bag' } })).toBe('Bag');
		expect(titleOf({ head, edit: { title: 'Evening', planName: 'Bag' } })).toBe('Evening');
		expect(planNameOf({ head, edit: { title: 'Evening', planName: 'Bag' } })).toBe('Bag');
	});

	it('goes by the name on the card, else by the one that was noted', () => {
		const own = session([]);
		expect(athleteNameOf(own, [{ id: 'ath-1', name: 'Nerea Ost' }])).toBe('Nerea Ost');
		expect(athleteNameOf(own, [])).toBe('Nerea');
		expect(athleteNameOf({ ...own, edit: { athlete: { id: 'ath-2', name: 'Bo' } } }, [])).toBe('Bo');
	});
});

describe('the points of a picture', () => {
	it('are what each kind of measurement came to, with the error where one is known', () => {
		const guided = (part: Partial<GuidedSummary>) =>
			session([], { summary: summaryOf([], { guided: { kind: 'resting', reasons: [], ...part } }) });
		const atMs = Date.parse('2026-03-02T18:30:00.000Z');
		const [rmssd] = progressOf([guided({ rmssdMs: 62 })], 'RMSSD');
		expect(rmssd).toEqual({ atMs, sessionId: 'x', value: 62 });
		for (const [measure, part, yardstick] of [
			['tau', { tauS: 60 }, 'tau'],
			['threshold', { thresholdBpm: 161 }, 'threshold'],
			['resting rate', { restBpm: 51 }, 'restingRate']
		] as const) {
			const [point] = progressOf([guided(part)], measure);
			const [value] = Object.values(part);
			expect(point).toMatchObject({ value, yardstick, error: yardsticks[yardstick].errorAt(value!) });
			expect(progressOf([guided({})], measure)).toEqual([]);
		}
	});

	it('have a load over the minutes that the athlete was in it, and none without an effort', () => {
		const late = makeHead({ joinedMs: 600_000, endedMs: 1_800_000 });
		// Twenty minutes at 6 (Foster et al. 2001).
		expect(loadOf({ head: late, edit: { effort: 6 } })).toBe(120);
		expect(loadOf({ head: late, edit: {} })).toBeUndefined();
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

const at = (dayNumber: number) => new Date(Date.UTC(2026, 2, 1, 18) + dayNumber * day).toISOString();
const onDay = (dayNumber: number, drops: number[], overrides: Partial<KeptSession> = {}) => {
	const { head = makeHead() } = overrides;
	const own = { ...head, id: `${dayNumber}`, startedAt: at(dayNumber) };
	return session(drops, { ...overrides, head: own });
};

describe('like with like', () => {
	const bag = { edit: { activity: 'bag', posture: 'sitting' } } as const;
	const pads = { edit: { activity: 'pads', posture: 'sitting' } } as const;
	const upright = { edit: { activity: 'bag', posture: 'standing' } } as const;
	const sessions = [
		onDay(0, [40], bag),
		onDay(2, [60], pads),
		onDay(4, [55], upright),
		onDay(6, [42, 44], bag)
	];

	it('is of one activity and one posture, those of the latest', () => {
		expect(progressOf(sessions, 'drop at 60').map(({ value, count }) => [value, count])).toEqual([
			[40, 1],
			[43, 2]
		]);
		expect(likeWords('beats', sessions)).toBe(
			'beats, bag, sitting; 2 sessions with other work or posture left out'
		);
		expect(likeSessions(sessions, sessions[1])).toEqual([sessions[1]]);
	});

	it('has the rate after one minute beside the drop, as a share of the threshold of the day', () => {
		const head = makeHead({ athlete: { athleteId: 'ath-1', name: 'Nerea', thresholdBpm: 160 } });
		const [point] = progressOf([onDay(0, [40, 44], { ...bag, head })], 'rate at 60');
		// 180 less 40 and 44 are 140 and 136: 138 of 160; the error 8 % of that (Bosquet et al. 2008), the day's half and
		// half of the other.
		expect(point).toMatchObject({ value: 86.25, count: 2 });
		expect(point!.error).toBeCloseTo(86.25 * 0.08 * Math.sqrt(0.75), 6);
		const unknown = makeHead({ athlete: { athleteId: 'ath-1', name: 'Nerea' } });
		expect(progressOf([onDay(0, [40], { ...bag, head: unknown })], 'rate at 60')).toEqual([]);
	});

	it('has effort and its load beside both', () => {
		const head = makeHead({ endedMs: 1_800_000 });
		const [point] = progressOf([onDay(0, [40], { head, edit: { effort: 6 } })], 'drop at 60');
		// 6 x 30 minutes (Foster et al. 2001).
		expect(point).toMatchObject({ effort: 6, load: 180 });
	});

	it('has a usual drop from five like sessions on', () => {
		const five = [0, 1, 2, 3, 4].map((number) => onDay(number, [38 + number, 42], bag));
		expect(usualDrop(five)).toMatchObject({ sessionCount: 5, restCount: 10, middle: 42 });
		expect(usualDrop([...five.slice(1), onDay(9, [60], pads)], five[0])).toBeUndefined();
	});
});

describe('a change', () => {
	it('of drops needs three like sessions on different days', () => {
		expect(changeWords(progressOf([onDay(0, [20]), onDay(3, [60])], 'drop at 60'))).toMatch(/^Too few/);
		const oneEvening = [onDay(0, [20]), onDay(0.01, [40]), onDay(0.02, [60])];
		expect(changeWords(progressOf(oneEvening, 'drop at 60'))).toMatch(/^Too few.* one day/);
	});

	it('does not come of twelve rests a day, when the days differ by themselves', () => {
		const twelve = (drop: number) => Array.from({ length: 12 }, () => drop);
		const words = changeWords(
			progressOf([onDay(0, twelve(34)), onDay(3, twelve(38)), onDay(6, twelve(42))], 'drop at 60')
		);
		expect(words).toMatch(
			/^No clear change .* A rise of \d+ or a fall of \d+ beats would show four times in five/
		);
	});

	it('is told where it is large', () => {
		const rising = [20, 24, 28, 34, 40, 46, 52, 58].map((drop, i) => onDay(i * 7, [drop, drop, drop]));
		expect(changeWords(progressOf(rising, 'drop at 60'))).toMatch(/^Clearly higher: /);
	});

	it('of a threshold from 150 to 165 is told', () => {
		const run = (dayNumber: number, thresholdBpm: number) => {
			const kept = onDay(dayNumber, []);
			return {
				...kept,
				summary: { ...kept.summary!, guided: { kind: 'threshold run' as const, thresholdBpm, reasons: [] } }
			};
		};
		const words = (...values: number[]) =>
			changeWords(
				progressOf(
					values.map((value, i) => run(i * 42, value)),
					'threshold'
				)
			);
		expect(words(150, 150, 165)).toMatch(/^Clearly higher: 15 beats a minute/);
		expect(words(150, 165)).toMatch(/^Clearly higher/);
		expect(words(160, 163, 158)).toMatch(/^No clear change/);
	});

	it('of what has no known error is given with its size alone', () => {
		const points = [60, 60, 50].map((value, i) => ({ atMs: i * 10 * day, value }));
		expect(changeWords(points)).toMatch(/10\.0 lower .* noise is not known/);
		expect(changeWords(points.slice(1))).toMatch(/Too few/);
	});
});

describe('two sessions side by side', () => {
	it('are judged by the same errors, and say what would have shown', () => {
		const [one, other] = [onDay(0, [34, 34, 34]), onDay(3, [44, 44, 44])];
		expect(twoSessionsWords(one, other, [one, other])).toMatch(
			/^The drops differ by no more than their error: no clear change\. A rise of \d+ or a fall of \d+ beats/
		);
		const far = onDay(3, [75, 75, 75]);
		expect(twoSessionsWords(one, far, [one, far])).toBe(
			'The drops differ by more than their error: the second is higher.'
		);
	});

	it('go by the athlete’s own spread once there are five like sessions', () => {
		const even = Array.from({ length: 12 }, (_, i) => onDay(i, [38 + (i % 2), 38, 39]));
		const [one, other] = [onDay(20, [38, 38, 38]), onDay(22, [55, 55, 55])];
		expect(twoSessionsWords(one, other, [one, other])).toMatch(/no clear change/);
		expect(twoSessionsWords(one, other, even)).toMatch(/the second is higher/);
	});

	it('are not compared where the work differs or nothing was judged', () => {
		const bag = onDay(0, [40], { edit: { activity: 'bag' } });
		const pads = onDay(1, [60], { edit: { activity: 'pads' } });
		expect(twoSessionsWords(bag, pads, [])).toMatch(/Only like sessions are compared/);
		expect(twoSessionsWords(bag, onDay(2, []), [])).toMatch(/no judged rest/);
		expect(twoSessionsWords(bag, bag, [])).toBe('Choose two different sessions.');
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

it('what is compared is named without a posture that nobody noted', () => {
	expect(likeWords('beats', [onDay(0, [40], { edit: { activity: 'bag' } })])).toBe('beats, bag');
	expect(likeWords('beats', [])).toBe('beats');
});

it('a change of what has no known error is told with its way', () => {
	const points = [50, 55, 60].map((value, i) => ({ atMs: i * 10 * day, value }));
	expect(changeWords(points)).toBe(
		'The 7-day median is 10.0 higher than at the start; how much of that is noise is not known.'
	);
});
