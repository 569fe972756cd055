import type { PracticeOptions } from '$lib/gatt/practice-strap';

/**
 * One simulated athlete for each corner, so that no two hearts on one bell run alike. Own rule: for showing and
 * testing; the first is the practice strap's own typical athlete.
 */
export const practiceHearts: readonly Pick<PracticeOptions, 'name' | 'athlete'>[] = [
	{},
	{ name: 'Simulated strap 2', athlete: { restBpm: 55, maxBpm: 186, fallS: 42 } },
	{ name: 'Simulated strap 3', athlete: { restBpm: 68, maxBpm: 200, fallS: 70 } },
	{ name: 'Simulated strap 4', athlete: { restBpm: 60, maxBpm: 190, fallS: 48 } },
	{ name: 'Simulated strap 5', athlete: { restBpm: 72, maxBpm: 196, fallS: 85 } },
	{ name: 'Simulated strap 6', athlete: { restBpm: 58, maxBpm: 182, fallS: 60 } },
	{ name: 'Simulated strap 7', athlete: { restBpm: 64, maxBpm: 204, fallS: 50 } },
	{ name: 'Simulated strap 8', athlete: { restBpm: 66, maxBpm: 188, fallS: 66 } }
];

/** How hard a simulated athlete works who waits for the first bell, 0 (still) to 1 (fight pace). */
export const standingEffort = 0.12;
