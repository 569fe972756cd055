import { repeated } from '$lib/bell/repeated';
import { describe, expect, it } from 'vitest';

const sampleRate = 1000;
const stroke = Float32Array.of(1, 0.5, 0.25);

describe('repeated', () => {
	it('leaves a single stroke as it is', () => {
		expect([...repeated(stroke, [], sampleRate)]).toEqual([1, 0.5, 0.25]);
	});

	it('strikes again on the moment, after silence or into what still sounds', () => {
		expect([...repeated(stroke, [0.005], sampleRate)]).toEqual([1, 0.5, 0.25, 0, 0, 1, 0.5, 0.25]);
		expect([...repeated(stroke, [0.001, 0.002], sampleRate)]).toEqual([1, 1.5, 1.75, 0.75, 0.25]);
	});

	it('strikes on the nearest sample', () => {
		expect(repeated(stroke, [0.0124], sampleRate)[12]).toBe(1);
		expect(repeated(stroke, [0.0126], sampleRate)[13]).toBe(1);
	});
});
