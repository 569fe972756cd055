import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { amendmentKinds, type Amendment } from '$lib/rounds/amendment';
import { unpackReadings } from '$lib/record/columns';
import { type Entrant, type JournalEntry, journalEntrySchema } from '$lib/record/journal';
import { viewOf } from '$lib/session/live-view';
import type { SessionRecord } from '$lib/record/body';
import { check } from '$lib/record/check';
import { recordHeadSchema } from '$lib/record/head';
import { Recorder } from '$lib/session/recorder';
import { summaryOf } from '$lib/review/summary';
import { manualClock } from '$lib/time/manual-clock';
import { makeSink, makeStart, makeStrap, recoveryBpm } from './builders';

const originMs = 5000;

function entrant(name: string, thresholdBpm = 165): Entrant {
	const athlete = { athleteId: `athlete-${name}`, name, thresholdBpm };
	return { recordId: `record-${name}`, athlete, strapName: `Strap ${name}`, practice: false };
}

function setUp(names: readonly string[], history: JournalEntry[] = []) {
	const clock = manualClock(originMs);
	const sink = makeSink();
	const recorder = new Recorder(
		{
			start: makeStart({ corners: names.map((name) => entrant(name)) }),
			clock,
			originMs,
			writeClock: clock,
			sink: sink.sink
		},
		history
	);
	const straps = new Map(names.map((name) => [name, makeStrap(`Strap ${name}`)]));
	if (history.length === 0) names.forEach((name, i) => recorder.straps.attach(i, straps.get(name)!.strap));
	return {
		clock,
		sink,
		recorder,
		straps,
		to: (s: number) => clock.advanceTo(originMs + s * 1000),
		send: (name: string, bpm: number) => straps.get(name)?.send(clock.nowMs(), Math.round(bpm)),
		join(name: string) {
			const strap = makeStrap(`Strap ${name}`);
			straps.set(name, strap);
			const corner = recorder.join(entrant(name));
			recorder.straps.attach(corner, strap.strap);
			return corner;
		}
	};
}

const names = ['Red', 'Blue', 'Gold'];
/** Three hearts that nobody could take for each other. */
const bpmOf: Record<string, (s: number) => number> = {
	Red: (s) => 150 + 25 * Math.sin(s / 19),
	Blue: (s) => 120 + 40 * Math.sin(s / 31),
	Gold: (s) => 168 + 9 * Math.sin(s / 7)
};
const summaryFacts = ({ head, body }: SessionRecord) => {
	const { id, groupId, group, ...rest } = head;
	return { rest, body };
};

const someAmendments = fc.array(
	fc.record({
		atS: fc.integer({ min: 1, max: 280 }),
		kind: fc.constantFrom(...amendmentKinds.filter((kind) => kind !== 'finish'))
	}),
	{ maxLength: 4 }
);
const someGaps = fc.array(fc.integer({ min: 1, max: 300 }), { maxLength: 10 });

interface Script {
	amendments: readonly { atS: number; kind: Amendment['kind'] }[];
	/** Seconds from which on two packets of one athlete's strap are lost. */
	lost: readonly (readonly number[])[];
}

/** Plays a script second by second to the end, or to `untilS`; what happens at a second comes before its packets. */
function play(
	session: ReturnType<typeof setUp>,
	{ amendments, lost }: Script,
	atSecond: (s: number) => void = () => undefined,
	untilS = 700
) {
	const due = amendments.toSorted((a, b) => a.atS - b.atS);
	const { recorder, to, send, straps } = session;
	for (let s = 0; s < untilS; s++) {
		for (; due[0]?.atS === s; due.shift()) {
			recorder.amend(due[0].kind);
			if (due[0].kind === 'pause') due.push({ atS: s + 7, kind: 'resume' });
		}
		atSecond(s);
		to(s + 0.3);
		recorder.advance();
		for (const name of straps.keys())
			if (!lost[names.indexOf(name)]?.some((fromS) => s >= fromS && s < fromS + 2))
				send(name, bpmOf[name]!(s));
		if (recorder.session.elapsedMs() >= recorder.session.endMs) break;
	}
	const endMs = Math.min(recorder.session.endMs, recorder.session.elapsedMs());
	return recorder.end(endMs);
}

