import { median } from 'simple-statistics';
import { afterEach, describe, expect, it } from 'vitest';
import { dayOf } from '$lib/record/athlete-changes';
import { likeWords, twoSessionsWords, usualDrop } from '$lib/review/like-words';
import { changeWords, sevenDayMedian } from '$lib/review/change-in-words';
import {
	countedDrop,
	countedSessions,
	likeSessions,
	progressOf,
	weightsOf,
	type KeptSession
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
