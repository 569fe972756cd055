import { appendFileSync } from 'node:fs';
import { expect } from 'vitest';
import checkedAgainst from '$lib/physiology/checked-against.json';
import type { OutsideCheck } from '$lib/physiology/method-entry';

// Set by write-checked-against.js alone.
const file = process.env.CHECKED_AGAINST_FILE;

// What is under this is the rounding of the printed values or of the sums, and differs from machine to machine.
const roundingOfUnit = 1e-6;

/**
 * Collects what a test file finds against one outside truth, for the line "Checked against" of a Methods entry.
 * `settle` comes last, in a test of its own: it fails where `checked-against.json` says something else, which
 * `npm run checked-against` then writes anew.
 *
 * @example
 * const printed = outside('rmssd', 'results printed with four open recordings', 'ms');
 * printed.take(rmssd(runs)!, 55.137);
 */
export function outside(entryId: string, against: string, unit: string) {
	let cases = 0;
	let largest = 0;
	return {
		/** Notes one case and returns how far the two values lie apart. */
		take(found: number, expected: number): number {
			const difference = Math.abs(found - expected);
			cases++;
			largest = Math.max(largest, difference);
			return difference;
		},
		settle(): void {
			const largestDifference = largest < roundingOfUnit ? 0 : Number(largest.toPrecision(2));
			const row: OutsideCheck = { entryId, against, cases, largestDifference, unit };
			expect(Number.isFinite(largest) && cases > 0, `${entryId}: ${cases} cases, ${largest} apart`).toBe(
				true
			);
			if (file) appendFileSync(file, `${JSON.stringify(row)}\n`);
			else expect(checkedAgainst, 'Stale: npm run checked-against writes it anew.').toContainEqual(row);
		}
	};
}