/** What the live screen showed of a corner must be what its record says: rounds that are over, rests up to 90 s. */
function expectLiveAsKept(recorder: Recorder, corner: number, record: SessionRecord) {
	const { rounds } = summaryOf(record);
	const live = recorder.corners[corner]!.rounds;
	expect(live.length).toBeGreaterThanOrEqual(rounds.length);
	rounds.forEach((round, i) => {
		if (round.endMs >= record.head.endedMs) return;
		expect(live[i]!.over).toEqual(round.over);
		const rest = round.rest;
		if (!rest || rest.endMs >= record.head.endedMs || rest.endMs - rest.startMs > 90_000) return;
		const { kind, startMs, endMs, recovery, ...measure } = rest;
		expect(live[i]!.rest!.measure).toEqual(measure);
	});
}

describe('several corners on one clock', () => {
	it('give the very records that as many single sessions would have given', async () => {
		await fc.assert(
			fc.asyncProperty(someAmendments, fc.array(someGaps, { maxLength: 2 }), async (amendments, lost) => {
				const both = await play(setUp(['Red', 'Blue']), { amendments, lost });
				const red = await play(setUp(['Red']), { amendments, lost });
				const blue = await play(setUp(['Blue']), { amendments, lost });
				const [redOfBoth, blueOfBoth] = both.records;
				expect(summaryFacts(redOfBoth!)).toEqual(summaryFacts(red.records[0]!));
				expect(summaryFacts(blueOfBoth!)).toEqual(summaryFacts(blue.records[0]!));
				expect(redOfBoth!.summary).toEqual(red.records[0]!.summary);
				expect(blueOfBoth!.summary).toEqual(blue.records[0]!.summary);
				expect(redOfBoth!.head.group).toEqual(['record-Red', 'record-Blue']);
				expect(redOfBoth!.head.groupId).toBe(blueOfBoth!.head.groupId);
			}),
			{ numRuns: 25 }
		);
	}, 30_000);

	it('show live what each record will say, whoever joins, leaves and changes straps', async () => {
		const at = fc.integer({ min: 1, max: 250 });
		await fc.assert(
			fc.asyncProperty(
				someAmendments,
				fc.array(someGaps, { maxLength: 3 }),
				fc.array(at, { maxLength: 3 }),
				at,
				fc.option(at),
				async (amendments, lost, swapsAtS, joinAtS, leaveAtS) => {
					const session = setUp(['Red', 'Blue']);
					const { recorder } = session;
					const { records } = await play(session, { amendments, lost }, (s) => {
						if (s === joinAtS) session.join('Gold');
						if (s === leaveAtS) recorder.leave(1);
						if (swapsAtS.includes(s)) recorder.straps.swap(0, s > joinAtS ? 2 : 1);
					});
					for (const record of records) {
						expect(check(recordHeadSchema, record.head)).toEqual({ value: record.head });
						const corner = names.findIndex((name) => record.head.id === `record-${name}`);
						expectLiveAsKept(recorder, corner, record);
					}
				}
			),
			{
				numRuns: 40,
				// Somebody joins while the round stands paused.
				examples: [[[{ atS: 11, kind: 'pause' }], [], [], 12, null]]
			}
		);
	}, 30_000);

	it('leave a fault of one strap with its own corner', async () => {
		const { recorder, straps, to, send } = setUp(['Red', 'Blue']);
		to(4);
		straps.get('Red')!.become({ kind: 'lost', sinceMs: originMs + 3000 });
		straps.get('Blue')!.malformed();
		to(5);
		send('Blue', 131);
		const [red, blue] = viewOf(recorder, recorder.advance()).corners;
		expect(red!.signal).toMatchObject({ words: 'signal lost 2 s ago' });
		expect(blue!.signal).toEqual({ bpm: 131 });
		const { records } = await recorder.end(6000);
		expect(records.map(({ head }) => head.events)).toEqual([
			[{ kind: 'signal lost', ms: 3000 }],
			[{ kind: 'malformed packet', ms: 4000 }]
		]);
	});
});

