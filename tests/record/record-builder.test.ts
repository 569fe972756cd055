import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { readings } from '../store/arbitraries';
import { makeHead, makeStart, readingEntry, startEntry } from '../store/builders';
import { unpackReadings } from '$lib/record/columns';
import { RecordBuilder } from '$lib/record/record-builder';
import { recordBodySchema } from '$lib/record/body';
import { check } from '$lib/record/check';
import { recordHeadSchema } from '$lib/record/head';
import type { JournalEntry } from '$lib/record/journal';

function builderOf(entries: readonly JournalEntry[]): RecordBuilder {
	const builder = new RecordBuilder();
	for (const entry of entries) builder.push(entry);
	return builder;
}

function readingsOf(entries: readonly JournalEntry[]) {
	return builderOf(entries)
		.build(10_000)
		.map(({ body }) => unpackReadings(body));
}

const pair = makeStart({
	corners: [
		{
			recordId: 'rec-red',
			athlete: { athleteId: 'a', name: 'Nerea' },
			strapName: 'Strap 1',
			practice: false
		},
		{ recordId: 'rec-blue', athlete: { athleteId: 'b', name: 'Tomas' }, strapName: 'Strap 2', practice: true }
	]
});

describe('the record builder', () => {
	it('makes the head from the start entry and all that happened since', () => {
		const { amendments, events } = makeHead();
		const builder = builderOf([
			startEntry,
			...amendments.map((amendment) => ({ kind: 'amendment' as const, amendment })),
			...events.map((event) => ({ kind: 'event' as const, corner: 0, event }))
		]);
		expect(builder.build(1_480_000)[0]!.head).toEqual(makeHead());
	});

	it('makes one record a corner, each with its own readings and events, all of one group', () => {
		const [red, blue] = builderOf([
			{ kind: 'start', start: pair },
			readingEntry({ corner: 1, ms: 900, bpm: 131 }),
			readingEntry({ corner: 0, ms: 1000, bpm: 155 }),
			{ kind: 'event', corner: 1, event: { kind: 'signal lost', ms: 4000 } },
			{ kind: 'amendment', amendment: { kind: 'pause', atMs: 5000 } }
		]).build(6000);
		expect([red!.head.id, red!.head.groupId, red!.head.practice]).toEqual(['rec-red', 'ses-1', false]);
		expect([blue!.head.id, blue!.head.groupId, blue!.head.practice]).toEqual(['rec-blue', 'ses-1', true]);
		expect([...red!.body.bpm, ...blue!.body.bpm]).toEqual([155, 131]);
		expect([red!.head.events, blue!.head.events]).toEqual([[], [{ kind: 'signal lost', ms: 4000 }]]);
		expect(red!.head.amendments).toEqual(blue!.head.amendments);
		expect(red!.head.amendments).toHaveLength(1);
	});

	it('keeps the readings from before Start', () => {
		const [kept] = readingsOf([startEntry, readingEntry({ ms: -3000 }), readingEntry({ ms: 200 })]);
		expect(kept!.map(({ ms }) => ms)).toEqual([-3000, 200]);
	});

	it('makes a record without a reading where the strap never sent any', () => {
		expect(readingsOf([startEntry])).toEqual([[]]);
	});

	it('never lets elapsed time go back, and one late stamp moves no later reading', () => {
		const [kept] = readingsOf([startEntry, ...[1000, 900, 2000].map((ms) => readingEntry({ ms }))]);
		expect(kept!.map(({ ms }) => ms)).toEqual([1000, 1000, 2000]);
	});

	it('writes a time just before zero as 0, not as -0', () => {
		expect(builderOf([startEntry, readingEntry({ ms: -0.3 })]).build(0)[0]!.body.firstMs).toBe(0);
	});

	it('hands out records that later entries leave alone', () => {
		const builder = builderOf([startEntry, readingEntry({ ms: 1000 })]);
		const early = builder.build(1000);
		const before = structuredClone(early);
		builder.push(readingEntry({ ms: 2000 }));
		builder.push({ kind: 'amendment', amendment: { kind: 'finish', atMs: 2000 } });
		builder.push({ kind: 'event', corner: 0, event: { kind: 'marker', ms: 2000 } });
		expect(early).toEqual(before);
		expect(builder.build(2000)[0]!.body.bpm).toHaveLength(2);
	});

	it('knows how far a session came: the latest moment of any entry', () => {
		const builder = builderOf([startEntry, readingEntry({ ms: -800 })]);
		expect(builder.lastMs).toBe(0);
		builder.push(readingEntry({ ms: 61_000 }));
		builder.push({ kind: 'amendment', amendment: { kind: 'pause', atMs: 62_500 } });
		builder.push({ kind: 'event', corner: 0, event: { kind: 'signal lost', ms: 62_000 } });
		expect(builder.lastMs).toBe(62_500);
	});

	it('answers everything it was given, as entries that build the same records', () => {
		const entries: JournalEntry[] = [
			{ kind: 'start', start: pair },
			readingEntry({ ms: -800 }),
			{ kind: 'amendment', amendment: { kind: 'pause', atMs: 62_500 } },
			{
				kind: 'reading',
				corner: 1,
				ms: 63_000,
				bpm: 140,
				contact: 'contact',
				energyKJ: 12,
				rrMs: [428.7109375]
			},
			{ kind: 'event', corner: 1, event: { kind: 'signal lost', ms: 64_000 } },
			readingEntry({ ms: 65_000 })
		];
		const builder = builderOf(entries);
		expect(builder.entries()).toHaveLength(entries.length);
		expect(builderOf(builder.entries()).build(70_000)).toEqual(builder.build(70_000));
	});

	it('answers who came, left and changed straps too, each reading behind the strap that it is of', () => {
		const late = { ...pair.corners[0]!, recordId: 'rec-late', strapName: 'Strap 3' };
		const change = { ms: 66_000, strapName: 'Strap 4', practice: false };
		const builder = builderOf([
			{ kind: 'start', start: pair },
			readingEntry({ ms: 60_000 }),
			{ kind: 'leave', corner: 1, ms: 61_000 },
			{ kind: 'join', corner: 2, ms: 62_000, entrant: late },
			readingEntry({ ms: 65_000 }),
			{ kind: 'strap', corner: 0, change },
			readingEntry({ ms: 67_000 })
		]);
		const again = builderOf(builder.entries());
		expect(again.build(70_000)).toEqual(builder.build(70_000));
		expect([...again.corners.values()].map(({ number }) => number)).toEqual([1, 2, 2]);
		const heard = builder.entries().filter((entry) => 'corner' in entry && entry.corner === 0);
		expect(heard.map(({ kind }) => kind)).toEqual(['reading', 'reading', 'strap', 'reading']);
	});

	it('refuses to make records without a start, so that no journal is finished into nothing', () => {
		expect(() => builderOf([readingEntry()]).build(1000)).toThrow('start entry');
	});

	it('gives back every reading it was given, in records that can be read back', () => {
		fc.assert(
			fc.property(readings, (given) => {
				const entries = given.map((reading) => ({ kind: 'reading' as const, corner: 0, ...reading }));
				const [record] = builderOf([startEntry, ...entries]).build(10_000);
				expect(unpackReadings(record!.body)).toStrictEqual(given);
				expect(check(recordHeadSchema, record!.head)).toEqual({ value: record!.head });
				expect(check(recordBodySchema, record!.body)).toEqual({ value: record!.body });
			})
		);
	});
});
