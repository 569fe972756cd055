import { packReadings, type Reading } from '$lib/record/columns';
import { RecordBuilder } from '$lib/record/record-builder';
import { check } from '$lib/record/check';
import { journalEntrySchema } from '$lib/record/journal';
import { recordHeadSchema } from '$lib/record/head';
import { Recorder } from '$lib/session/recorder';
import { reviewedOrWhyNot } from '$lib/review/reviewed';
import { sessionNetKcal } from '$lib/review/session-energy';
import { SessionClock } from '$lib/session/session-clock';
import { SleepWatch } from '$lib/session/sleep-watch';
import { measured, summaryOf } from '$lib/review/summary';
import { keepUnfinished } from '$lib/review/unfinished';
import { manualClock } from '$lib/time/manual-clock';
import type { SessionRecord } from '$lib/record/body';
import { describe, expect, it } from 'vitest';
import { makeHead } from '../store/builders';
import { makeSink, makeStart, makeStrap, shortPlan } from '../session/builders';

const dayMs = 86_400_000;
const everySecond = (count: number): Reading[] =>
	Array.from({ length: count }, (_, s) => ({
		ms: s * 1000 + 300,
		bpm: 150,
		contact: 'not supported',
		rrMs: []
	}));
const recordOf = (head: Parameters<typeof makeHead>[0], seconds: number): SessionRecord => ({
	head: makeHead(head),
	body: packReadings(everySecond(seconds))
});

describe('a session of years', () => {
	const years = recordOf({ endedMs: 90 * dayMs }, 60);

	it('is kept without being measured, and says why', () => {
		expect(measured(years)).toEqual(years);
		expect(() => summaryOf(years)).toThrow(/lasts more than 8 days/);
		expect(reviewedOrWhyNot(years, {})).toEqual({
			reason: expect.stringMatching(/clock of the computer was set/)
		});
		expect(sessionNetKcal(years, 'sitting', {})).toEqual({ reason: expect.stringMatching(/too long/) });
	});

	it('is not believed of a file', () => {
		expect(check(recordHeadSchema, { ...years.head, endedMs: 1e12 }).problem).toMatch(/endedMs/);
		const amendments = Array.from({ length: 15_000 }, () => ({ kind: 'add round', atMs: 1 }));
		expect(check(recordHeadSchema, { ...years.head, amendments }).problem).toMatch(/amendments/);
	});

	it('is not believed of a journal either', () => {
		const reading = { kind: 'reading', corner: 0, bpm: 150, contact: 'contact', rrMs: [] };
		expect(check(journalEntrySchema, { ...reading, ms: 1e12 }).problem).toMatch(/ms/);
		expect(check(journalEntrySchema, { ...reading, ms: 1000 }).problem).toBeUndefined();
	});

	it('ends where the longest that can be kept does', () => {
		const builder = new RecordBuilder();
		builder.push({ kind: 'start', start: makeStart() });
		const [record] = builder.build(1000 * dayMs);
		expect(record!.head.endedMs).toBe(100 * dayMs);
		expect(check(recordHeadSchema, record!.head).problem).toBeUndefined();
	});
});

describe('a wall clock that is put right by years', () => {
	const sign = (monotonicMs: number, wallMs: number) =>
		({ by: 'wake', monotonicMs, wallMs, elapsedMs: monotonicMs }) as const;

	it('is no sleep, but a weekend is', () => {
		const watch = new SleepWatch();
		watch.see(sign(0, 0));
		expect(watch.see(sign(10_000, 3650 * dayMs))).toBeUndefined();
		expect(watch.see(sign(20_000, 3650 * dayMs + 10_000))).toBeUndefined();
		expect(watch.see(sign(30_000, 3652 * dayMs))).toMatchObject({ kind: 'slept' });
	});

	it('neither holds the page nor costs the session', async () => {
		const clock = manualClock();
		let aheadMs = 0;
		const { sink, ...kept } = makeSink();
		const recorder = new Recorder({
			start: makeStart(),
			clock,
			originMs: 0,
			writeClock: clock,
			sink: { ...sink, finish: async (records) => void (kept.kept = records) },
			wallNowMs: () => 1e12 + clock.nowMs() + aheadMs
		});
		const red = makeStrap();
		recorder.straps.attach(0, red.strap);
		for (let s = 0; s < 110; s++) {
			clock.advanceTo(s * 1000 + 300);
			recorder.advance();
			if (s < 100) red.send(clock.nowMs(), 150);
			else aheadMs = 3650 * dayMs;
		}
		expect(recorder.session.elapsedMs()).toBe(109_300);
		await recorder.end(recorder.session.elapsedMs());
		expect(kept.kept![0]!.head.endedMs).toBe(109_300);
	});
});

describe('a round of a day and a half, whose next bell nobody pressed', () => {
	const seconds = 36 * 3600;
	const head = {
		plan: { ...shortPlan, followsGymBell: true } as const,
		amendments: [{ kind: 'next', atMs: 0 } as const],
		endedMs: seconds * 1000
	};

	it('is measured', () => {
		const summary = summaryOf(recordOf(head, seconds));
		expect(summary.rounds[0]).toMatchObject({ peakBpm: 150, averageBpm: 150 });
		expect(summary.workS).toBe(seconds);
	});

	it('is kept out of the journal', async () => {
		const sink = makeSink();
		const readings = everySecond(seconds).map((reading) => ({
			kind: 'reading' as const,
			corner: 0,
			...reading
		}));
		await keepUnfinished(
			[
				{ kind: 'start', start: makeStart({ plan: head.plan }) },
				{ kind: 'amendment', amendment: head.amendments[0]! },
				...readings
			],
			// As where the browser has cleared the journal: what the page has listed is all there is.
			{ ...sink.sink, finishAs: (build) => sink.sink.finish(build([]).records) }
		);
		expect(sink.kept).toHaveLength(1);
	});
});

it('a session takes no more changes than can be kept, but can always be ended', () => {
	const clock = manualClock();
	const session = new SessionClock(clock, { ...shortPlan, followsGymBell: true }, 0, [
		{ kind: 'next', atMs: 0 },
		...Array.from({ length: 2450 }, (_, i) => [
			{ kind: 'pause' as const, atMs: i * 10 + 1 },
			{ kind: 'resume' as const, atMs: i * 10 + 2 }
		]).flat()
	]);
	expect(session.append('pause', 50_000)).toBeUndefined();
	expect(session.append('finish', 50_000)).toBeDefined();
	expect(session.append('finish', 51_000)).toBeDefined();
	const head = makeHead({ amendments: [...session.amendments], endedMs: 51_000 });
	expect(check(recordHeadSchema, head).problem).toBeUndefined();
});
