import { describe, expect, it } from 'vitest';
import { keptTraining, knownDay, trainingsOf } from '$lib/review/training';
import { makeHead } from '../store/builders';
import { makeDay, makeEntry, makeTraining, restDay } from './training-days';

describe('a day', () => {
	it('is unknown where nobody entered anything, and has no load then', () => {
		expect(knownDay(undefined, [])).toEqual({ isKnown: false, isEffortOwed: false, trainings: [] });
		expect(knownDay({ entries: [], allFood: true }, []).isKnown).toBe(false);
	});
	it('is known with a load of 0 where rest was ticked', () => {
		expect(knownDay(restDay, [])).toMatchObject({ isKnown: true, load: 0 });
	});
	it('is known by a session alone, and owes its effort until somebody says it', () => {
		expect(knownDay(undefined, [makeTraining()])).toMatchObject({ isKnown: true, isEffortOwed: true });
		expect(knownDay(undefined, [makeTraining()])).not.toHaveProperty('load');
		// Foster et al. 2001: rating x minutes, 7 x 60.
		expect(knownDay(undefined, [makeTraining({ effort: 7 })])).toMatchObject({
			load: 420,
			isEffortOwed: false
		});
	});
	it('is a day of training where one laptop ticked rest and another entered one', () => {
		expect(knownDay({ ...makeDay(makeEntry()), rest: true }, [])).toMatchObject({ isKnown: true, load: 360 });
	});
	it('takes a measurement at rest for no training', () => {
		expect(knownDay(undefined, [makeTraining({ planKind: 'resting' })]).isKnown).toBe(false);
	});
});

describe('what may be one training told twice', () => {
	const day = makeDay(makeEntry({ id: 'a', effort: 6 }), makeEntry({ id: 'b', effort: 7 }));
	it('is asked, and until somebody answers the larger load counts', () => {
		expect(
			trainingsOf(day, []).map(({ id, maybeSameAs, isLeftOut }) => [id, maybeSameAs, isLeftOut])
		).toEqual([
			['a', undefined, true],
			['b', 'a', undefined]
		]);
		expect(knownDay(day, []).load).toBe(420);
	});
	it('counts once where it was answered "the same", by whichever of the two and even by both', () => {
		const answers = [
			makeDay(makeEntry({ id: 'a', sameAs: 'b' }), makeEntry({ id: 'b', effort: 7 })),
			makeDay(makeEntry({ id: 'a' }), makeEntry({ id: 'b', effort: 7, sameAs: 'a' })),
			makeDay(makeEntry({ id: 'a', sameAs: 'b' }), makeEntry({ id: 'b', effort: 7, sameAs: 'a' }))
		];
		for (const answered of answers) {
			expect(knownDay(answered, []).load).toBe(420);
			expect(trainingsOf(answered, []).flatMap(({ maybeSameAs }) => maybeSameAs ?? [])).toEqual([]);
		}
	});
	it('counts twice where it was answered "another training"', () => {
		const other = makeDay(makeEntry({ id: 'a' }), makeEntry({ id: 'b', effort: 7, beside: ['a'] }));
		expect(knownDay(other, [])).toMatchObject({ load: 780 });
		expect(trainingsOf(other, []).every(({ maybeSameAs }) => maybeSameAs === undefined)).toBe(true);
	});
	it('is asked of an entry beside a session that it does not know of', () => {
		const [session, entry] = trainingsOf(makeDay(makeEntry()), [makeTraining({ effort: 8 })]);
		expect(entry).toMatchObject({ maybeSameAs: 's1', isLeftOut: true });
		expect(session).toMatchObject({ load: 480 });
		expect(
			trainingsOf(makeDay(makeEntry({ beside: ['s1'] })), [makeTraining()])[1]?.maybeSameAs
		).toBeUndefined();
	});
	it('is asked of neither of two sessions', () => {
		const two = [makeTraining({ effort: 5 }), makeTraining({ id: 's2', effort: 5 })];
		expect(knownDay(undefined, two).load).toBe(600);
	});
	it('owes no effort where one of the two has it', () => {
		const half = makeDay(makeEntry({ id: 'a', effort: undefined }), makeEntry({ id: 'b' }));
		expect(knownDay(half, [])).toMatchObject({ load: 360, isEffortOwed: false });
	});
	it('leaves another training of the day alone', () => {
		const three = makeDay(
			makeEntry({ id: 'run', activity: 'running', minutes: 30, effort: 3 }),
			makeEntry({ id: 'a', beside: ['run'] }),
			makeEntry({ id: 'b', effort: 5, beside: ['run'] })
		);
		// 30 x 3 + the larger of 60 x 6 and 60 x 5.
		expect(knownDay(three, []).load).toBe(450);
	});
});

describe('what a list keeps of a session', () => {
	const head = makeHead({ endedMs: 3_600_000, joinedMs: 600_000, group: ['rec-1', 'rec-2'] });
	it('goes by what was put right, and counts the minutes from joining', () => {
		const edit = { athlete: { id: 'ath-2', name: 'Bo' }, activity: 'bag' as const, effort: 5, title: 'Bags' };
		expect(keptTraining({ head, edit })).toMatchObject({
			athleteId: 'ath-2',
			activity: 'bag',
			minutes: 50,
			effort: 5,
			title: 'Bags',
			drops: []
		});
	});
	it('is nothing of the simulated strap, unless it is the example’s', () => {
		expect(keptTraining({ head: { ...head, practice: true }, edit: {} })).toBeUndefined();
		expect(keptTraining({ head: { ...head, practice: true, example: true }, edit: {} })).toBeDefined();
	});
});
