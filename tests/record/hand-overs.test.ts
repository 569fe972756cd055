import { isWearing, wornSoFar } from '$lib/record/corner-so-far';
import { describe, expect, it } from 'vitest';
import { check } from '$lib/record/check';
import { recordHeadSchema } from '$lib/record/head';
import { journalEntrySchema, type JournalEntry } from '$lib/record/journal';
import { wornIn } from '$lib/record/worn';
import { padsPlan, readingEntry } from '../store/builders';
import { builderOf, entrantOf, over, putOn, shared, told, undone } from './strap-entries';

describe('a strap that passes from chest to chest', () => {
	it('leaves each packet with whoever wore it then, and gives who never did no record', () => {
		const builder = builderOf(
			shared(),
			readingEntry({ ms: 1000 }),
			over(0, 1, 1500),
			readingEntry({ corner: 1, ms: 2000 })
		);
		expect(told(builder)).toEqual([
			['Odalys', [1000]],
			['Tomas', [2000]]
		]);
	});

	it('gives back all that came since, readings and events, where it is undone', () => {
		const builder = builderOf(
			shared(),
			readingEntry({ ms: 1000 }),
			over(0, 1, 1500),
			readingEntry({ corner: 1, ms: 2000 }),
			{ kind: 'event', corner: 1, event: { kind: 'marker', ms: 2500 } },
			undone(0, 1, 3000),
			readingEntry({ ms: 4000 })
		);
		expect(told(builder)).toEqual([['Odalys', [1000, 2000, 4000]]]);
		const { head } = builder.build(5000)[0]!;
		expect(head.events).toEqual([{ kind: 'marker', ms: 2500 }]);
		expect(head).not.toHaveProperty('strapChanges');
		expect(head.version).toBe(1);
	});

	it('gives back the later of two turns alone, to one who wore it before', () => {
		const builder = builderOf(
			shared(),
			over(0, 1, 1000),
			readingEntry({ corner: 1, ms: 2000 }),
			over(1, 0, 3000),
			readingEntry({ ms: 4000 }),
			undone(1, 0, 5000)
		);
		expect(told(builder)).toEqual([
			['Odalys', []],
			['Tomas', [2000, 4000]]
		]);
	});

	it('leaves a sleep of the computer with each who was there, where it is undone', () => {
		const slept = (corner: number): JournalEntry => ({
			kind: 'event',
			corner,
			event: { kind: 'slept', ms: 2000 }
		});
		const lost: JournalEntry = { kind: 'event', corner: 1, event: { kind: 'signal lost', ms: 1800 } };
		const builder = builderOf(
			shared(),
			over(0, 1, 1500),
			lost,
			slept(0),
			slept(1),
			undone(0, 1, 3000),
			putOn(1, 4000)
		);
		expect(builder.build(5000).map(({ head }) => head.events)).toEqual([
			[
				{ kind: 'signal lost', ms: 1800 },
				{ kind: 'slept', ms: 2000 }
			],
			[{ kind: 'slept', ms: 2000 }]
		]);
	});

	it('takes the number of the place and the list of turns along, and back', () => {
		const turns = [
			[
				{ who: 0, rounds: [{ from: 1, to: 3 }] },
				{ who: 2, rounds: [{ from: 4, to: 6 }] }
			]
		];
		const builder = builderOf(shared({ turns }));
		const places = () => [...builder.corners.values()].map(({ number, turns }) => [number, turns]);
		const before = [
			[1, 0],
			[2, undefined],
			[3, undefined]
		];
		expect(places()).toEqual(before);
		builder.push(over(0, 2, 1000));
		expect(places()).toEqual([
			[3, undefined],
			[2, undefined],
			[1, 0]
		]);
		builder.push(undone(0, 2, 2000));
		expect(places()).toEqual(before);
	});

	it('is written anew in order: who comes, what is heard, whose the strap is, and who goes', () => {
		const ms = 1000;
		const builder = builderOf(
			shared(),
			over(0, 1, ms),
			{ kind: 'leave', corner: 0, ms },
			readingEntry({ ms }),
			{ kind: 'join', corner: 3, ms, entrant: entrantOf('Bao') }
		);
		expect(builder.entries().map(({ kind }) => kind)).toEqual([
			'start',
			'join',
			'reading',
			'hand over',
			'leave'
		]);
	});

	it('says when each had it on, in the session and from the record', () => {
		const builder = builderOf(shared(), over(0, 1, 1000), over(1, 0, 2000), putOn(2, 2500));
		const spans = [
			[
				{ fromMs: -Infinity, toMs: 1000 },
				{ fromMs: 2000, toMs: Infinity }
			],
			[{ fromMs: 1000, toMs: 2000 }],
			[{ fromMs: 2500, toMs: Infinity }]
		];
		expect([...builder.corners.values()].map(wornSoFar)).toEqual(spans);
		expect(builder.build(5000).map(({ head }) => wornIn(head))).toEqual(spans);
		expect([...builder.corners.values()].map(isWearing)).toEqual([true, false, true]);
		expect([...builder.corners.values()].map(({ worn }) => worn)).toEqual(spans);
	});

	it('holds the same list from one hand-over to the next, whatever is heard meanwhile', () => {
		const builder = builderOf(shared());
		const { worn } = builder.corners.get(0)!;
		for (const entry of [over(0, 1, 1000), over(1, 0, 2000)]) {
			const before = builder.corners.get(0)!.worn;
			builder.push({ kind: 'event', corner: 0, event: { kind: 'marker', ms: 500 } });
			expect(builder.corners.get(0)!.worn).toBe(before);
			builder.push(entry);
			expect(builder.corners.get(0)!.worn).not.toBe(before);
		}
		expect(worn).toEqual([{ fromMs: -Infinity, toMs: Infinity }]);
	});
});