describe('straps that answered for the wrong athlete', () => {
	it('are swapped at that moment: readings before it stay, readings after it go to the right record', async () => {
		const session = setUp(['Red', 'Blue']);
		const { recorder, to, send } = session;
		for (const [s, red, blue] of [
			[1, 101, 181],
			[2, 102, 182]
		] as const) {
			to(s);
			send('Red', red);
			send('Blue', blue);
		}
		to(2.5);
		recorder.straps.swap(0, 1);
		to(3);
		send('Red', 103);
		send('Blue', 183);
		const { records } = await recorder.end(4000);
		expect(records.map(({ body }) => [...body.bpm])).toEqual([
			[101, 102, 183],
			[181, 182, 103]
		]);
		expect(records.map(({ head }) => head.strapChanges)).toEqual([
			[{ ms: 2500, strapName: 'Strap Blue', practice: false, swapped: true }],
			[{ ms: 2500, strapName: 'Strap Red', practice: false, swapped: true }]
		]);
		expect(records.map(({ head }) => head.strapName)).toEqual(['Strap Red', 'Strap Blue']);
	});

	it('take a lost signal with them', async () => {
		const { recorder, straps, to } = setUp(['Red', 'Blue']);
		to(2);
		straps.get('Red')!.become({ kind: 'lost', sinceMs: originMs + 1500 });
		to(3);
		recorder.straps.swap(0, 1);
		to(5);
		straps.get('Red')!.become({ kind: 'connected' });
		const { records } = await recorder.end(6000);
		expect(records.map(({ head }) => head.events)).toEqual([
			[
				{ kind: 'signal lost', ms: 1500 },
				{ kind: 'signal back', ms: 3000 }
			],
			[
				{ kind: 'signal lost', ms: 3000 },
				{ kind: 'signal back', ms: 5000 }
			]
		]);
	});

	it('give no drop from one heart to another: the rest in which they were swapped is not measured', async () => {
		const { recorder, to, send } = setUp(['Red', 'Blue']);
		for (let s = 0; s < 131; s++) {
			if (s === 100) recorder.straps.swap(0, 1);
			to(s + 0.5);
			send('Red', s < 70 ? 180 : recoveryBpm(s - 70 + 0.5));
			send('Blue', 100);
		}
		to(131);
		recorder.advance();
		for (const corner of recorder.corners) {
			const { measure, advice } = corner.rounds[0]!.rest!;
			expect(measure.drop60).toBeUndefined();
			expect(measure.verdict).toBe('not judged');
			expect(advice).toContain('before the bell');
		}
		const { records } = await recorder.end(131_000);
		for (const record of records) expect(summaryOf(record).rounds[0]!.rest!.drop60).toBeUndefined();
	});

	it('are noted too where another strap takes the place of a lost one, and not where the same comes back', async () => {
		const { recorder, to } = setUp(['Red']);
		to(2);
		recorder.straps.attach(0, makeStrap('Strap Red').strap);
		to(3);
		recorder.straps.attach(0, makeStrap('Strap Grey').strap);
		const { records } = await recorder.end(4000);
		expect(records[0]!.head.strapChanges).toEqual([{ ms: 3000, strapName: 'Strap Grey', practice: false }]);
	});
});

