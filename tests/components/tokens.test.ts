import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const css = readFileSync('src/lib/components/tokens.css', 'utf8');
const pairs = [...css.matchAll(/--([\w-]+): light-dark\((#\w{6}), (#\w{6})\);/g)];
const looks = {
	light: Object.fromEntries(pairs.map(([, name, light]) => [name, light!])),
	dark: Object.fromEntries(pairs.map(([, name, , dark]) => [name, dark!]))
};

/** WCAG 2.2, "relative luminance". */
function luminance(hex: string): number {
	const [r, g, b] = [1, 3, 5].map((at) => {
		const c = parseInt(hex.slice(at, at + 2), 16) / 255;
		return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
	}) as [number, number, number];
	return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** WCAG 2.2, "contrast ratio". */
function contrast(one: string, other: string): number {
	const [dark, bright] = [luminance(one), luminance(other)].sort((a, b) => a - b) as [number, number];
	return (bright + 0.05) / (dark + 0.05);
}

it('the formula gives the ratios that the standard states: 21 for black on white, 1 for the same', () => {
	expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10);
	expect(contrast('#f0894a', '#f0894a')).toBe(1);
});

describe.each(['dark', 'light'] as const)('in the %s look', (look) => {
	const colours = looks[look] as Record<string, string>;
	const of = (name: string, ground: string) => contrast(colours[name]!, colours[ground]!);

	it('figures, text, work and rest stand at least 7:1 on the canvas', () => {
		for (const name of ['chalk', 'chalk-dim', 'work', 'rest', 'alert'])
			expect(of(name, 'canvas'), name).toBeGreaterThanOrEqual(7);
	});

	it('text stands at least 4.5:1 on whatever else it lies on', () => {
		for (const name of ['chalk', 'chalk-dim', 'work', 'rest', 'alert'])
			expect(of(name, 'canvas-raised'), name).toBeGreaterThanOrEqual(4.5);
		expect(of('chalk', 'strip')).toBeGreaterThanOrEqual(4.5);
		expect(of('chalk', 'line'), 'the number of a round over its band').toBeGreaterThanOrEqual(4.5);
		expect(of('chalk', 'rest-deep')).toBeGreaterThanOrEqual(4.5);
	});

	it('what can be pressed has a border of at least 3:1 (WCAG 2.2, 1.4.11), and so has the focus', () => {
		for (const ground of ['canvas', 'canvas-raised'])
			for (const name of ['edge', 'focus']) expect(of(name, ground), name).toBeGreaterThanOrEqual(3);
	});

	it('the trace of a rest can be followed on its strip', () => {
		expect(of('rest', 'strip')).toBeGreaterThanOrEqual(3);
	});
});
