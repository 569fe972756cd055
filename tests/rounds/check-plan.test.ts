import { checkPlan } from '$lib/rounds/check-plan';
import { totalMs } from '$lib/rounds/totals';
import type { Plan } from '$lib/rounds/plan';
import { competitionPlans, gymPlans } from '$lib/rounds/formats';
import { planSchema } from '$lib/rounds/plan-schema';
import fc from '../by-chance';
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { makeBlock, makePlan } from './plans';

const fieldsAtFault = (overrides: Partial<Plan>) => checkPlan(makePlan(overrides)).map(({ field }) => field);

describe('checkPlan', () => {
	it('finds nothing wrong with a plan that can be boxed', () => {
		expect(checkPlan(makePlan())).toEqual([]);
	});

	it.each(['roundCount', 'roundS', 'restS'] as const)('%s must be whole and at least one', (field) => {
		for (const value of [0, -1, 1.5, NaN, Infinity, -Infinity, 1e300])
			expect(fieldsAtFault({ [field]: value })).toContain(field);
		expect(fieldsAtFault({ [field]: 1 })).toEqual([]);
	});

	it.each(['warmUpS', 'getReadyS', 'coolDownS', 'endWarningS', 'startWarningS'] as const)(
		'%s must be whole and may be left out',
		(field) => {
			for (const value of [-1, 0.5, NaN, Infinity])
				expect(fieldsAtFault({ [field]: value })).toEqual([field]);
			expect(fieldsAtFault({ [field]: 0 })).toEqual([]);
		}
	);

	it('says in a sentence what is wrong and what to do', () => {
		expect(checkPlan(makePlan({ restS: 0 }))).toEqual([
			{ field: 'restS', message: 'The rest must be a whole number of seconds, 1 or more.' }
		]);
		expect(checkPlan(makePlan({ warmUpS: -5 }))[0]?.message).toBe(
			'The warm-up must be a whole number of seconds, 0 or more (0 leaves it out).'
		);
		expect(checkPlan(makePlan({ name: '  ' }))).toEqual([
			{ field: 'name', message: 'Give the plan a name.' }
		]);
	});

	it('reports every fault at once', () => {
		expect(fieldsAtFault({ name: '', roundS: NaN, endWarningS: -1 })).toEqual([
			'name',
			'roundS',
			'endWarningS'
		]);
	});

	it('lets a warning be longer than its phase, where it is silent', () => {
		expect(checkPlan(makePlan({ roundS: 5, restS: 5, endWarningS: 10, startWarningS: 10 }))).toEqual([]);
	});

	it('allows four hours in all and not a second more, and points at what makes it long', () => {
		// 60 x 180 s + 59 x 60 s + 60 s at the end = 14 400 s.
		expect(totalMs(makePlan({ roundCount: 60 }))).toBe(4 * 3_600_000);
		expect(fieldsAtFault({ roundCount: 60 })).toEqual([]);
		expect(fieldsAtFault({ roundCount: 60, warmUpS: 1 })).toEqual(['roundS']);
		expect(fieldsAtFault({ coolDownS: 20_000 })).toEqual(['coolDownS']);
		expect(fieldsAtFault({ roundCount: 61, roundS: 30, restS: 30 })).toEqual(['roundCount']);
	});

	it('points at the rests, or at a pause, where most of the time is theirs, and at the round where both are as long', () => {
		const longest = (overrides: Partial<Plan>) =>
			checkPlan(makePlan(overrides)).map(({ field, block, message }) => [field, block, message]);
		const message =
			'The session lasts more than 4 hours in all, most of it here. Make this shorter, or take fewer rounds.';
		expect(longest({ roundCount: 10, roundS: 600, restS: 1000 })).toEqual([['restS', undefined, message]]);
		expect(longest({ roundCount: 20, roundS: 400, restS: 400 })).toEqual([['roundS', undefined, message]]);
		expect(longest({ coolDownS: 14_000 })).toEqual([['coolDownS', undefined, message]]);
	});

	it('says of every block that has too many rounds by itself', () => {
		const many = { roundCount: 61, roundS: 10, restS: 10 };
		expect(checkPlan(makePlan({ ...many, blocks: [makeBlock(many)] }))).toEqual([
			{ field: 'roundCount', message: 'A plan has at most 60 rounds. Take fewer.' },
			{ field: 'roundCount', block: 2, message: 'Block 2: a plan has at most 60 rounds. Take fewer.' }
		]);
	});

	it('says what is wrong with each aim, and with the sum beside a name that is missing', () => {
		const aim = { kind: 'effort', effort: 11 } as const;
		const both = { ...makePlan({ name: '', aim }), blocks: [makeBlock({ aim })] };
		expect(checkPlan(both).map(({ field, block }) => [field, block])).toEqual([
			['name', undefined],
			['aim', undefined],
			['aim', 2]
		]);
		expect(fieldsAtFault({ name: '', roundCount: 50, blocks: [makeBlock({ roundCount: 11 })] })).toEqual([
			'name',
			'roundCount'
		]);
	});

	it('takes no list of blocks that is none, nor one that is too long', () => {
		const message = 'A plan has at most 60 blocks, each with its rounds. Take one out.';
		for (const blocks of ['x', [7], [null], Array.from({ length: 60 }, () => makeBlock({ roundCount: 1 }))])
			expect(checkPlan(makePlan({ blocks: blocks as never }))).toEqual([{ field: 'blocks', message }]);
	});

	it('says at the field what it cannot keep of a member of several parts', () => {
		expect(checkPlan(makePlan({ handOvers: { afterRounds: [1.5], lengthS: 60 } }))).toEqual([
			{ field: 'handOvers', message: 'This cannot be kept as it is. Choose it again.' }
		]);
	});

	it('answers for absurd numbers of rounds without working them out', () => {
		expect(fieldsAtFault({ roundCount: 1_000_000_000 })).toContain('roundCount');
	});
});

