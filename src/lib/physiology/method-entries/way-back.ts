import type { MethodEntry } from '../method-entry';
import { stepCeiling, stepWords } from '../way-back';
import { waySteps } from '../way-steps';
import { answered, known } from './examples';
import { fromMemory } from './sources';

/** After a blow to the head. */
export const wayBackMethods: readonly MethodEntry[] = [
	{
		id: 'way-back',
		title: 'The way back after a blow to the head',
		theme: 'intensity',
		measures: ['stepCeiling'],
		plain:
			'The steps that a boxer goes back by after any blow to the head, as a doctor and the coach set them. Two of them have a rate that is not to be passed.',
		formula: `${waySteps.map((step) => `step ${step}: ${stepWords[step]}`).join('\n')}\neach step lasts at least 24 hours, or as long as the federation says\nsteps 4 to 6 open with a doctor's clearance of this blow, after the stand-down of the officials, one after the other\nceiling (bpm) = 0.55 (step 2A) or 0.70 (step 2B) × maximum, rounded down; a measured maximum, else the low end of the estimate from age`,
		example: () => {
			const measured = answered(known(stepCeiling('2B', { measuredMaxBpm: 190 })));
			const estimated = answered(known(stepCeiling('2B', { ageYears: 30, sex: 'male' })));
			return {
				given: 'Step 2B with a measured maximum of 190, or a man of 30 years without one.',
				result: `${measured} beats a minute, or ${estimated}`
			};
		},
		validRange:
			'Whoever had a blow to the head, with or without a knock-out. Under 18 each step lasts longer, as the federation says.',
		error: 'None published for the shares. With an estimated maximum the ceiling reads low on purpose.',
		sources: [fromMemory('Patricios et al., Br J Sports Med 2023;57:695-711')],
		limits:
			'This page keeps what others decide: no symptoms, no diagnosis. Medicine that slows the heart makes a ceiling worthless, so none is shown. Doctor, officials and local rules come first.'
	}
];
