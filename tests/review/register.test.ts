import { describe, expect, it } from 'vitest';
import type { TrainingDay } from '$lib/record/day';
import {
	answered,
	entryProblem,
	inGroup,
	owedEfforts,
	rated,
	registerRows,
	restrictedOn,
	rested,
	rowsByDate,
	usualTraining,
	wasThere,
	type RegisterRow
} from '$lib/review/register';
import { effortWords, isThere, rowWords } from '$lib/review/register-words';
import type { KeptTraining } from '$lib/review/training';
import { padsPlan } from '../store/builders';
import { makeDay, makeEntry, makeTraining, restDay } from './training-days';

const nerea = { id: 'ath-1', name: 'Nerea' };
const bo = { id: 'ath-2', name: 'Bo' };
const making = { usual: { activity: 'bag', minutes: 45 }, id: 'new', madeAt: '2026-03-02T20:00:00.000Z' };
function rowOf(day?: TrainingDay, trainings: KeptTraining[] = []): RegisterRow {
	return registerRows([nerea], new Map(day && [[nerea.id, day]]), trainings)[0]!;
}

describe('a row of the register', () => {
	it('is filled by a session with a strap, each athlete’s by their own', () => {
		const rows = registerRows([nerea, bo], new Map(), [
			makeTraining(),
			makeTraining({ id: 's2', athleteId: 'ath-2' })
		]);
		expect(rows.map(({ trainings }) => trainings.map(({ id }) => id))).toEqual([['s1'], ['s2']]);
	});
	it('gets a training of the usual kind with the effort where nothing stood', () => {
		expect(rated(rowOf(), 7, making)).toEqual({
			kind: 'day',
			changed: makeDay({ id: 'new', activity: 'bag', minutes: 45, effort: 7, madeAt: making.madeAt })
		});
	});
	it('hands the effort of a session on to the session, and gives it no second training', () => {
		expect(rated(rowOf(undefined, [makeTraining()]), 7, making)).toEqual({
			kind: 'session',
			sessionId: 's1',
			effort: 7
		});
	});
	it('rates the training that owes an effort first, else the last one anew', () => {
		const two = makeDay(
			makeEntry({ id: 'a', effort: 4 }),
			makeEntry({ id: 'b', effort: undefined, beside: ['a'] })
		);
		const efforts = (row: RegisterRow) => {
			const change = rated(row, 9, making);
			return change.kind === 'day' ? change.changed.entries.map(({ id, effort }) => [id, effort]) : [];
		};
		expect(efforts(rowOf(two))).toEqual([
			['a', 4],
			['b', 9]
		]);
		expect(efforts(rowOf(makeDay(makeEntry({ id: 'a', effort: 4 }))))).toEqual([['a', 9]]);
	});
	it('takes the tick for rest away where somebody was there after all, and takes no rest where something was trained', () => {
		expect(wasThere(rowOf(restDay), making)).toMatchObject({ changed: { entries: [{ id: 'new' }] } });
		expect(wasThere(rowOf(restDay), making)).not.toHaveProperty('changed.rest');
		expect(rested(rowOf(makeDay(makeEntry())))).toBeUndefined();
		expect(rested(rowOf())).toMatchObject({ changed: { rest: true } });
		expect(rested(rowOf(restDay))).toEqual({ kind: 'day', changed: { entries: [] } });
	});
	it('knows that another training added beside one is not that one', () => {
		const change = wasThere(rowOf(makeDay(makeEntry())), making);
		expect(change).toMatchObject({ changed: { entries: [{ id: 'e1' }, { id: 'new', beside: ['e1'] }] } });
	});
	it('keeps the answer to "same training?" with the entry', () => {
		const row = rowOf(makeDay(makeEntry()), [makeTraining()]);
		const asked = row.trainings[1]!;
		expect(answered(row, asked, true)).toMatchObject({ changed: { entries: [{ sameAs: 's1' }] } });
		expect(answered(row, asked, false)).toMatchObject({ changed: { entries: [{ beside: ['s1'] }] } });
		expect(answered(row, row.trainings[0]!, true)).toBeUndefined();
	});
	it('keeps what an entry was said to stand beside before, and takes no answer that was not asked for', () => {
		const row = rowOf(makeDay(makeEntry({ beside: ['s0'] })), [makeTraining()]);
		expect(answered(row, row.trainings[1]!, false)).toMatchObject({
			changed: { entries: [{ beside: ['s0', 's1'] }] }
		});
		const alone = rowOf(makeDay(makeEntry()));
		expect(answered(alone, alone.trainings[0]!, true)).toBeUndefined();
		expect(answered(alone, alone.trainings[0]!, false)).toBeUndefined();
	});
	it('is rest where a tick says so, and not where nothing is known', () => {
		expect(rowOf(restDay)).toMatchObject({ isRest: true, isKnown: true });
		expect(rowOf()).toMatchObject({ isRest: false, isKnown: false, day: { entries: [] } });
		expect(rowOf(makeDay(makeEntry())).isRest).toBe(false);
	});
	it('rates no training that tells another once more', () => {
		// The effort of the session is known; the entry that may tell it once more owes one, and is left out.
		const row = rowOf(makeDay(makeEntry({ effort: undefined })), [makeTraining({ effort: 5 })]);
		expect(rated(row, 8, making)).toEqual({ kind: 'session', sessionId: 's1', effort: 8 });
	});
});

