import { describe, expect, it } from 'vitest';
import { strapErrorWords } from '$lib/components/train/strap-words';
import type { StrapErrorCode } from '$lib/gatt/strap';

describe('a strap that does not answer', () => {
	const words = (linkCount: number, isRunning = false) =>
		strapErrorWords('unreachable', { linkCount, isRunning });

	it('may be one too many where several are connected: then it says how many, and what to do', () => {
		// Seven links: GATT_MAX_PHY_CHANNEL of Android, a constant of that platform.
		for (const linkCount of [2, 3, 7]) {
			expect(words(linkCount)).toMatch(/^The strap did not answer\..* and pair again\. /);
			expect(words(linkCount)).toContain(`${linkCount} straps are connected`);
			expect(words(linkCount)).toContain('about seven');
			expect(words(linkCount)).toMatch(/disconnect one\.$/);
		}
	});

	it('is free of that in mid-session by another way, for nothing is disconnected there', () => {
		expect(words(6, true)).toMatch(
			/^No answer: .* 6 straps are connected; about seven .* leaves frees one\.$/
		);
		expect(words(6, true)).not.toContain('disconnect');
		// Two lines of a live screen, measured at 1366 pixels of width.
		expect(words(7, true).length).toBeLessThanOrEqual(136);
	});

	it('says no word of a limit with one strap connected or none', () => {
		for (const linkCount of [0, 1]) {
			expect(words(linkCount)).toMatch(/pair again\.$/);
			expect(words(linkCount, true)).toBe(words(0));
		}
	});

	it('is the only failure that a limit can explain', () => {
		const others: StrapErrorCode[] = [
			'no bluetooth',
			'adapter off',
			'not a heart-rate strap',
			'worn already'
		];
		for (const code of others)
			expect(strapErrorWords(code, { linkCount: 7, isRunning: false })).not.toContain('seven');
	});
});
