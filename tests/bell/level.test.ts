import { levelled } from '$lib/bell/level';
import { describe, expect, it } from 'vitest';

const sampleRate = 48_000;
const minus2dB = 0.7943282347; // 10^(-2/20)
const hum = (seconds: number, level: number) =>
	Float32Array.from(
		{ length: seconds * sampleRate },
		(_, i) => level * Math.cos((2 * Math.PI * 500 * i) / sampleRate)
	);
const joined = (...parts: Float32Array[]) => Float32Array.from(parts.flatMap((part) => [...part]));
const silence = (seconds: number) => new Float32Array(seconds * sampleRate);

describe('levelled', () => {
	it.each([0.001, 0.3, 4])('brings a peak of %f to -2 dBFS', (level) => {
		const samples = levelled(hum(0.1, level), sampleRate);
		expect(samples.reduce((peak, sample) => Math.max(peak, Math.abs(sample)), 0)).toBeCloseTo(minus2dB, 6);
	});

	it('begins with the first sample that is heard and ends with the last', () => {
		const samples = levelled(joined(silence(0.02), hum(0.1, 0.5), silence(0.3)), sampleRate);
		expect(samples).toHaveLength(0.1 * sampleRate);
		expect(samples[0]).toBeCloseTo(minus2dB, 6);
	});

	it('cuts off what lies under -80 dB of full scale once levelled, and keeps what lies over', () => {
		const before = joined(new Float32Array([0.9e-4, 1.1e-4]), hum(0.1, minus2dB));
		expect(levelled(before, sampleRate)[0]).toBeCloseTo(1.1e-4, 8);
	});

	it('fades the end, so that it does not click', () => {
		const samples = levelled(hum(0.1, 0.5), sampleRate);
		expect(Math.abs(samples.at(-1)!)).toBeLessThan(0.01);
		expect(Math.abs(samples.at(-481)!)).toBeGreaterThan(0.7);
	});

	it('makes nothing of silence', () => {
		expect(levelled(silence(0.1), sampleRate)).toHaveLength(0);
	});
});