describe('those of a group', () => {
	it('are everybody where none is named, and else who belongs to it', () => {
		const people = [{ id: 'a', groups: ['juniors', 'women'] }, { id: 'b', groups: ['seniors'] }, { id: 'c' }];
		const idsOf = (group: string) => inGroup(people, group).map(({ id }) => id);
		expect(idsOf('')).toEqual(['a', 'b', 'c']);
		expect(idsOf('women')).toEqual(['a']);
		expect(idsOf('beginners')).toEqual([]);
	});
});

describe('the words of a row', () => {
	it('are rest, or each training that counts with its minutes, and that it was with a strap', () => {
		expect(rowWords(rowOf(restDay))).toBe('rest');
		expect(rowWords(rowOf())).toBe('');
		const day = makeDay(makeEntry({ activity: 'running', minutes: 30, beside: ['s1'] }));
		expect(rowWords(rowOf(day, [makeTraining({ minutes: 42.4 })]))).toBe(
			'pads, 42 min, strap; running, 30 min'
		);
	});
	it('leave out what may tell a training once more, with its effort', () => {
		const row = rowOf(makeDay(makeEntry({ minutes: 50, effort: 4 })), [makeTraining({ effort: 7 })]);
		expect(rowWords(row)).toBe('pads, 60 min, strap');
		expect(effortWords(row)).toBe('7');
		expect(isThere(row)).toBe(true);
	});
	it('have the efforts in order, and a dash for one that is owed', () => {
		const day = makeDay(
			makeEntry({ id: 'a', effort: 0 }),
			makeEntry({ id: 'b', effort: undefined, beside: ['a'] })
		);
		expect(effortWords(rowOf(day))).toBe('0 –');
		expect(effortWords(rowOf(restDay))).toBe('');
		expect(isThere(rowOf(restDay))).toBe(false);
	});
});

describe('what a new row is filled with', () => {
	it('is the session of the day that most were in', () => {
		const trainings = [
			makeTraining({ id: 'x', groupId: 'early', activity: 'running', minutes: 30 }),
			...['a', 'b'].map((id) => makeTraining({ id, groupId: 'late', minutes: 42.4 }))
		];
		expect(usualTraining(trainings, padsPlan)).toEqual({ activity: 'pads', minutes: 42, groupId: 'late' });
	});
	it('is what all of that session was of, and never no time at all', () => {
		const short = makeTraining({ done: 'pads, bag', minutes: 0.2 });
		expect(usualTraining([short], padsPlan)).toEqual({
			activity: 'pads, bag',
			minutes: 1,
			groupId: 'g1'
		});
	});
	it('is an hour where the gym’s own bell says how long it takes (own rule)', () => {
		expect(usualTraining([], { ...padsPlan, followsGymBell: true })).toEqual({
			activity: 'pads',
			minutes: 60
		});
	});
	it('is the plan where nobody had a strap, and a measurement at rest is no training', () => {
		// 6 x 3 min with 5 rests of 1 min, the last minute, 10 s before and 120 s after: 26 min 10 s.
		const planned = { activity: 'pads', minutes: 26 };
		expect(usualTraining([], padsPlan)).toEqual(planned);
		expect(usualTraining([makeTraining({ planKind: 'resting', minutes: 6 })], padsPlan)).toEqual(planned);
	});
});

