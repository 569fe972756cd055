import { describe, expect, it } from 'vitest';
import { dayTrainingWords, keptTraining, knownDay, trainingsOf, trainingWords } from '$lib/review/training';
import { makeHead, padsPlan } from '../store/builders';
import { makeRound, makeSummary } from './session-builders';
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

describe('a training of a day', () => {
	it('is a session with all that was done in it, or an entry, with its load where it was rated', () => {
		const [session, entry] = [
			makeTraining({ done: 'pads, bag', minutes: 41.5 }),
			makeEntry({ beside: ['s1'] })
		];
		// Foster et al. 2001: rating x minutes, 6 x 60.
		expect(trainingsOf(makeDay(entry), [session])).toStrictEqual([
			{ id: 's1', activity: 'pads, bag', minutes: 41.5, session },
			{ id: 'e1', activity: 'pads', minutes: 60, entry, effort: 6, load: 360 }
		]);
		expect(trainingsOf(undefined, [makeTraining({ effort: 0 })])[0]).toMatchObject({ effort: 0, load: 0 });
		expect(trainingsOf(undefined, [])).toEqual([]);
	});

	it('is told in a few words, and a day by all that counts of it', () => {
		const [run, pads] = trainingsOf(
			makeDay(makeEntry({ activity: 'running', minutes: 29.6, effort: undefined }), makeEntry({ id: 'b' })),
			[]
		);
		expect(trainingWords(run!)).toBe('running, 30 min, effort owed');
		expect(trainingWords(pads!)).toBe('pads, 60 min, effort 6');
		const two = makeDay(makeEntry({ activity: 'running', minutes: 30, effort: 3, beside: ['s1'] }));
		expect(dayTrainingWords(two, [makeTraining({ effort: 8 })])).toBe(
			'pads, 60 min, effort 8; running, 30 min, effort 3'
		);
		expect(dayTrainingWords(makeDay(makeEntry()), [makeTraining({ effort: 8 })])).toBe(
			'pads, 60 min, effort 8'
		);
		expect(dayTrainingWords(restDay, [])).toBe('rest');
		expect(dayTrainingWords(undefined, [])).toBe('nothing entered');
		expect(dayTrainingWords(makeDay(), [])).toBe('nothing entered');
	});

	it('adds what is rated to the load of its day, which owes the rest', () => {
		const sessions = [makeTraining({ effort: 5 }), makeTraining({ id: 's2' })];
		expect(knownDay(undefined, sessions)).toMatchObject({ isKnown: true, isEffortOwed: true, load: 300 });
	});

	it('is none of a measurement at rest, which leaves a day of rest one', () => {
		const resting = makeTraining({ planKind: 'resting', effort: 2 });
		expect(knownDay(restDay, [resting])).toEqual({
			...{ isKnown: true, isEffortOwed: false, load: 0 },
			trainings: []
		});
		expect(
			trainingsOf(undefined, [resting, makeTraining({ id: 's2', planKind: 'threshold run' })])
		).toHaveLength(1);
	});
});

