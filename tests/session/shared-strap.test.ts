import { describe, expect, it } from 'vitest';
import { heardIn } from '$lib/review/heard';
import { summaryOf } from '$lib/review/summary';
import { adem, nameOf, odalys, readByName, shareStrap, tomas } from './shared-strap';

/** The hearts, by hand: the rate in work, and what it has fallen by so many seconds after the bell. */
const work = { Odalys: 172, Tomas: 180, Adem: 165 };
const fallen = {
	Odalys: (s: number) => s,
	Tomas: (s: number) => Math.floor(s / 2),
	Adem: (s: number) => 2 * Math.floor(s / 5)
};
type Name = keyof typeof work;
const bells = [70, 190, 430, 670];
const rounds = [10, 130, 370, 610];
/** In work, or in the first 80 s after a bell; between them 90. */
function bpmOf(name: Name, s: number): number {
	if (rounds.some((from, i) => s >= from && s < bells[i]!)) return work[name];
	const bell = bells.findLast((bellS) => bellS <= s);
	return bell === undefined || s - bell >= 80 ? 90 : work[name] - fallen[name](s - bell);
}
/** The mean of seconds 55 to 59 after the bell, under the five before it, which all have the rate of work. */
const dropOf = (name: Name) => [55, 56, 57, 58, 59].reduce((sum, s) => sum + fallen[name](s), 0) / 5;

/** On whose chest the strap really is. */
const wearerAt = (s: number): Name => (s < 270 ? 'Odalys' : s < 495 ? 'Tomas' : 'Adem');
const bpmAt = (s: number) => bpmOf(wearerAt(s), s);

/** Handed to Adem by mistake at 255 s and back at 265, to Tomas at 270, to Adem at 495. */
async function play() {
	const shared = shareStrap();
	const { recorder, boxUntil } = shared;
	boxUntil(255, bpmAt);
	expect(recorder.straps.handOver(odalys, adem)).toBe(true);
	boxUntil(265, bpmAt);
	expect(recorder.straps.undo()).toBe(true);
	boxUntil(270, bpmAt);
	expect(recorder.straps.handOver(odalys, tomas)).toBe(true);
	boxUntil(495, bpmAt);
	expect(recorder.straps.handOver(tomas, adem)).toBe(true);
	boxUntil(730, bpmAt);
	const shown = nameOf.map((_, i) => recorder.corners[i]!.rounds);
	return { ...shared, shown, records: (await recorder.end(730_000)).records };
}

describe('one strap on three chests, with one hand-over too many that is undone', () => {
	it('leaves in each record the packets that were sent in that turn, and no other', async () => {
		const { records, sink } = await play();
		const sent = (fromS: number, toS: number) =>
			Array.from({ length: toS - fromS }, (_, i) => [(fromS + i) * 1000 + 300, bpmAt(fromS + i)]);
		expect(readByName(records)).toEqual({
			Odalys: sent(0, 270),
			Tomas: sent(270, 495),
			Adem: sent(495, 730)
		});
		expect(records.map(({ head }) => head.turn)).toEqual([
			[{ from: 1, to: 2 }],
			[{ from: 3, to: 3 }],
			[{ from: 4, to: 4 }]
		]);
		expect(records.map(({ head }) => head.strapChanges!.map(({ ms, handOver }) => [ms, handOver]))).toEqual([
			[[270_000, 'given away']],
			[
				[270_000, 'put on'],
				[495_000, 'given away']
			],
			[[495_000, 'put on']]
		]);
		expect(sink.kept).toBe(records);
		expect(sink.entered).toEqual([]);
	});

	it('gives each the drops of their own rests, to the beat, live as kept', async () => {
		const { records, shown } = await play();
		expect([dropOf('Odalys'), dropOf('Tomas'), dropOf('Adem')]).toEqual([57, 28.2, 22]);
		const kept = records.map((record) =>
			summaryOf(record).rounds.map(({ round, rest }) => [round, rest?.drop60])
		);
		expect(kept).toEqual([
			[
				[1, 57],
				[2, 57]
			],
			[[3, expect.closeTo(28.2, 9)]],
			[[4, 22]]
		]);
		expect(shown.map((of) => of.map(({ round, rest }) => [round, rest?.measure.drop60]))).toEqual(kept);
	});

	it('measures nothing of a new chest before ten steady seconds', async () => {
		const { records } = await play();
		expect(records.map((record) => heardIn(record).readings[0]!.ms)).toEqual([300, 280_300, 505_300]);
	});

	it('counts live what the record says, where it goes in mid-round for good or is given back', async () => {
		const { recorder, boxUntil } = shareStrap();
		const over = () => 180;
		boxUntil(30, over);
		recorder.straps.handOver(odalys, adem);
		boxUntil(45, over);
		recorder.straps.undo();
		boxUntil(150, over);
		recorder.straps.handOver(odalys, tomas);
		boxUntil(200, over);
		const shown = [odalys, tomas].map((i) =>
			recorder.corners[i]!.rounds.map(({ over }) => over!.overS + over!.burstOverS)
		);
		const { records } = await recorder.end(200_000);
		const kept = records.map((record) =>
			summaryOf(record).rounds.map(({ over }) => over!.overS + over!.burstOverS)
		);
		// Round 1 whole; 20 s of round 2 until 150 s; then ten seconds, 160.3 to 190 s, of the new chest.
		expect(kept).toEqual([[60, 20], [30]]);
		expect(shown).toEqual(kept);
	});

	it('reads no rest from two hearts: neither has a drop where the strap goes within the minute', async () => {
		const { recorder, boxUntil } = shareStrap();
		boxUntil(225, bpmAt);
		recorder.straps.handOver(odalys, tomas);
		boxUntil(340, (s) => bpmOf('Tomas', s));
		const [, tomasLive] = [recorder.corners[odalys]!, recorder.corners[tomas]!];
		expect(recorder.corners[odalys]!.rounds.map(({ rest }) => rest?.measure.drop60)).toEqual([57, undefined]);
		expect(tomasLive.restView?.measure.drop60).toBeUndefined();
		const { records } = await recorder.end(340_000);
		expect(
			records.map((record) => summaryOf(record).rounds.map(({ round, rest }) => [round, rest?.drop60]))
		).toEqual([
			[
				[1, 57],
				[2, undefined]
			],
			[]
		]);
	});

	it('enters the day of whoever the strap never came to', async () => {
		const { recorder, boxUntil, sink } = shareStrap();
		boxUntil(300, bpmAt);
		recorder.straps.handOver(odalys, tomas);
		boxUntil(400, bpmAt);
		await recorder.end(400_000);
		expect(sink.kept!.map(({ head }) => head.athlete.name)).toEqual(['Odalys', 'Tomas']);
		expect(sink.entered).toEqual([
			{
				athleteId: 'athlete-Adem',
				startedAt: '2026-03-02T18:00:00.000Z',
				entry: {
					id: 'record-Adem',
					activity: 'pads, bag',
					minutes: 7,
					madeAt: '2026-03-02T18:00:00.000Z',
					groupId: 'session-1'
				}
			}
		]);
	});
});

