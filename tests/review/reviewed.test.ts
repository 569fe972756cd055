import { describe, expect, it } from 'vitest';
import type { SessionRecord } from '$lib/record/body';
import { reviewed, reviewedOrWhyNot, summaryAsPutRight, withNumbers } from '$lib/review/reviewed';
import { summaryOf } from '$lib/review/summary';
import { twoRounds } from './two-rounds';

const record = twoRounds();

describe('a record as it is reviewed', () => {
	it('has its summary and its pictures by what was put right', () => {
		const { record: shown, summary, pictures } = reviewed(record, { activity: 'bag' });
		expect(shown.head.plan.activity).toBe('bag');
		expect(summary).toEqual(summaryOf(shown));
		expect(pictures.rests.map(({ drop60 }) => drop60)).toEqual([40, 30]);
	});

	it('takes the kept summary where no correction changes a measure, and measures anew where one does', () => {
		const kept = { ...summaryOf(record), peakBpm: 1 };
		expect(summaryAsPutRight(record, {}, kept)).toBe(kept);
		expect(summaryAsPutRight(record, { note: 'x', told: {} }, kept)).toBe(kept);
		expect(summaryAsPutRight(record, { activity: 'bag' }, kept).peakBpm).toBe(180);
		expect(summaryAsPutRight(record, {}).peakBpm).toBe(180);
	});
});

describe('a record that defies measuring', () => {
	it('says why, and one that can be measured is answered', () => {
		expect(reviewedOrWhyNot(record, {}).value).toEqual(reviewed(record, {}));
		expect(reviewedOrWhyNot(twoRounds({ endedMs: 9 * 86_400_000 }), {}).reason).toMatch(
			/^It lasts more than 8 days, which no session does/
		);
		const damaged = { head: record.head, body: null } as unknown as SessionRecord;
		expect(reviewedOrWhyNot(damaged, {})).toEqual({ reason: 'A measure failed on its readings.' });
	});
});

describe('a session that is given to another athlete', () => {
	const bo = { id: 'ath-2', name: 'Bo', weightKg: 71, thresholdBpm: 166 };
	const told = (id: string) =>
		withNumbers({ athlete: { id, name: 'Bo' }, note: 'x' }, record, [
			bo,
			{ id: 'ath-1', name: 'Nerea', weightKg: 60 }
		]);

	it('comes with the numbers of their card, and with none where there is no card', () => {
		expect(told('ath-2')).toEqual({
			athlete: { id: 'ath-2', name: 'Bo' },
			note: 'x',
			told: { weightKg: 71, thresholdBpm: 166 }
		});
		expect(told('ath-9').told).toEqual({});
	});

	it('loses them where it is given back, and is left alone where nobody gave it away', () => {
		expect(told('ath-1').told).toEqual({});
		expect(withNumbers({ note: 'x', told: { weightKg: 60 } }, record, [bo])).toEqual({
			note: 'x',
			told: { weightKg: 60 }
		});
	});
});
