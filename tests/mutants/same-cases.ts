import fc from '../by-chance';
import { restCurves } from '$lib/physiology/rest-curves';
import { afterAll } from 'vitest';

// The same cases each time, so that a mutant that was found is found again; of a property that asks for 100,000 packets or
// for costly sums as many as fit into a second.
fc.configureGlobal({ seed: 2026, interruptAfterTimeLimit: 1000 });

// They are made once for all runs, so not while a mutant is switched on.
if (process.env.MUTANTS_AFRESH === undefined) restCurves();

// The next file is read by the program as it is; its mutant is switched on when the file's tests begin.
afterAll(() => {
	const { __stryker__: stryker } = globalThis as { __stryker__?: { activeMutant?: string } };
	if (stryker) stryker.activeMutant = undefined;
});