describe('what may be one training told twice', () => {
	it('counts by what is known best: a load, then a strap, then the longer, then the name', () => {
		const leftOut = (...[day, sessions]: Parameters<typeof trainingsOf>) =>
			trainingsOf(day, sessions).flatMap(({ id, isLeftOut }) => (isLeftOut ? [id] : []));
		const twice = (one: Parameters<typeof makeEntry>[0], other: Parameters<typeof makeEntry>[0]) =>
			leftOut(makeDay(makeEntry({ id: 'a', ...one }), makeEntry({ id: 'b', ...other })), []);
		expect(twice({ effort: undefined, minutes: 90 }, { effort: 1, minutes: 10 })).toEqual(['a']);
		expect(twice({ effort: undefined, minutes: 90 }, { effort: 0, minutes: 10 })).toEqual(['a']);
		// 5 x 60 and 6 x 50 are the same load.
		expect(twice({ effort: 6, minutes: 50 }, { effort: 5, minutes: 60 })).toEqual(['a']);
		expect(twice({}, {})).toEqual(['b']);
		expect(twice({ id: 'z' }, {})).toEqual(['z']);
		const owed = makeEntry({ effort: undefined, minutes: 90 });
		expect(leftOut(makeDay(owed), [makeTraining()])).toEqual(['e1']);
		expect(leftOut(makeDay(makeEntry({ effort: 1 })), [makeTraining()])).toEqual(['s1']);
	});

	it('is asked of the first that it may be, and of none that is already another’s', () => {
		const asked = (...[day, sessions]: Parameters<typeof trainingsOf>) =>
			trainingsOf(day, sessions).map(({ maybeSameAs }) => maybeSameAs);
		const entries = (...told: Parameters<typeof makeEntry>[0][]) =>
			makeDay(...told.map((one) => makeEntry(one)));
		expect(asked(entries({ id: 'a' }, { id: 'b' }, { id: 'c' }), [])).toEqual([undefined, 'a', 'a']);
		expect(asked(entries({ id: 'a', sameAs: 's1' }, { id: 'b', beside: ['s1'] }), [makeTraining()])).toEqual([
			undefined,
			undefined,
			undefined
		]);
		// Whichever of the two says so.
		expect(asked(entries({ id: 'a', beside: ['b'] }, { id: 'b' }), [])).toEqual([undefined, undefined]);
	});

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
	it('is what was measured and noted, with its drops, and nothing that is not known', () => {
		const rounds = [
			makeRound(1, 49),
			makeRound(2, undefined),
			makeRound(3, 33, 'not judged'),
			makeRound(4, 38)
		];
		const plain = {
			head: makeHead({ endedMs: 1_500_000, practice: false }),
			edit: {},
			summary: makeSummary({ rounds })
		};
		const kept = {
			id: 'rec-1',
			groupId: 'ses-1',
			startedAt: '2026-03-02T18:30:00.000Z',
			athleteId: 'ath-1',
			title: 'Six on the pads',
			activity: 'pads',
			minutes: 25,
			drops: [49, 38]
		};
		expect(keptTraining(plain)).toStrictEqual(kept);
		const check = { ...padsPlan, kind: 'recovery check' as const, posture: 'sitting' as const };
		const grouped = makeHead({ endedMs: 1_500_000, plan: check, group: ['rec-1', 'rec-2'] });
		expect(keptTraining({ ...plain, head: grouped })).toStrictEqual({
			...kept,
			planKind: 'recovery check',
			posture: 'sitting',
			group: ['rec-1', 'rec-2']
		});
		expect(keptTraining({ ...plain, head: grouped, edit: { posture: 'standing', effort: 0 } })).toMatchObject(
			{
				posture: 'standing',
				effort: 0
			}
		);
	});

	it('has no drops of a run or of quiet minutes, which have no rests between rounds', () => {
		for (const kind of ['threshold run', 'resting'] as const)
			expect(
				keptTraining({
					head: makeHead({ plan: { ...padsPlan, kind } }),
					edit: {},
					summary: makeSummary({ rounds: [makeRound(1, 49)] })
				})?.drops
			).toEqual([]);
	});

	it('names all that was done where that was more than one thing, and keeps the drops of the chief one', () => {
		const done = (['pads', 'pads', 'bag'] as const).map((activity, i) => ({
			...makeRound(i + 1, 40 + i),
			activity
		}));
		expect(keptTraining({ head, edit: {}, summary: makeSummary({ rounds: done }) })).toMatchObject({
			activity: 'pads',
			done: 'pads, bag',
			drops: [40, 41]
		});
	});

	it('is nothing of the simulated strap, unless it is the example’s', () => {
		expect(keptTraining({ head: { ...head, practice: true }, edit: {} })).toBeUndefined();
		expect(keptTraining({ head: { ...head, practice: true, example: true }, edit: {} })).toBeDefined();
	});
});
