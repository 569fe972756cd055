import { check } from '$lib/record/check';
import { trainingDaySchema } from '$lib/record/day';
import { beforeAll, describe, expect, it } from 'vitest';
import { exampleGym, type ExampleGym } from '$lib/session/example-gym';
import { countedSessions, progressOf } from '$lib/review/progress';

describe('the example gym', () => {
	let gym: ExampleGym;
	beforeAll(async () => {
		gym = await exampleGym(Date.UTC(2026, 5, 1, 12), () => Promise.resolve());
	}, 60_000);

	const pointsOf = (athleteId: string, measure: Parameters<typeof progressOf>[1]) =>
		progressOf(
			countedSessions(
				gym.sessions.map(({ record, edit }) => ({
					head: record.head,
					edit: edit ?? {},
					summary: record.summary
				})),
				{ athleteId }
			),
			measure
		).map(({ value }) => value);

	it('is twelve athletes over three months, all of it marked as an example', () => {
		expect(gym.athletes).toHaveLength(12);
		expect(gym.athletes.every(({ example }) => example)).toBe(true);
		expect(gym.sessions.every(({ record }) => record.head.example && record.head.practice)).toBe(true);
		const starts = gym.sessions.map(({ record }) => Date.parse(record.head.startedAt));
		expect((Math.max(...starts) - Math.min(...starts)) / 86_400_000).toBeGreaterThan(84);
		expect(Math.max(...starts)).toBeLessThan(Date.UTC(2026, 5, 1, 12));
	});

	it('has athletes with a strap and without, days that are unknown, and sound ones', () => {
		const strapped = new Set(gym.sessions.map(({ record }) => record.head.athlete.athleteId));
		expect(strapped.size).toBe(2);
		for (const { athleteId, date, day } of gym.days) {
			expect(gym.athletes.some(({ id }) => id === athleteId)).toBe(true);
			expect(date < '2026-06-01').toBe(true);
			expect(check(trainingDaySchema, day).problem).toBeUndefined();
		}
		const known = new Set(gym.days.map(({ athleteId, date }) => `${athleteId} ${date}`));
		expect(known.size).toBe(gym.days.length);
		// Twelve athletes over 91 days, fewer of them told.
		expect(known.size).toBeGreaterThan(500);
		expect(known.size).toBeLessThan(1000);
		expect(gym.days.some(({ day }) => day.rest)).toBe(true);
		expect(gym.days.some(({ day }) => day.entries.some(({ effort }) => effort === undefined))).toBe(true);
	});

	it('shows the fitter athlete falling deeper, resting lower, and recovering faster', () => {
		const drops = pointsOf('example-ilka', 'drop at 60');
		expect(drops.at(-1)!).toBeGreaterThan(drops[0]! + 4);
		const rest = pointsOf('example-ilka', 'resting rate');
		expect(rest.at(-1)!).toBeLessThan(rest[0]! - 4);
		const tau = pointsOf('example-ilka', 'tau');
		expect(tau.length).toBeGreaterThanOrEqual(4);
		expect(tau.at(-1)!).toBeLessThan(tau[0]! - 10);
	});

	it('has thresholds and RMSSD in every kind of picture', () => {
		for (const athleteId of ['example-ilka', 'example-tomaso']) {
			expect(pointsOf(athleteId, 'threshold')).toHaveLength(3);
			expect(pointsOf(athleteId, 'RMSSD')).toHaveLength(26);
		}
	});
});
