import { unstrapped } from '$lib/record/unstrapped';
import { describe, expect, it } from 'vitest';
import type { JournalEntry } from '$lib/record/journal';
import type { RecordBuilder } from '$lib/record/record-builder';
import { makeStart, readingEntry } from '../store/builders';
import { builderOf, entrantOf, over, putOn, shared, told, undone } from './strap-entries';

describe('who never wore a strap', () => {
	const unstrappedOf = (builder: RecordBuilder, endedMs: number) =>
		unstrapped(builder.start, builder.corners, endedMs);
	const entriesOf = (builder: RecordBuilder, endedMs: number) =>
		unstrappedOf(builder, endedMs).map(({ athleteId, entry }) => [athleteId, entry.minutes]);
	const leave = (corner: number, ms: number): JournalEntry => ({ kind: 'leave', corner, ms });

	it('has an entry of the day that names the group, with the activity of the plan', () => {
		const start = makeStart();
		expect(unstrappedOf(builderOf(shared(), over(0, 1, 1000)), 1_480_000)).toEqual([
			{
				athleteId: 'athlete-Adem',
				startedAt: start.startedAt,
				entry: {
					id: 'record-Adem',
					activity: 'pads',
					minutes: 25,
					madeAt: start.startedAt,
					groupId: start.sessionId
				}
			}
		]);
	});

	it('has the minutes that they were there for, in whole ones, and none under one', () => {
		const joined: JournalEntry = { kind: 'join', corner: 3, ms: 900_000, entrant: entrantOf('Bao') };
		const builder = builderOf(shared(), leave(1, 300_000), joined);
		expect(entriesOf(builder, 1_800_000)).toEqual([
			['athlete-Tomas', 5],
			['athlete-Adem', 30],
			['athlete-Bao', 15]
		]);
		expect(entriesOf(builder, 959_999)).toEqual([
			['athlete-Tomas', 5],
			['athlete-Adem', 16]
		]);
		expect(entriesOf(builderOf(shared(), leave(1, 59_999), leave(2, 60_000)), 1_800_000)).toEqual([
			['athlete-Adem', 1]
		]);
		expect(entriesOf(builderOf(shared()), 3 * 86_400_000)[0]).toEqual(['athlete-Tomas', 1440]);
	});

	it('has none of a session that simulated straps alone took part in', () => {
		const practised = shared({
			corners: [entrantOf('Odalys', 'Practice', true), entrantOf('Tomas'), entrantOf('Adem')]
		});
		expect(unstrappedOf(builderOf(practised), 600_000)).toEqual([]);
		expect(entriesOf(builderOf(practised, putOn(1, 1000)), 600_000)).toEqual([['athlete-Adem', 10]]);
	});

	it('has a record and no entry once a strap came to them, be it late and of their own', () => {
		const builder = builderOf(shared(), putOn(2, 500_000), readingEntry({ corner: 2, ms: 501_000 }));
		expect(told(builder)).toEqual([
			['Odalys', []],
			['Adem', [501_000]]
		]);
		expect(entriesOf(builder, 600_000)).toEqual([['athlete-Tomas', 10]]);
		expect(builder.build(600_000)[1]!.head).toMatchObject({ strapName: 'Blue', practice: false });
	});

	it('has an entry after all where the only hand-over to them was undone', () => {
		const builder = builderOf(shared(), over(0, 2, 500_000), undone(0, 2, 510_000), leave(1, 1000));
		expect(entriesOf(builder, 600_000)).toEqual([['athlete-Adem', 10]]);
	});
});
