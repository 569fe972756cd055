import { checkPlan } from '$lib/rounds/check-plan';
import { nameAfterRounds } from '$lib/rounds/formats';
import { conditioningPlans, templateGroups } from '$lib/rounds/templates';
import { timelineOf } from '$lib/rounds/timeline';
import { describe, expect, it } from 'vitest';

const groupOf = (name: string, facts: Parameters<typeof templateGroups>[0] = { hasMaximum: true }) =>
	templateGroups(facts).find((group) => group.name === name);
const all = templateGroups({ hasMaximum: true }).flatMap(({ plans }) => plans);

// Ruddock, James, French, Rogerson, Driller, Hembrough, Appl Sci 2021;11:10658 (excerpts): 4 x 8 min with 2 min between at
// 90 % of maximum (or effort 9), 6 x 2 min with 3 min between at effort 8, 8 x 30 s with 3 min between at effort 9.
describe('conditioning as published', () => {
	it.each([
		['Long intervals, 4 x 8', 4, 8, 2, 9],
		['Hard intervals, 6 x 2', 6, 2, 3, 8],
		['Sprints, 8 x 0.5', 8, 0.5, 3, 9]
	])('%s', (name, rounds, workMinutes, restMinutes, effort) => {
		const plan = conditioningPlans(false).find((one) => one.name === name)!;
		const minutesOf = (kind: string) =>
			timelineOf(plan)
				.filter((phase) => phase.kind === kind)
				.map(({ startMs, endMs }) => (endMs - startMs) / 60_000);
		expect(minutesOf('work')).toEqual(Array(rounds).fill(workMinutes));
		expect(minutesOf('rest')).toEqual(Array(rounds - 1).fill(restMinutes));
		expect(plan.aim).toEqual({ kind: 'effort', effort });
	});

	it('aims at a band around 90 % of maximum where one was measured', () => {
		const [long] = conditioningPlans(true);
		const aim = long!.aim as { kind: string; fromPercent: number; toPercent: number };
		expect(aim.kind).toBe('share of maximum');
		expect((aim.fromPercent + aim.toPercent) / 2).toBe(90);
	});

	it('says its source where it is chosen', () => {
		expect(groupOf('Conditioning')!.source).toContain('Appl Sci 2021;11:10658');
	});
});

describe('all templates', () => {
	it.each(all)('$name may start as it is, under a name that tells its rounds', (plan) => {
		expect(checkPlan(plan)).toEqual([]);
		expect(nameAfterRounds(plan)).toBe(plan.name);
	});

	it('have names of their own, and each group its source or none', () => {
		expect(new Set(all.map(({ name }) => name)).size).toBe(all.length);
		for (const name of ['Gym', 'Circuits']) expect(groupOf(name)!.source).toBe('Common practice, no source.');
		for (const { source } of templateGroups({ hasMaximum: true })) expect(source).toMatch(/\.$/);
	});

	// Illinois 68 Ill. Adm. Code 1370.540 (men, 3 minutes) and Ohio OAC 3773-2-03 (women, at most 10 x 2).
	it('offers professional bouts by sex, and both where it is not known', () => {
		const [men, women] = ['Professional bouts, men', 'Professional bouts, women'];
		const namesAt = (facts: object) =>
			templateGroups({ hasMaximum: false, ...facts }).map(({ name }) => name);
		expect(namesAt({ sex: 'female' })).not.toContain(men);
		expect(namesAt({ sex: 'male' })).not.toContain(women);
		expect(namesAt({})).toEqual(expect.arrayContaining([men, women]));
		const roundsOf = (name: string) => new Set(groupOf(name)!.plans.map(({ roundS }) => roundS));
		expect([roundsOf(men!), roundsOf(women!)]).toEqual([new Set([180]), new Set([120])]);
	});

	// Federations' technical and competition rules: 13 and 14 years 3 x 1.5.
	it('offers a boxer of 14 the bout of that age and no other', () => {
		const at14 = { ageYears: 14, hasMaximum: false };
		expect(groupOf('Bouts by age', at14)!.plans.map(({ name }) => name)).toEqual(['Schools, 3 x 1.5']);
		expect(templateGroups(at14).map(({ name }) => name)).not.toContain('Professional bouts, men');
	});
});
