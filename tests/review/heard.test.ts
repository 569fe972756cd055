import { describe, expect, it } from 'vitest';
import { packReadings, type Reading } from '$lib/record/columns';
import type { StrapChange } from '$lib/record/head';
import { heardIn, Newest, withoutContact } from '$lib/review/heard';
import { makeHead, makeReading } from '../store/builders';

/** A reading a second from one second to another, both included. */
const each = (fromS: number, toS: number, contact: Reading['contact'], bpm = 92): Reading[] =>
	Array.from({ length: toS - fromS + 1 }, (_, i) =>
		makeReading({ ms: (fromS + i) * 1000, bpm, contact, rrMs: [] })
	);
const change = (ms: number, others: Partial<StrapChange> = {}): StrapChange => ({
	...{ ms, strapName: 'Strap 2', practice: false },
	...others
});
const heard = (readings: Reading[], strapChanges?: StrapChange[]) =>
	heardIn({ head: makeHead({ strapChanges }), body: packReadings(readings) });

describe('the word of a strap on contact', () => {
	it('is left aside where it never reports contact over sixty good readings, and stands before', () => {
		const never = heard(each(1, 60, 'no contact'));
		expect(never.ignoresContact).toBe(true);
		expect(never.readings).toEqual(each(1, 60, 'not supported'));
		const early = heard(each(1, 59, 'no contact'));
		expect(early.ignoresContact).toBe(false);
		expect(early.readings).toEqual(each(1, 59, 'no contact'));
	});

	it('stands where it reports contact once, or where too few of its rates can be a heart’s', () => {
		const once = [...each(1, 59, 'no contact'), ...each(60, 60, 'contact'), ...each(61, 90, 'no contact')];
		expect(heard(once)).toEqual({ readings: once, ignoresContact: false });
		const poor = [...each(1, 7, 'no contact', 0), ...each(8, 60, 'no contact')];
		expect(heard(poor)).toEqual({ readings: poor, ignoresContact: false });
		const good = [...each(1, 6, 'no contact', 0), ...each(7, 60, 'no contact')];
		expect(heard(good).ignoresContact).toBe(true);
	});

	it('is judged for each strap by itself, the moment of a change with the strap before it', () => {
		const second = [...each(61, 62, 'contact'), ...each(63, 64, 'no contact')];
		const found = heard([...each(1, 60, 'no contact'), ...second], [change(60_000)]);
		expect(found).toEqual({ readings: [...each(1, 60, 'not supported'), ...second], ignoresContact: true });
		// A millisecond sooner the sixtieth reading is of the second strap.
		const sooner = [...each(1, 60, 'no contact'), ...second];
		expect(heard(sooner, [change(59_999)])).toEqual({ readings: sooner, ignoresContact: false });
	});

	it('is no more than that: everything else of a reading stays', () => {
		const reading = makeReading({ contact: 'no contact', energyKJ: 3 });
		expect(withoutContact(reading)).toEqual({ ...reading, contact: 'not supported' });
		for (const contact of ['contact', 'not supported'] as const) {
			const other = makeReading({ contact });
			expect(withoutContact(other)).toBe(other);
		}
	});
});

describe('a strap that was put on in mid-session', () => {
	const all = each(0, 60, 'contact');
	const countedFrom = (strapChanges: StrapChange[]) =>
		heard(all, strapChanges).readings.map(({ ms }) => ms / 1000);
	const seconds = (fromS: number, toS: number) => each(fromS, toS, 'contact').map(({ ms }) => ms / 1000);

	it('counts only once it has been steady for ten seconds', () => {
		// Its first reading comes at 31 s.
		expect(countedFrom([change(30_000, { handOver: 'put on' })])).toEqual([
			...seconds(0, 30),
			...seconds(41, 60)
		]);
	});

	it('counts at once where it is the same chest’s, and settles anew each time', () => {
		expect(countedFrom([change(30_000)])).toEqual(seconds(0, 60));
		expect(countedFrom([change(30_000, { handOver: 'given away' })])).toEqual(seconds(0, 60));
		expect(countedFrom([change(10_000, { handOver: 'put on' }), change(40_000)])).toEqual([
			...seconds(0, 10),
			...seconds(21, 60)
		]);
		expect(
			countedFrom([change(10_000, { handOver: 'put on' }), change(40_000, { handOver: 'put on' })])
		).toEqual([...seconds(0, 10), ...seconds(21, 40), ...seconds(51, 60)]);
	});
});

describe('the newest reading before a moment', () => {
	const [first, second, same] = [0, 1000, 1000].map((ms, i) => makeReading({ ms, bpm: 90 + i }));

	it('is the last one of an earlier moment', () => {
		const newest = new Newest();
		expect(newest.before(0)).toBeUndefined();
		newest.push(first!);
		expect(newest.before(0)).toBeUndefined();
		expect(newest.before(1)).toBe(first);
		newest.push(second!);
		expect(newest.before(1000)).toBe(first);
		expect(newest.before(1001)).toBe(second);
		// Of two at one moment the later to arrive.
		newest.push(same!);
		expect(newest.before(1000)).toBe(first);
		expect(newest.before(1001)).toBe(same);
	});

	it('stays what it was in a copy', () => {
		const newest = new Newest();
		newest.push(first!);
		newest.push(second!);
		const copy = newest.copy();
		newest.push(makeReading({ ms: 2000 }));
		expect(copy.before(1000)).toBe(first);
		expect(copy.before(5000)).toBe(second);
	});
});