describe('efforts that are owed', () => {
	it('are asked for oldest first, and never of what tells a training once more', () => {
		const days = new Map([
			['2026-03-03', makeDay(makeEntry({ effort: undefined }))],
			['2026-03-01', makeDay(makeEntry({ id: 'a', effort: undefined }), makeEntry({ id: 'b', effort: 5 }))],
			['2026-03-02', restDay]
		]);
		const trainings = [makeTraining({ id: 's2', athleteId: 'ath-2', startedAt: '2026-03-02T12:00:00.000Z' })];
		const rows = rowsByDate(
			[nerea, bo],
			new Map([
				['ath-1', { days }],
				['ath-2', { days: new Map() }]
			]),
			trainings
		);
		// Nobody has a row on a day of which nothing is known.
		expect(rows.map(({ date, row }) => `${date} ${row.name}`).sort()).toEqual([
			'2026-03-01 Nerea',
			'2026-03-02 Bo',
			'2026-03-02 Nerea',
			'2026-03-03 Nerea'
		]);
		expect(owedEfforts(rows).map(({ name, date }) => [name, date])).toEqual([
			['Bo', '2026-03-02'],
			['Nerea', '2026-03-03']
		]);
	});
	it('stand in the order of the rows within a day', () => {
		const owing = rowOf(makeDay(makeEntry({ effort: undefined })));
		const rows = ['2026-03-03', '2026-03-02', '2026-03-03'].map((date, i) => ({
			date,
			row: { ...owing, name: `${i}` }
		}));
		expect(owedEfforts(rows).map(({ date, name }) => [date, name])).toEqual([
			['2026-03-02', '1'],
			['2026-03-03', '0'],
			['2026-03-03', '2']
		]);
	});
});

describe('an entry that cannot be true', () => {
	it.each([
		[{ activity: 'pads', minutes: 0 }, /Minutes lie between 1 and 1,440/],
		[{ activity: 'pads', minutes: 1500 }, /Minutes/],
		[{ activity: 'pads', minutes: NaN }, /Minutes/],
		[{ activity: 'pads', minutes: 60, effort: 11 }, /Effort lies between 0 and 10/],
		[{ activity: 'pads', minutes: 60, effort: -1 }, /Effort/],
		[{ activity: 'pads', minutes: 59.5 }, /Minutes/],
		[{ activity: 'pads', minutes: 60, effort: NaN }, /Effort/],
		[{ activity: 'a'.repeat(61), minutes: 60 }, /^What was done has at most 60 letters\.$/],
		[{ activity: ' ', minutes: 60 }, /what was done/]
	])('is refused with a sentence: %j', (entry, problem) => {
		expect(entryProblem(entry)).toMatch(problem);
	});
	it('is none at the bounds', () => {
		for (const [minutes, effort] of [
			[1, 0],
			[1440, 10]
		] as const)
			expect(entryProblem({ activity: 'pads', minutes, effort })).toBeUndefined();
		expect(entryProblem({ activity: 'a'.repeat(60), minutes: 60 })).toBeUndefined();
	});
});

describe('who is restricted on a day', () => {
	const hurt = {
		...nerea,
		blows: [{ day: '2026-03-01', step: '3' as const, since: '2026-03-01T20:00:00.000Z' }]
	};
	const saidOf = (day?: TrainingDay) =>
		restrictedOn([hurt, bo], registerRows([hurt, bo], new Map(day && [[hurt.id, day]]), []), '2026-03-02');

	it('is said by that one word, and nothing of anybody else', () => {
		expect([...saidOf(makeDay(makeEntry({ activity: 'bag' })))]).toEqual([[hurt.id, 'restricted']]);
	});
	// Contact waits for a doctor's clearance: Patricios et al., Br J Sports Med 2023;57:695-711.
	it('names what was entered and is locked, which stays entered', () => {
		const day = makeDay(
			makeEntry({ activity: 'Sparring' }),
			makeEntry({ id: 'e2', activity: 'bag', beside: ['e1'] })
		);
		expect(saidOf(day).get(hurt.id)).toBe('restricted: Sparring locked');
	});
	it('names each of several once, and needs no row to say so', () => {
		const day = makeDay(
			makeEntry({ activity: 'sparring' }),
			makeEntry({ id: 'e2', activity: 'pads', beside: ['e1'] }),
			makeEntry({ id: 'e3', activity: 'sparring', beside: ['e1', 'e2'] })
		);
		expect(saidOf(day).get(hurt.id)).toBe('restricted: sparring and pads locked');
		expect([...restrictedOn([hurt, bo], [], '2026-03-02')]).toEqual([[hurt.id, 'restricted']]);
	});
});