describe('the form of a record', () => {
	const versions = (...entries: JournalEntry[]) =>
		builderOf(shared(), ...entries)
			.build(5000)
			.map(({ head }) => head.version);

	it('is 2 for those whose strap changed hands, and 1 where it only was another', () => {
		expect(versions()).toEqual([1]);
		expect(
			versions({ kind: 'strap', corner: 0, change: { ms: 1000, strapName: 'Blue', practice: false } })
		).toEqual([1]);
		expect(versions(over(0, 1, 1000))).toEqual([2, 2]);
		expect(versions(over(0, 1, 1000), undone(0, 1, 2000))).toEqual([1]);
		expect(versions(putOn(1, 1000))).toEqual([1, 2]);
	});

	it('is 2 where the plan itself has time for handing over', () => {
		const plan = { ...padsPlan, handOvers: { afterRounds: [3], lengthS: 120 } };
		expect(builderOf(shared({ plan })).build(5000)[0]!.head.version).toBe(2);
	});

	it('is read back as it was written, with turns and hand-overs', () => {
		const turns = [
			[
				{ who: 0, rounds: [{ from: 1, to: 3 }] },
				{ who: 1, rounds: [{ from: 4, to: 6 }] }
			]
		];
		const plan = { ...padsPlan, handOvers: { afterRounds: [3], lengthS: 120 } };
		const heads = builderOf(shared({ turns, plan }), over(0, 1, 1000))
			.build(5000)
			.map(({ head }) => head);
		expect(heads.map(({ turn }) => turn)).toEqual([[{ from: 1, to: 3 }], [{ from: 4, to: 6 }]]);
		expect(heads.map(({ strapName }) => strapName)).toEqual(['Red', 'Red']);
		expect(heads.map(({ strapChanges }) => strapChanges)).toEqual([
			[{ ms: 1000, strapName: 'Red', practice: false, handOver: 'given away' }],
			[{ ms: 1000, strapName: 'Red', practice: false, handOver: 'put on' }]
		]);
		for (const head of heads)
			expect(check(recordHeadSchema, JSON.parse(JSON.stringify(head)))).toEqual({ value: head });
		const [head] = heads;
		const wrong = { ...head, strapChanges: [{ ...head!.strapChanges![0]!, handOver: 'thrown' }] };
		expect(check(recordHeadSchema, wrong).problem).toMatch(/handOver/);
		expect(check(recordHeadSchema, { ...head, turn: [{ from: 0, to: 3 }] }).problem).toMatch(/turn/);
	});

	it('is the same for the entries of a journal', () => {
		for (const entry of [shared(), over(0, 1, 1000), undone(0, 1, 2000), putOn(2, 3000)])
			expect(check(journalEntrySchema, JSON.parse(JSON.stringify(entry)))).toEqual({ value: entry });
	});
});