describe('a session that is gone on with in mid-turn', () => {
	const written = () => new Promise((resolve) => setImmediate(resolve));

	it('has the same wearers, places, strap that is due, and records as the one that was not interrupted', async () => {
		const { recorder, boxUntil, sink, due, view } = shareStrap();
		boxUntil(255, bpmAt);
		recorder.straps.handOver(odalys, adem);
		boxUntil(265, bpmAt);
		recorder.straps.undo();
		boxUntil(270, bpmAt);
		recorder.straps.handOver(odalys, tomas);
		boxUntil(450, bpmAt);
		await written();
		const again = shareStrap(structuredClone(sink.entries), undefined, 450);
		again.recorder.advance();
		expect(again.recorder.straps.wearing).toEqual([tomas]);
		expect(again.due()).toEqual([['Tomas', 'Adem', 40_000]]);
		expect(again.due()).toEqual(due());
		expect(again.recorder.recordsSoFar()).toEqual(recorder.recordsSoFar());
		expect(again.view().corners.map(({ number, name, rounds }) => [number, name, rounds])).toEqual(
			view().corners.map(({ number, name, rounds }) => [number, name, rounds])
		);
		again.recorder.straps.attach(tomas, again.red.strap);
		for (const one of [again, { recorder, boxUntil }]) {
			one.boxUntil(495, bpmAt);
			one.recorder.straps.handOver(tomas, adem);
			one.boxUntil(730, bpmAt);
		}
		expect(again.recorder.recordsSoFar()).toEqual(recorder.recordsSoFar());
		expect(again.recorder.corners[adem]!.rounds).toEqual(recorder.corners[adem]!.rounds);
	});

	it('has nothing to undo: the press before is an hour away for all it knows', async () => {
		const { recorder, boxUntil, sink } = shareStrap();
		boxUntil(255, bpmAt);
		recorder.straps.handOver(odalys, tomas);
		boxUntil(260, bpmAt);
		await written();
		const again = shareStrap(structuredClone(sink.entries), undefined, 260);
		expect(again.recorder.straps.undo()).toBe(false);
	});
});

describe('a strap that goes on in the very millisecond of a bell', () => {
	it.each([
		['the first bell', 10, []],
		['the bell of a rest', 70, [[1, undefined]]],
		['the bell of the next round', 130, [[1, 57]]],
		[
			'the bell of the second round, which ends it',
			190,
			[
				[1, 57],
				[2, undefined]
			]
		]
	])('has left its first wearer at %s nothing of what begins there', async (_, atS, expected) => {
		const { recorder, boxUntil } = shareStrap();
		boxUntil(atS, bpmAt);
		expect(recorder.straps.handOver(odalys, tomas)).toBe(true);
		boxUntil(370, bpmAt);
		recorder.amend('finish');
		recorder.amend('finish');
		const shown = recorder.corners[odalys]!.rounds.map(({ round, rest }) => [round, rest?.measure.drop60]);
		const [record] = (await recorder.end(370_000)).records;
		const kept = summaryOf(record!).rounds.map(({ round, rest }) => [round, rest?.drop60]);
		expect(kept).toEqual(expected);
		expect(shown).toEqual(kept);
	});
});
