import { describe, expect, it } from 'vitest';
import type { Athlete } from '$lib/record/athlete';
import type { FoldedEdit } from '$lib/record/edit';
import type { SessionRecord } from '$lib/record/body';
import { reviewed } from '$lib/review/reviewed';
import { sessionView } from '$lib/review/session-view';
import { restingPlan, thresholdRunPlan } from '$lib/rounds/guided-plans';
import { twoRounds } from './two-rounds';

const nerea: Athlete = {
	...{ id: 'ath-1', name: 'Nerea Ost', sex: 'female', birthYear: 1996 },
	...{ heightCm: 168, weightKg: 60, bodyFatPercent: 20 }
};
const viewOf = (record: SessionRecord, edit: FoldedEdit = {}, cards: readonly Athlete[] = [nerea]) =>
	sessionView({ record, edit }, reviewed(record, edit), cards, 2026);

describe('the review of a session', () => {
	const record = twoRounds();

	it('leads with what it came to, under the name on the card as it is now', () => {
		expect(viewOf(record)).toMatchObject({
			owner: nerea,
			name: 'Nerea Ost',
			title: 'Six on the pads',
			done: 'pads',
			// 50 seconds of the first round without its burst.
			sentence: 'Drops 40, 30. 0:50 of 2:00 over threshold.',
			together: 'Mean drop 35 (mean of 2 judged rests).',
			isAtRest: false
		});
		expect(viewOf(record).putRight).toBeUndefined();
		expect(viewOf(record).run).toBeUndefined();
		expect(viewOf(record).opinion).toBeUndefined();
	});

	it('says from where on a round is hard, before its drops are read', () => {
		// 90 % of 171.5 is 154.35 (own rule).
		expect(viewOf(record).cautions[0]).toBe(
			'A round counts as hard from 155 beats at the bell: 90 % of the threshold of 172.'
		);
		const unknown = twoRounds({ athlete: { athleteId: 'ath-1', name: 'Nerea' } });
		expect(viewOf(unknown).cautions[0]).toBe('');
		expect(viewOf(record).cautions).toHaveLength(3);
	});

	it('is of whoever it was put right to be of', () => {
		const bo = { id: 'ath-2', name: 'Bo', energyUnit: 'kJ' as const };
		const edit: FoldedEdit = { athlete: { id: 'ath-2', name: 'B.' }, title: 'Evening', activity: 'bag' };
		expect(viewOf(record, edit, [nerea, bo])).toMatchObject({
			owner: bo,
			energyUnit: 'kJ',
			name: 'Bo',
			title: 'Evening',
			done: 'bag'
		});
		expect(viewOf(record, edit, [nerea, bo]).putRight).toMatch(
			/^Put right afterwards; recorded as: Nerea, pads\./
		);
	});

	it('stands without a card, by the name that was noted', () => {
		const view = viewOf(record, {}, []);
		expect(view).toMatchObject({ name: 'Nerea', energyUnit: 'kcal', hidesEnergy: false });
		expect(view.owner).toBeUndefined();
		expect(view.back).toBeUndefined();
	});

	it('hides energy from whoever wants to see none', () => {
		expect(viewOf(record).hidesEnergy).toBe(false);
		const hidden = viewOf(record, {}, [{ ...nerea, hidesFuel: true }]);
		expect(hidden.hidesEnergy).toBe(true);
		expect(hidden.back).toBeUndefined();
	});

	it('has what may be eaten back, or why that is not counted', () => {
		const whole = twoRounds({
			athlete: { athleteId: 'ath-1', name: 'Nerea', sex: 'female', ageYears: 30, weightKg: 60 }
		});
		expect(viewOf(whole).back!.value!.value).toBeGreaterThan(0);
		expect(viewOf(whole, {}, [{ ...nerea, birthYear: 2010 }]).back!.reason).toMatch(/under 18/);
	});

	it('has the load of its effort over its own length', () => {
		// Four minutes at 6 (Foster et al. 2001).
		expect(viewOf(record, { effort: 6 }).effortLoad).toBe(24);
		expect(viewOf(record, { effort: 0 }).effortLoad).toBe(0);
		expect(viewOf(record).effortLoad).toBeUndefined();
	});

	it('has the moments that were marked', () => {
		const marked = twoRounds({ events: [{ kind: 'marker', ms: 134_000 }] });
		expect(viewOf(marked).marks).toEqual([{ atS: 134, words: 'Round 2 of 2, 0:14 in' }]);
	});

	it('tells a measurement at rest from all else, and whether its rate is on the card', () => {
		const quiet = twoRounds({ plan: restingPlan('lying') }, [58, 58, 58, 58]);
		expect(viewOf(quiet).isAtRest).toBe(true);
		expect(viewOf(quiet).sentence).toMatch(/^No resting rate\. The five quiet minutes are not over/);
	});

	it('has the result of a run, and what it cost by its pace where somebody said how far it was', () => {
		const ran = twoRounds({ plan: thresholdRunPlan(0) });
		expect(viewOf(ran).run!.reasons[0]).toMatch(/^The run was stopped after 3:50 of 20:00/);
		expect(viewOf(ran).opinion!.reasons).toHaveLength(1);
		expect(viewOf(ran).metWork.reason).toMatch(/say above how far it was/);
		const known = twoRounds({
			plan: thresholdRunPlan(0),
			athlete: { athleteId: 'ath-1', name: 'Nerea', weightKg: 60 }
		});
		expect(viewOf(known, { distanceKm: 0.7 }).metWork.value).toBeGreaterThan(0);
		expect(viewOf(record).metWork).toEqual(reviewed(record, {}).summary.costs.metWorkKJ);
	});
});
