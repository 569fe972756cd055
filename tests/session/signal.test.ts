import { describe, expect, it } from 'vitest';
import { signalOf } from '$lib/session/signal';

const corner = (overrides: Partial<{ bpm: number; latestMs: number; hasContact: boolean }> = {}) => ({
	bpmAt: () => overrides.bpm,
	latestMs: overrides.latestMs,
	hasContact: overrides.hasContact ?? true
});
const connected = { state: { kind: 'connected' } as const };

describe('the signal in words', () => {
	it('is the rate while beats come in', () => {
		expect(signalOf(connected, corner({ bpm: 151, latestMs: 900 }), 1000, 1000)).toEqual({ bpm: 151 });
	});

	it('says how long the signal has been lost, on the clock of the strap', () => {
		const lost = { state: { kind: 'lost', sinceMs: 61_000 } as const };
		expect(signalOf(lost, corner({ bpm: 151, latestMs: 900 }), 65_200, 5000)).toMatchObject({
			words: 'signal lost 4 s ago',
			advice: expect.stringMatching(/out of range, flat, or taken by another program/)
		});
	});

	it('asks to switch Bluetooth on where that is what is off', () => {
		const lost = { state: { kind: 'lost', sinceMs: 61_000, isAdapterOff: true } as const };
		expect(signalOf(lost, corner({ bpm: 151, latestMs: 900 }), 65_200, 5000)).toEqual({
			words: 'signal lost 4 s ago',
			advice: expect.stringMatching(/^Bluetooth is off or unplugged on this device. Switch it on/)
		});
	});

	it('never shows an old beat: connected and silent is silence', () => {
		expect(signalOf(connected, corner({ latestMs: 1000 }), 9000, 8000)).toMatchObject({
			words: 'no beats for 7 s'
		});
	});

	it('counts a long silence in minutes', () => {
		const after = (s: number) => signalOf(connected, corner({ latestMs: 1000 }), 0, 1000 + s * 1000);
		expect(after(119)).toMatchObject({ words: 'no beats for 119 s' });
		expect(after(604)).toMatchObject({ words: 'no beats for 10 min' });
	});

	it('asks for water where there is no skin contact', () => {
		expect(signalOf(connected, corner({ latestMs: 7900, hasContact: false }), 8000, 8000)).toMatchObject({
			words: 'no skin contact'
		});
	});

	it('names a rate that no heart has', () => {
		expect(signalOf(connected, corner({ latestMs: 7900 }), 8000, 8000)).toMatchObject({
			words: 'no usable beat'
		});
	});

	it('waits for the first beat, looks, and misses a strap that is not there', () => {
		expect(signalOf(connected, corner(), 0, 0)).toMatchObject({ words: 'no beat yet' });
		expect(signalOf({ state: { kind: 'looking' } }, corner(), 0, 0)).toMatchObject({ words: 'looking' });
		expect(signalOf(undefined, corner(), 0, 0)).toMatchObject({ words: 'no strap' });
	});
});
