import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import * as v from 'valibot';
import { idSchema } from '$lib/record/check';
import {
	changedPlan,
	checkedPlanState,
	copiesOf,
	joinedPlan,
	planState,
	saidAt,
	shownPlan
} from '$lib/record/own-plan';
import { underOwnNames } from '$lib/record/plan';
import { joined } from '$lib/record/registers';
import type { Plan } from '$lib/rounds/plan';
import { padsPlan } from '../store/builders';

const noonMs = Date.UTC(2026, 2, 3, 12);
const ladder: Plan = { ...padsPlan, name: 'Ladder' };
const named = (id: string, name: string) => ({ id, plan: { ...padsPlan, name } });
const namesOf = (plans: readonly { id: string; plan: Plan }[]) =>
	plans.map(({ id, plan }) => [id, plan.name]).sort();

describe('a plan that two laptops changed unaware of each other', () => {
	const start = changedPlan({}, ladder, { ms: noonMs, by: 'one' });
	const [here, there] = [60, 90].map((roundS, i) =>
		changedPlan(start, { ...ladder, roundS }, { ms: noonMs + 1 + i, by: ['one', 'other'][i]! })
	) as [typeof start, typeof start];

	it('is the later one, and the other beside it under an id and a name of its own, whoever joins them', () => {
		for (const both of [joined(here, there), joined(there, here)]) {
			expect(shownPlan(both)?.roundS).toBe(90);
			const copies = copiesOf('p1', both);
			expect(copies.map(([, copy]) => shownPlan(copy))).toEqual([
				{ ...ladder, name: 'Ladder (from another laptop)', roundS: 60 }
			]);
			expect(copies.map(([id]) => id)).toEqual(['20260303120000001-one-p1']);
		}
	});
	it('is one plan where both changed it alike', () => {
		const alike = changedPlan(start, { ...ladder, roundS: 60 }, { ms: noonMs + 9, by: 'other' });
		expect(copiesOf('p1', joined(here, alike))).toEqual([]);
	});
	it('is one again once somebody has changed it who saw both', () => {
		const seen = changedPlan(joined(here, there), { ...ladder, roundS: 75 }, { ms: noonMs, by: 'one' });
		const all = joined(joined(there, seen), here);
		expect([shownPlan(all)?.roundS, copiesOf('p1', all)]).toEqual([75, []]);
	});
	it('has copies whose ids are ids, however long those of plans and machines are', () => {
		const by = 'm'.repeat(32);
		const other = changedPlan(start, { ...ladder, roundS: 70 }, { ms: noonMs + 1, by });
		const [[id] = ['']] = copiesOf(crypto.randomUUID(), joined(there, other));
		expect(v.is(idSchema, id)).toBe(true);
	});
});

describe('what is read of a plan', () => {
	it('is refused where any word of it is no plan, or there are more than can be', () => {
		const word = { at: '2026-03-03T12:00:00.000Z', by: 'm1' };
		expect(checkedPlanState({ plan: [{ ...word, value: padsPlan }, word] }).problem).toBeUndefined();
		expect(checkedPlanState({ plan: [{ ...word, value: { name: 'Torn' } }] }).problem).toMatch(/damaged/);
		const many = Object.fromEntries(Array.from({ length: 21 }, (_, i) => [`later${i}`, [word]]));
		expect(checkedPlanState(many).problem).toMatch(/more than a plan can/);
	});
	it('has what a later page says of it, and no hand-overs', () => {
		const value = { ...padsPlan, handOvers: { afterRounds: [1], lengthS: 120 } };
		const word = { at: '2026-03-03T12:00:00.000Z', by: 'm1' };
		const state = { plan: [{ ...word, value }], liked: [{ ...word, value: true }] };
		expect(checkedPlanState(state).value).toEqual({ ...state, plan: [{ ...word, value: padsPlan }] });
	});
});

describe('the names of plans', () => {
	it('stay, but for those that another plan has already', () => {
		const plans = [
			named('c', 'Rope'),
			named('b', 'Bag'),
			named('a', 'Bag'),
			named('d', 'Bag (2)'),
			named('e', 'Bag')
		];
		expect(namesOf(underOwnNames(plans))).toEqual([
			['a', 'Bag'],
			['b', 'Bag (3)'],
			['c', 'Rope'],
			['d', 'Bag (2)'],
			['e', 'Bag (4)']
		]);
	});
	it('are never told twice, and do not hang on the order in which plans are read', () => {
		const names = fc.array(fc.constantFrom('Bag', 'Bag (2)', 'Bag (3)', 'Rope'), { maxLength: 12 });
		fc.assert(
			fc.property(names, (all) => {
				const plans = all.map((name, i) => named(`p${String(i).padStart(2, '0')}`, name));
				const given = namesOf(underOwnNames(plans));
				expect(new Set(given.map(([, name]) => name)).size).toBe(all.length);
				expect(namesOf(underOwnNames(plans.toReversed()))).toEqual(given);
			})
		);
	});
});

describe('a plan that a page without registers of plans wrote', () => {
	const early = '2026-03-03T11:00:00.000Z';
	const late = '2026-03-03T13:00:00.000Z';
	const said = changedPlan({}, ladder, { ms: noonMs, by: 'one' });
	const changed = { ...ladder, roundS: 60 };

	it('is the only word where nothing was said before', () => {
		const state = planState({ plan: ladder, at: early });
		expect([shownPlan(state), saidAt(state), state.plan?.length]).toEqual([ladder, early, 1]);
		expect(saidAt(planState({ plan: ladder }))).toBeUndefined();
		expect(planState({})).toEqual({});
	});

	it('is said in knowledge of what is older, and beside what is later', () => {
		expect(planState({ said, plan: changed, at: late }).plan?.map(({ value }) => value)).toEqual([changed]);
		expect(planState({ said, plan: changed, at: early }).plan?.map(({ value }) => value)).toEqual([
			ladder,
			changed
		]);
		expect(planState({ said, plan: ladder, at: late })).toBe(said);
	});

	it('keeps no plan that stood there before, since another laptop may show it beside', () => {
		const again = changedPlan(said, changed, { ms: noonMs + 1, by: 'one' });
		expect(again.plan).toEqual([
			{ value: changed, at: '2026-03-03T12:00:00.001Z', by: 'one', knew: { one: '2026-03-03T12:00:00.000Z' } }
		]);
	});

	it('was removed in knowledge of what is older, also of what comes from elsewhere, and of nothing later', () => {
		expect(shownPlan(planState({ said, at: late }))).toBeUndefined();
		expect(shownPlan(planState({ said, at: early }))).toEqual(ladder);
		expect(shownPlan(joinedPlan({ at: late }, said))).toBeUndefined();
		expect(shownPlan(joinedPlan({ at: early }, said))).toEqual(ladder);
		expect(joinedPlan({ plan: changed, at: early }, said).plan?.map(({ value }) => value)).toEqual([
			ladder,
			changed
		]);
	});
});