describe('a plan that may start', () => {
	const anything = fc.oneof(
		fc.integer({ min: -2, max: 20_000 }),
		fc.double(),
		fc.constantFrom<unknown>(NaN, -0, Infinity, null, undefined, '60', true, {}, []),
		fc.constantFrom<unknown>('', 'pads', 'resting', 'threshold run', 'lying', 75)
	);

	const fields = [...Object.keys(makePlan()), ...['kind', 'posture', 'restDownToPercent', 'followsGymBell']];

	it('can be kept, whatever stands in its fields', () => {
		let started = 0;
		fc.assert(
			fc.property(
				fc.array(fc.tuple(fc.constantFrom(...fields), anything), { maxLength: 3 }),
				fc.boolean(),
				(faults, followsGymBell) => {
					const sound = { ...makePlan(), ...(followsGymBell && { followsGymBell: true }) };
					const plan = { ...sound, ...Object.fromEntries(faults) } as Plan;
					if (checkPlan(plan).length > 0) return;
					started++;
					expect(v.safeParse(planSchema, plan).issues).toBeUndefined();
				}
			),
			{ numRuns: 2000 }
		);
		expect(started).toBeGreaterThan(200);
	});

	it.each([
		['roundS', NaN, 'The length of a round must be a whole number of seconds, 1 or more.'],
		['restS', 2.5, 'The rest must be a whole number of seconds, 1 or more.'],
		['roundCount', 1001, 'A plan has at most 60 rounds. Take fewer.'],
		['warmUpS', -5, 'The warm-up must be a whole number of seconds, 0 or more (0 leaves it out).'],
		['warmUpS', 14_401, 'The warm-up can be 14400 seconds (4 hours) at most. Make it shorter.']
	] as const)(
		'says at the field what keeps %s from it, also to the bell of the gym',
		(field, value, message) => {
			expect(checkPlan(makePlan({ followsGymBell: true, [field]: value }))).toEqual([{ field, message }]);
		}
	);

	it('has no warning that the store would refuse', () => {
		expect(checkPlan(makePlan({ startWarningS: 20_000 }))).toEqual([
			{
				field: 'startWarningS',
				message: 'The warning before a round starts can be 14400 seconds (4 hours) at most. Make it shorter.'
			}
		]);
	});

	it.each([...gymPlans, ...competitionPlans])('is every ready one: $name', (plan) => {
		expect(checkPlan(plan)).toEqual([]);
	});
});

it('the total counts everything from Start to the end', () => {
	const plan = makePlan({ roundCount: 2, warmUpS: 300, getReadyS: 15, coolDownS: 120 });
	expect(totalMs(plan)).toBe((300 + 15 + 180 + 60 + 180 + 60 + 120) * 1000);
});
