import type { MethodEntry } from './method-entry';
import { dropFromRrMethods } from './method-entries/drop-from-rr';
import { energyMethods } from './method-entries/energy';
import { fuelMethods } from './method-entries/fuel';
import { loadMethods } from './method-entries/load';
import { intensityMethods } from './method-entries/maximum-and-intensity';
import { recoveryCurveMethods } from './method-entries/recovery-curves';
import { restingMethods } from './method-entries/resting';
import { restMethods } from './method-entries/rests';
import { restJudgementMethods } from './method-entries/rests-judged';
import { intervalMethods, variabilityMethods } from './method-entries/rr-intervals';
import { scalingMethods } from './method-entries/short-term-scaling';
import { signalMethods } from './method-entries/signal';
import { taperMethods } from './method-entries/taper';
import { thresholdMethods } from './method-entries/threshold';
import { wayBackMethods } from './method-entries/way-back';

/** Every measure's entry, in the order of the Methods screen; those of one theme stand together. */
export const allMethods: readonly MethodEntry[] = [
	...restMethods,
	...restJudgementMethods,
	...recoveryCurveMethods,
	...dropFromRrMethods,
	...thresholdMethods,
	...scalingMethods,
	...intensityMethods,
	...wayBackMethods,
	...energyMethods,
	...fuelMethods,
	...loadMethods,
	...taperMethods,
	...restingMethods,
	...variabilityMethods,
	...signalMethods,
	...intervalMethods
];