describe('joining and leaving in mid-session', () => {
	it('gives a record from the moment of joining, without the rounds that were over', async () => {
		const session = setUp(['Red']);
		const { recorder } = session;
		const { records } = await play(session, { amendments: [], lost: [] }, (s) => {
			// Get ready 10 s, rounds of 60 s, rests of 60 s: 90 lies in the first rest.
			if (s === 90) session.join('Gold');
		});
		expect(records.map(({ head }) => head.joinedMs)).toEqual([undefined, 89_300]);
		expect(records.map((record) => summaryOf(record).rounds.map(({ round }) => round))).toEqual([
			[1, 2],
			[2]
		]);
		expect(unpackReadings(records[1]!.body)[0]!.ms).toBe(90_300);
		expect(recorder.corners[1]!.rounds.map(({ round }) => round)).toEqual([2]);
		expect(summaryOf(records[1]!).rounds[0]!.rest!.drop60).toBeDefined();
	});

	it('begins a round with the athlete who comes into it', async () => {
		const session = setUp(['Red']);
		const { records } = await play(session, { amendments: [], lost: [] }, (s) => {
			if (s === 31) session.join('Gold');
		});
		const [late] = summaryOf(records[1]!).rounds;
		expect(late).toMatchObject({ round: 1, startMs: 30_300, endMs: 70_000 });
		expect(late!.coverage).toBeGreaterThan(0.95);
		expect(summaryOf(records[1]!).workS).toBe(39 + 60);
	});

	it('ends a record at the moment of leaving, and the others go on', async () => {
		const session = setUp(['Red', 'Blue', 'Gold']);
		const { recorder } = session;
		const { records } = await play(
			session,
			{ amendments: [{ atS: 200, kind: 'add round' }], lost: [] },
			(s) => {
				if (s === 100) recorder.leave(1);
			}
		);
		const [red, blue, gold] = records.map(({ head }) => head);
		expect(blue).toMatchObject({ endedMs: 99_300, left: true, amendments: [] });
		expect([red!.endedMs, gold!.endedMs]).toEqual([370_000, 370_000]);
		expect(red!.amendments).toHaveLength(1);
		expect(records[1]!.body.bpm).toHaveLength(100);
	});

	it('keeps everybody’s number, and gives a free one to whoever comes next', () => {
		const session = setUp(['Red', 'Blue', 'Gold']);
		const { recorder } = session;
		const numbers = () =>
			viewOf(recorder, recorder.advance()).corners.map(({ number, name }) => [number, name]);
		session.to(5);
		recorder.leave(1);
		expect(numbers()).toEqual([
			[1, 'Red'],
			[3, 'Gold']
		]);
		session.join('Grey');
		expect(numbers()).toEqual([
			[1, 'Red'],
			[2, 'Grey'],
			[3, 'Gold']
		]);
	});

	it('lets nobody leave an empty ring, and keeps no record of who left before the first beat', async () => {
		const session = setUp(['Red']);
		const { recorder, to, send } = session;
		expect(recorder.leave(0)).toBe(false);
		to(1);
		send('Red', 120);
		const corner = session.join('Blue');
		expect(recorder.leave(corner)).toBe(true);
		const { records } = await recorder.end(2000);
		expect(records.map(({ head }) => [head.id, head.group])).toEqual([['record-Red', undefined]]);
	});
});

describe('a journal of several corners', () => {
	it('can be read back entry by entry, and goes on as if it had never stopped', async () => {
		const session = setUp(['Red', 'Blue']);
		const { recorder, to, sink } = session;
		const happens = (s: number) => {
			if (s === 40) session.join('Gold');
			if (s === 80) recorder.straps.swap(0, 2);
			if (s === 95) recorder.leave(1);
		};
		for (let s = 0; s < 110; s++) {
			happens(s);
			to(s + 0.3);
			for (const name of session.straps.keys()) session.send(name, bpmOf[name]!(s));
			await Promise.resolve();
		}
		recorder.advance();
		await new Promise((resolve) => setTimeout(resolve));
		to(111);
		recorder.amend('pause');
		await new Promise((resolve) => setTimeout(resolve));

		for (const entry of sink.entries) expect(check(journalEntrySchema, entry)).toEqual({ value: entry });
		const again = setUp(['Red', 'Blue'], sink.entries);
		again.to(111);
		again.recorder.advance();
		expect(again.recorder.present).toEqual([0, 2]);
		const roundsOf = (one: Recorder) => one.corners.map(({ rounds }) => rounds);
		expect(roundsOf(again.recorder)).toEqual(roundsOf(recorder));
		const [first, second] = [await recorder.end(111_000), await again.recorder.end(111_000)];
		expect(second.records).toEqual(first.records);
		expect(first.records).toHaveLength(3);
	});
});
