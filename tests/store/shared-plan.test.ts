import { mostBlocks } from '$lib/rounds/blocks';
import { checkPlan } from '$lib/rounds/check-plan';
import { competitionPlans, gymPlans } from '$lib/rounds/formats';
import { recoveryCheckPlan } from '$lib/rounds/guided-plans';
import type { Aim } from '$lib/rounds/aim';
import type { Plan } from '$lib/rounds/plan';
import {
	isPlanFragment,
	mostFileCharacters,
	mostLinkCharacters,
	parsePlanFragment,
	parsePlanJson,
	planFragment,
	planJson
} from '$lib/store/shared-plan';
import { Buffer } from 'node:buffer';
import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { anyPlan, makeBlock, makePlan } from '../rounds/plans';

const anyAim: fc.Arbitrary<Aim> = fc.oneof(
	fc.constantFrom<Aim>({ kind: 'easy' }, { kind: 'near threshold' }, { kind: 'fight pace' }),
	fc.integer({ min: 0, max: 10 }).map((effort): Aim => ({ kind: 'effort', effort })),
	fc.integer({ min: 50, max: 99 }).map((fromPercent): Aim => ({
		kind: 'share of maximum',
		fromPercent,
		toPercent: fromPercent + 1
	}))
);
const anySharedPlan = fc
	.record({
		plan: anyPlan,
		name: fc.string({ unit: 'grapheme', minLength: 1, maxLength: 60 }),
		aim: fc.option(anyAim, { nil: undefined }),
		gymBell: fc.boolean()
	})
	.map(({ plan, name, aim, gymBell }): Plan => ({
		...plan,
		name,
		...(aim && { aim }),
		...(gymBell && { followsGymBell: true })
	}))
	.filter((plan) => checkPlan(plan).length === 0);

const linkOf = (content: unknown) =>
	`#plan=${Buffer.from(JSON.stringify(content), 'utf8').toString('base64url')}`;
const fileOf = (overrides: object) => JSON.stringify({ ...JSON.parse(planJson(makePlan())), ...overrides });
const plain = /^[A-Z][^\n{}<>]*\.$/;

