import { checkPlan } from '$lib/rounds/check-plan';
import { boutMs } from '$lib/rounds/totals';
import {
	boutRoundS,
	competitionPlans,
	competitionPlansAt,
	gymPlans,
	hallBellPlan,
	nameAfterRounds
} from '$lib/rounds/formats';
import { timelineOf } from '$lib/rounds/timeline';
import { describe, expect, it } from 'vitest';

// Minutes from the first bell to the last. Three-round formats: the federations' technical and competition
// rules. Professional men 4 to 12 x 3 with 1 minute between: 68 Ill. Adm. Code 1370.540 and Maryland COMAR
// 09.14.06.16, by which 12 x 3 last 12 x 3 + 11 x 1 = 47 minutes. Women to 10 x 2: Ohio OAC 3773-2-03.
const published: [name: string, rounds: number, roundMinutes: number, boutMinutes: number][] = [
	['Elite and youth, 3 x 3', 3, 3, 11],
	['Junior, 3 x 2', 3, 2, 8],
	['Schools, 3 x 1.5', 3, 1.5, 6.5],
	['Masters, 3 x 2', 3, 2, 8],
	['Masters, 3 x 1.5', 3, 1.5, 6.5],
	['Masters, 3 x 1', 3, 1, 5],
	['Professional men, 4 x 3', 4, 3, 15],
	['Professional men, 6 x 3', 6, 3, 23],
	['Professional men, 8 x 3', 8, 3, 31],
	['Professional men, 10 x 3', 10, 3, 39],
	['Professional men, 12 x 3', 12, 3, 47],
	['Professional women, 4 x 2', 4, 2, 11],
	['Professional women, 6 x 2', 6, 2, 17],
	['Professional women, 8 x 2', 8, 2, 23],
	['Professional women, 10 x 2', 10, 2, 29]
];

describe('competition formats', () => {
	it('are these and no others', () => {
		expect(competitionPlans.map(({ name }) => name)).toEqual(published.map(([name]) => name));
	});

	it.each(published)('%s', (name, rounds, roundMinutes, boutMinutes) => {
		const plan = competitionPlans.find((candidate) => candidate.name === name)!;
		const timeline = timelineOf(plan);
		const work = timeline.filter(({ kind }) => kind === 'work');
		const rests = timeline.filter(({ kind }) => kind === 'rest');
		expect(work.map(({ round }) => round)).toEqual(Array.from({ length: rounds }, (_, i) => i + 1));
		expect(new Set(work.map(({ startMs, endMs }) => (endMs - startMs) / 60_000))).toEqual(
			new Set([roundMinutes])
		);
		expect(rests.map(({ startMs, endMs }) => endMs - startMs)).toEqual(Array(rounds - 1).fill(60_000));
		expect((work.at(-1)!.endMs - work[0]!.startMs) / 60_000).toBe(boutMinutes);
		expect(boutMs(plan) / 60_000).toBe(boutMinutes);
	});
});

describe('what is offered at an age', () => {
	// Federations' technical and competition rules: 13 and 14 years 3 x 1.5, 15 and 16 years 3 x 2, from 17 on 3 x 3.
	it.each([
		[13, ['Schools, 3 x 1.5']],
		[14, ['Schools, 3 x 1.5']],
		[15, ['Junior, 3 x 2', 'Schools, 3 x 1.5']],
		[16, ['Junior, 3 x 2', 'Schools, 3 x 1.5']],
		[17, ['Elite and youth, 3 x 3', 'Junior, 3 x 2', 'Schools, 3 x 1.5']],
		[18, ['Elite and youth, 3 x 3', 'Junior, 3 x 2', 'Schools, 3 x 1.5']]
	])('%i years: no longer rounds than in the bouts of that age', (age, names) => {
		expect(competitionPlansAt(age).map(({ name }) => name)).toEqual(names);
		expect(Math.max(...competitionPlansAt(age).map(({ roundS }) => roundS))).toBe(boutRoundS(age));
	});

	it('is everything to adults and where no age is known', () => {
		expect(competitionPlansAt(19)).toBe(competitionPlans);
		expect(competitionPlansAt(undefined)).toBe(competitionPlans);
		expect([boutRoundS(30), boutRoundS(undefined)]).toEqual([180, 180]);
	});
});

it('a bout to the bell of the hall is sparring, under the name it is given, and the page rings nothing', () => {
	const plan = hallBellPlan('Saturday bout');
	expect(plan).toMatchObject({ name: 'Saturday bout', activity: 'sparring', followsGymBell: true });
	expect(checkPlan(plan)).toEqual([]);
});

it('every ready plan may be started and has a name of its own', () => {
	const plans = [...competitionPlans, ...gymPlans];
	expect(plans.flatMap(checkPlan)).toEqual([]);
	expect(new Set(plans.map(({ name }) => name)).size).toBe(plans.length);
});

describe('the name of a plan whose rounds were changed', () => {
	const bag = gymPlans.find(({ name }) => name === 'Bag, 6 x 3')!;
	it.each([
		[{ ...bag, roundCount: 8 }, 'Bag, 8 x 3'],
		[{ ...bag, roundS: 90 }, 'Bag, 6 x 1.5'],
		[{ ...bag, roundS: 100 }, 'Bag, 6 x 1.67'],
		[{ ...bag, name: 'Masters, 3 x 1.5', roundCount: 12, roundS: 120 }, 'Masters, 12 x 2'],
		[{ ...bag, name: 'Friday', roundCount: 8 }, 'Friday'],
		[{ ...bag, roundCount: NaN }, 'Bag, 6 x 3'],
		[{ ...bag, roundCount: 2.5 }, 'Bag, 6 x 3'],
		[{ ...bag, roundS: NaN }, 'Bag, 6 x 3'],
		[{ ...bag, roundS: 100.5, roundCount: 8 }, 'Bag, 6 x 3'],
		[{ ...bag, blocks: [{ ...bag, pauseS: 60, roundCount: NaN }] }, 'Bag, 6 x 3']
	])('%o', (plan, name) => {
		expect(nameAfterRounds(plan)).toBe(name);
	});

	it('is that of each ready plan as it stands', () => {
		for (const plan of [...competitionPlans, ...gymPlans]) expect(nameAfterRounds(plan)).toBe(plan.name);
	});
});
