/** Whole beats; never "-0". */
export function beats(bpm: number): number {
	return Math.round(bpm) || 0;
}