describe('a plan as a link', () => {
	it('comes back as it was sent, whatever it is', () => {
		fc.assert(
			fc.property(anySharedPlan, (plan) => {
				expect(parsePlanFragment(planFragment(plan))).toStrictEqual({ value: plan });
			}),
			{ numRuns: 500 }
		);
	});

	// Base64url without padding as Node writes it: RFC 4648, section 5.
	it('is base64url of compact JSON', () => {
		const plan = { ...gymPlans[0]!, name: 'Säcke, 拳 und ÿ?>' };
		expect(planFragment(plan)).toBe(linkOf({ version: 1, plan: JSON.parse(planJson(plan)).plan }));
		expect(planFragment(plan)).toMatch(/^#plan=[\w-]+$/);
	});

	it('that was changed on the way is refused in a plain sentence, or read whole', () => {
		let refused = 0;
		let read = 0;
		const change = fc.record({
			at: fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }),
			length: fc.integer({ min: 0, max: 12 }),
			put: fc.oneof(
				fc.string({ unit: fc.constantFrom(...'ABCQgwxyz0189-_'), maxLength: 6 }),
				fc.string({ unit: 'grapheme', maxLength: 4 })
			)
		});
		fc.assert(
			fc.property(anySharedPlan, fc.array(change, { minLength: 1, maxLength: 3 }), (plan, changes) => {
				let letters = planFragment(plan).slice('#plan='.length);
				for (const { at, length, put } of changes) {
					const from = Math.floor(at * letters.length);
					letters = letters.slice(0, from) + put + letters.slice(from + length);
				}
				const { value, problem } = parsePlanFragment(`#plan=${letters}`);
				if (value) {
					read++;
					expect(checkPlan(value)).toEqual([]);
					expect(parsePlanFragment(planFragment(value))).toStrictEqual({ value });
				} else {
					refused++;
					expect(problem).toMatch(/^[A-Z].*\.$/s);
				}
			}),
			{ numRuns: 2000 }
		);
		expect(refused).toBeGreaterThan(1000);
		expect(refused + read).toBe(2000);
	});

	it('carries as many blocks as there may be', () => {
		const aim = { kind: 'share of maximum', fromPercent: 80, toPercent: 100 } as const;
		const block = makeBlock({ activity: 'shadow boxing', roundCount: 1, restDownToPercent: 75, aim });
		const plan = makePlan({
			...{ name: '拳'.repeat(200), roundCount: 1, roundS: 60, restS: 30 },
			blocks: Array.from({ length: mostBlocks - 1 }, () => ({ ...block, roundS: 100, pauseS: 100 }))
		});
		expect(parsePlanFragment(planFragment(plan))).toStrictEqual({ value: plan });
	});

	it('is told from other fragments, and refused where it is too long, cut short or empty', () => {
		expect(['#plan=', '#plan=abc', '#plans', ''].map(isPlanFragment)).toEqual([true, true, false, false]);
		const whole = planFragment(gymPlans[0]!);
		expect(parsePlanFragment(`#plan=${'A'.repeat(mostLinkCharacters + 1)}`).problem).toMatch(
			/longer than any plan.*as a file/
		);
		for (const broken of ['#plan=', whole.slice(0, -9), `${whole}%20`, '#plan=_-8', `#plan=${whole}`])
			expect(parsePlanFragment(broken).problem, broken).toMatch(/not whole/);
	});

	it('is refused where a letter of the name is no whole one', () => {
		const json = JSON.stringify({ version: 1, plan: { ...makePlan(), name: 'caf~' } });
		const bytes = Buffer.from(json, 'utf8').map((byte) => (byte === '~'.charCodeAt(0) ? 0xe9 : byte));
		expect(parsePlanFragment(`#plan=${Buffer.from(bytes).toString('base64url')}`).problem).toMatch(
			/not whole/
		);
	});

	it('says what is wrong in it and where', () => {
		const plan = makePlan();
		const problemOf = (changed: object, version = 1) =>
			parsePlanFragment(linkOf({ version, plan: { ...plan, ...changed } })).problem;
		expect(problemOf({ roundS: 'long' })).toContain('plan.roundS');
		expect(problemOf({}, 2)).toMatch(/newer version of this page/);
		expect(problemOf({ roundCount: 0 })).toMatch(/roundCount/);
		expect(problemOf({ roundCount: 61 })).toBe(
			'The plan could not be started, so it was not read. A plan has at most 60 rounds. Take fewer.'
		);
		expect(problemOf({ name: ' ' })).toMatch(/Give the plan a name\.$/);
		expect(problemOf({ name: 'x'.repeat(201) })).toMatch(/name .* longer than 200/);
		expect(problemOf({ activity: 'rest' })).toMatch(/block of rest/);
		for (const content of [null, [], 'x', 3, {}])
			expect(parsePlanFragment(linkOf(content)).problem, JSON.stringify(content)).toMatch(plain);
	});

	it('brings in no test past its stop signs, and nothing but what is planned', () => {
		expect(parsePlanFragment(linkOf({ version: 1, plan: recoveryCheckPlan(30) })).problem).toMatch(
			/^This is a plan of a test\./
		);
		const plan = makePlan({ blocks: [makeBlock()], aim: { kind: 'effort', effort: 4 } });
		const more = {
			...plan,
			script: '<b>',
			blocks: [{ ...makeBlock(), more: 1 }],
			aim: { kind: 'effort', effort: 4, x: 1 }
		};
		expect(parsePlanFragment(linkOf({ version: 1, plan: more }))).toStrictEqual({ value: plan });
	});
});

describe('a plan as a file', () => {
	it.each([...gymPlans, ...competitionPlans])('comes back as it was: $name', (plan) => {
		expect(parsePlanJson(planJson(plan))).toStrictEqual({ value: plan });
	});

	it.each([
		['{"format":', /not JSON, or it was cut short/],
		['null', /not a plan of Corner Minute/],
		['[]', /not a plan of Corner Minute/],
		[fileOf({ format: 'another' }), /not a plan of Corner Minute/],
		[fileOf({ version: 2 }), /newer version of this page/],
		[fileOf({ version: undefined }), /damaged at "version"/],
		[fileOf({ plan: undefined }), /damaged at "plan"/],
		[' '.repeat(mostFileCharacters + 1), /larger than any plan/],
		[`${'['.repeat(30_000)}${']'.repeat(30_000)}`, /nested deeper than any plan/]
	])('is refused with a plain sentence: %.40s', (text, problem) => {
		expect(parsePlanJson(text)).toEqual({ problem: expect.stringMatching(problem) });
		expect(parsePlanJson(text).problem).toMatch(/^[A-Z].*\.$/);
	});
});
