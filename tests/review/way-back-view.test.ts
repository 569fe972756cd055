import { describe, expect, it } from 'vitest';
import type { Athlete } from '$lib/record/athlete';
import type { Blow } from '$lib/record/blow';
import { firstSteps, steppedTo, wayBackView } from '$lib/review/way-back-view';

const nowMs = Date.UTC(2026, 2, 10, 12);
const moment = { nowMs, today: '2026-03-10' };
const blow: Blow = { day: '2026-03-01', step: '2A', since: '2026-03-09T11:00:00.000Z' };
const nerea: Athlete = { id: 'a', name: 'Nerea', birthYear: 1996, measuredMaxBpm: 190, blows: [blow] };
const viewOf = (overrides: Partial<Athlete> = {}) => wayBackView({ ...nerea, ...overrides }, moment);

describe('what the athlete’s page tells of the way back', () => {
	it('is the step with its rate, what is behind it and what comes next', () => {
		const [told] = viewOf().blows;
		// 55 % of 190 is 104.5, rounded down.
		expect(told).toMatchObject({
			ceiling: { value: 104 },
			isOver: false,
			next: { step: '2B', why: undefined }
		});
		expect(told!.steps.filter(({ isBehind }) => isBehind).map(({ step }) => step)).toEqual(['1']);
	});

	it('says who cleared the athlete and when, or that nobody did', () => {
		expect(viewOf().blows[0]!.clearance).toBe('No clearance was entered.');
		const cleared = { ...blow, clearance: { by: 'Dr Aalto', day: '2026-03-08' } };
		expect(viewOf({ blows: [cleared] }).blows[0]!.clearance).toMatch(
			/^Cleared by Dr Aalto on Sun 8 Mar( 2026)?\.$/
		);
	});

	it('says until when the officials stand the athlete down, or that they did not', () => {
		expect(viewOf().blows[0]!.standDown).toBe('No stand-down was entered.');
		const stood = { ...blow, standDownUntil: '2026-03-20' };
		expect(viewOf({ blows: [stood] }).blows[0]!.standDown).toMatch(/^Stand-down until Fri 20 Mar( 2026)?\.$/);
	});

	it('has the newest blow first, each with the day and the step that was set last', () => {
		const older: Blow = { ...blow, day: '2026-02-01', step: '1' };
		const { blows } = viewOf({ blows: [older, blow] });
		expect(blows.map((one) => one.blow)).toEqual([blow, older]);
		expect(blows[0]!.day).toMatch(/^Sun 1 Mar/);
		const set = blows[0]!.steps.filter(({ since }) => since !== undefined);
		expect(set.map(({ step }) => step)).toEqual(['2A']);
		expect(set[0]!.since).toMatch(/^Mon 9 Mar/);
		expect(blows[0]!.steps).toHaveLength(7);
	});

	it('has nothing after the last step, which a cleared athlete has behind', () => {
		const done: Blow = { ...blow, step: '6', clearance: { by: 'Dr Aalto', day: '2026-03-08' } };
		const view = viewOf({ blows: [done] });
		expect(view.blows[0]).toMatchObject({ isOver: true, next: undefined, ceiling: undefined });
		expect(view.blows[0]!.steps.filter(({ isBehind }) => isBehind)).toHaveLength(6);
		expect(view.isRestricted).toBe(false);
	});

	it('says whether the rate stands on a measured maximum', () => {
		expect(viewOf().isMaximumMeasured).toBe(true);
		const { measuredMaxBpm: _, ...unmeasured } = nerea;
		expect(wayBackView(unmeasured, moment).isMaximumMeasured).toBe(false);
	});

	it('is empty for whom nothing holds back', () => {
		const { blows: _, ...free } = nerea;
		expect(wayBackView(free, moment)).toMatchObject({
			isRestricted: false,
			blows: [],
			locks: [],
			stop: undefined
		});
	});

	it('lets the steps before a clearance be set, 1 to 3', () => {
		expect(firstSteps.map(({ step }) => step)).toEqual(['1', '2A', '2B', '3']);
		expect(firstSteps[3]!.words).toBe('3: Own boxing work alone, without any risk of a blow');
	});

	it('opens nothing for somebody under 18, or of unknown age, before the days of the federation are entered', () => {
		for (const birthYear of [2010, undefined])
			expect(viewOf({ birthYear }).blows[0]!.next!.why).toContain('Under 18');
		const longer = { ...blow, daysPerStep: 1 };
		expect(viewOf({ birthYear: 2010, blows: [longer] }).blows[0]!.next!.why).toBeUndefined();
	});

	it('has the step set at the moment of the press, and none that is not open', () => {
		expect(steppedTo(nerea, blow, '2B', moment)?.blows).toEqual([
			{ ...blow, step: '2B', since: '2026-03-10T12:00:00.000Z' }
		]);
		expect(steppedTo(nerea, blow, '3', moment)).toBeUndefined();
	});

	it('tells of a lock without its reason how far the way is open, and nothing that could be changed', () => {
		const lock = {
			day: '2026-03-02',
			step: '4' as const,
			standDownUntil: '2026-03-20',
			isCleared: true as const
		};
		const { isRestricted, locks } = viewOf({ blows: [], locks: [{ day: '2026-02-20', step: '2A' }, lock] });
		expect(isRestricted).toBe(true);
		// The stand-down holds a step that was set at 3; the share of the maximum of 2A as above.
		expect(locks).toMatchObject([
			{ step: '3', standDown: 'Stand-down until Fri 20 Mar.', clearance: 'A doctor has cleared it.' },
			{ step: '2A', ceiling: { value: 104 }, clearance: 'No clearance was entered.' }
		]);
		const over = { ...lock, step: '6' as const, standDownUntil: '2026-03-09' };
		expect(viewOf({ blows: [], locks: [over] })).toMatchObject({ isRestricted: false, locks: [] });
	});

	it('asks about an earlier day without sparring', () => {
		const { blows: _, ...old } = nerea;
		expect(wayBackView({ ...old, noSparringUntil: '2026-03-20' }, moment).stop?.isOver).toBe(false);
		expect(wayBackView({ ...old, noSparringUntil: '2026-03-01' }, moment).stop?.isOver).toBe(true);
		expect(viewOf().stop).toBeUndefined();
		expect(wayBackView({ ...old, noSparringUntil: '2026-03-20' }, moment).stop?.day).toMatch(/^Fri 20 Mar/);
	});
});
