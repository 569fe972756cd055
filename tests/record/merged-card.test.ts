import { describe, expect, it } from 'vitest';
import { heldForOlderPages, type Blow } from '$lib/record/blow';
import { mergedCard } from '$lib/record/merged-card';
import type { Lock } from '$lib/record/lock';
import { restrictionOf } from '$lib/record/way-back';

describe('two cards made one', () => {
	it('keep what the first says and take from the second what it does not', () => {
		expect(
			mergedCard(
				{ id: 'a', name: 'Nerea', birthYear: 1999, restBpm: 50, restDate: '2026-01-01' },
				{ id: 'b', name: 'N.', birthYear: 1990, heightCm: 170, restBpm: 55, restPosture: 'sitting' }
			)
		).toEqual({
			id: 'a',
			name: 'Nerea',
			birthYear: 1999,
			heightCm: 170,
			restBpm: 50,
			restDate: '2026-01-01'
		});
	});

	it('keep every threshold with its day, oldest first, and every weight once', () => {
		const card = mergedCard(
			{
				id: 'a',
				name: 'Nerea',
				thresholdBpm: 172,
				thresholdDate: '2026-03-01',
				olderThresholds: [{ bpm: 168, date: '2025-06-01' }],
				weights: [{ date: '2026-02-01', kg: 62 }]
			},
			{
				id: 'b',
				name: 'N.',
				thresholdBpm: 170,
				thresholdDate: '2025-12-01',
				thresholdSource: 'run',
				weights: [
					{ date: '2026-01-01', kg: 63 },
					{ date: '2026-02-01', kg: 99 }
				]
			}
		);
		expect(card).toMatchObject({ thresholdBpm: 172, thresholdDate: '2026-03-01' });
		expect(card.thresholdSource).toBeUndefined();
		expect(card.olderThresholds).toEqual([
			{ bpm: 168, date: '2025-06-01' },
			{ bpm: 170, date: '2025-12-01', source: 'run' }
		]);
		expect(card.weights).toEqual([
			{ date: '2026-01-01', kg: 63 },
			{ date: '2026-02-01', kg: 62 }
		]);
	});

	it('take over a resting rate with its day and posture where the first has none', () => {
		const resting = { restBpm: 55, restDate: '2026-01-01', restPosture: 'sitting' as const };
		expect(mergedCard({ id: 'a', name: 'Nerea' }, { id: 'b', name: 'N.', ...resting })).toEqual({
			id: 'a',
			name: 'Nerea',
			...resting
		});
	});

	it('have no threshold that held before where only one has one, or both the same of one day', () => {
		const run = { thresholdBpm: 170, thresholdDate: '2026-01-01', thresholdBasis: '20-minute mean' as const };
		const [without, having] = [
			{ id: 'a', name: 'Nerea' },
			{ id: 'b', name: 'N.', ...run }
		];
		for (const [kept, other] of [
			[without, having],
			[having, without],
			[having, having]
		] as const) {
			expect(mergedCard(kept, other)).toMatchObject(run);
			expect(mergedCard(kept, other)).not.toHaveProperty('olderThresholds');
		}
	});

	it('have older thresholds by their days, one without a day first, and two of one day that differ', () => {
		const [kept, other] = [
			{
				id: 'a',
				name: 'Nerea',
				thresholdBpm: 172,
				olderThresholds: [{ bpm: 168, date: '2026-02-01' }, { bpm: 150 }]
			},
			{ id: 'b', name: 'N.', thresholdBpm: 170, olderThresholds: [{ bpm: 160, date: '2026-01-01' }] }
		];
		expect(
			mergedCard(kept, other)
				.olderThresholds?.map(({ bpm }) => bpm)
				.slice(-2)
		).toEqual([160, 168]);
		const [one, two] = [kept, other].map((card) => ({
			...card,
			thresholdDate: '2026-03-01',
			olderThresholds: []
		}));
		expect(mergedCard(one!, two!).olderThresholds).toEqual([{ bpm: 170, date: '2026-03-01' }]);
	});

	it('keep how a threshold was found that now held before, and say nothing of it where nobody knows', () => {
		const now = { id: 'a', name: 'Nerea', thresholdBpm: 175, thresholdDate: '2026-03-01' };
		const old = { id: 'b', name: 'N.', thresholdBpm: 170, thresholdDate: '2026-01-01' };
		expect(mergedCard(now, { ...old, thresholdBasis: '20-minute mean' }).olderThresholds).toEqual([
			{ bpm: 170, date: '2026-01-01', basis: '20-minute mean' }
		]);
		expect(mergedCard(now, old).olderThresholds).toEqual([{ bpm: 170, date: '2026-01-01' }]);
	});

	it('have their blows and bouts by day, and no stop where neither has one', () => {
		const blow = (day: string): Blow => ({ day, step: '1', since: '2026-03-20T12:00:00.000Z' });
		const bout = (id: string, day: string) => ({ id, day });
		const card = mergedCard(
			{ id: 'a', name: 'Nerea', blows: [blow('2026-03-02')], bouts: [bout('one', '2026-06-01')] },
			{
				...{ id: 'b', name: 'N.', blows: [blow('2026-03-01'), blow('2026-03-03')] },
				bouts: [bout('two', '2026-05-01'), bout('three', '2026-07-01')]
			}
		);
		expect(card.blows?.map(({ day }) => day)).toEqual(['2026-03-01', '2026-03-02', '2026-03-03']);
		expect(card.bouts?.map(({ id }) => id)).toEqual(['two', 'one', 'three']);
		expect(mergedCard({ id: 'a', name: 'Nerea' }, { id: 'b', name: 'N.' })).toEqual({
			id: 'a',
			name: 'Nerea'
		});
	});

	it('stand by every caution on either', () => {
		const card = mergedCard(
			{ id: 'a', name: 'Nerea', noSparringUntil: '2026-03-10', notes: 'left shoulder' },
			{
				id: 'b',
				name: 'N.',
				noSparringUntil: '2026-04-01',
				slowingMedicine: true,
				pregnant: true,
				notes: 'asthma'
			}
		);
		expect(card).toMatchObject({
			noSparringUntil: '2026-04-01',
			slowingMedicine: true,
			pregnant: true,
			notes: 'left shoulder\n\nasthma'
		});
	});

	it('keep every blow to the head, of one day the stricter word, and stay locked', () => {
		const blow: Blow = { day: '2026-03-01', step: '6', since: '2026-03-20T12:00:00.000Z' };
		const cleared = { ...blow, clearance: { by: 'Dr Aalto', day: '2026-03-10' } };
		const other: Blow = { ...cleared, day: '2025-11-01' };
		const card = mergedCard(
			{ id: 'a', name: 'Nerea', blows: [cleared] },
			{ id: 'b', name: 'N.', blows: [other, { ...blow, step: '2B' }] }
		);
		expect(card.blows).toEqual([other, { ...blow, step: '2B' }]);
		expect(restrictionOf(card, '2030-01-01')).toMatchObject({ step: '2B' });
		expect(card.noSparringUntil).toBe(heldForOlderPages);
	});

	it('keep every bare lock, and a blow no further open than the lock of its day', () => {
		const blow: Blow = { day: '2026-03-01', step: '6', since: '2026-03-20T12:00:00.000Z' };
		const cleared = { ...blow, clearance: { by: 'Dr Aalto', day: '2026-03-10' } };
		const lock: Lock = { day: '2026-03-01', step: '2B' };
		const other: Lock = { day: '2025-11-01', step: '5', isCleared: true };
		const merged = mergedCard(
			{ id: 'a', name: 'Nerea', blows: [cleared] },
			{ id: 'b', name: 'N.', locks: [other, lock] }
		);
		expect(merged).toMatchObject({ blows: [{ ...blow, step: '2B' }], locks: [other] });
		expect(merged.blows![0]).not.toHaveProperty('clearance');
		const locks = mergedCard(
			{ id: 'a', name: 'Nerea', locks: [other] },
			{ id: 'b', name: 'N.', locks: [{ ...other, step: '4', standDownUntil: '2026-04-01' }] }
		);
		expect(locks.locks).toEqual([{ ...other, step: '4', standDownUntil: '2026-04-01' }]);
		expect(locks.noSparringUntil).toBe(heldForOlderPages);
	});
});
