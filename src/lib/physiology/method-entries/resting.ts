import type { MethodEntry } from '../method-entry';
import { quietTimeS, restingRate } from '../resting';
import { answered } from './examples';
import { abstract } from './sources';

/** The rate at rest. */
export const restingMethods: readonly MethodEntry[] = [
	{
		id: 'resting-rate',
		title: 'Resting rate',
		theme: 'heart at rest',
		measures: ['restingRate'],
		plain:
			'The heart rate at rest: the quietest minute of five, lying or sitting still. The first minute is left out, because the heart is still settling.',
		formula: `resting rate (bpm) = lowest mean of 60 s, with 54 readings or more, in seconds 60 to ${quietTimeS} of the quiet time`,
		example: () => {
			const quiet = Float64Array.from({ length: quietTimeS }, (_, i) =>
				Math.round(57 + 12 * Math.exp(-i / 60) + 2 * Math.sin(i / 8))
			);
			const { bpm, atS } = answered(restingRate(quiet, 0));
			return {
				given: `Five minutes that begin at ${quiet[0]} bpm and settle below 60, breathing with a small wave.`,
				result: `${bpm.toFixed(1)} bpm, in the minute from second ${atS}`
			};
		},
		validRange:
			'Five minutes without standing up. The posture is kept with the figure: compare lying only with lying.',
		error:
			'None published for this window. From day to day the resting rate varies by some beats, now and then by 10 or more: go by the mean of seven days.',
		sources: ['Own rule', abstract('Quer et al., PLoS ONE 2020;15:e0227709')],
		limits:
			'With medicine that slows the heart it shows what the medicine does. A rate that stays unusual for you, or that you feel unwell with, is a matter for a doctor: this is not a medical device.'
	}
];
