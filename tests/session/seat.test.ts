import { describe, expect, it } from 'vitest';
import { Seat } from '$lib/session/seat';
import { makeStrap } from './builders';

function wear(bpmAt: (s: number) => number | undefined, seconds: number) {
	const red = makeStrap();
	const seat = new Seat(red.strap, () => {});
	for (let s = 0; s < seconds; s++) {
		const bpm = bpmAt(s);
		if (bpm !== undefined) red.send(s * 1000, bpm);
	}
	return { seat, red, nowMs: (seconds - 1) * 1000 };
}

describe('the strap check before the bell', () => {
	it('is ready after ten seconds of steady beats, and not before', () => {
		const early = wear(() => 72, 7);
		expect(early.seat.check(early.nowMs)).toBe('not steady');
		const ten = wear(() => 72, 10);
		expect(ten.seat.check(ten.nowMs)).toBe('ready');
	});

	it('is not ready while the rate leaps as a dry strap makes it leap', () => {
		const dry = wear((s) => (s % 2 ? 72 : 141), 12);
		expect(dry.seat.check(dry.nowMs)).toBe('not steady');
	});

	it('says when nothing comes, and when there is no contact', () => {
		const silent = wear((s) => (s < 10 ? 72 : undefined), 15);
		expect(silent.seat.check(silent.nowMs)).toBe('no packets');
		const loose = wear(() => 72, 12);
		loose.red.send(12_000, 72, { contact: 'no contact' });
		expect(loose.seat.check(12_000)).toBe('no contact');
	});

	it('takes no beat from before a loss for one of now, be the strap still away or just back', () => {
		const { seat, red, nowMs } = wear(() => 72, 12);
		red.become({ kind: 'lost', sinceMs: nowMs + 300 });
		expect(seat.check(nowMs + 500)).toBe('no packets');
		red.become({ kind: 'connected' });
		expect(seat.check(nowMs + 900)).toBe('no packets');
		red.send(nowMs + 1000, 73);
		expect(seat.check(nowMs + 1000)).toBe('not steady');
		expect(seat.readings).toHaveLength(13);
	});

	it('keeps the last ninety seconds, however long the wait for Start', () => {
		const { seat } = wear(() => 72, 1000);
		expect(seat.readings[0]!.ms).toBe(999_000 - 90_000);
		expect(seat.readings).toHaveLength(91);
	});
});
