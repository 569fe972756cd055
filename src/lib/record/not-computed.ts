import type { Athlete } from './athlete';

/** What is left out because the athlete has not said something, in plain sentences. */
export function notComputed(athlete: Athlete): string[] {
	const missing: string[] = [];
	if (!athlete.sex)
		missing.push(
			athlete.hidesFuel
				? 'Sex is not given: the load from the heart rate is not computed.'
				: 'Sex is not given: energy, the load from the heart rate and the energy at rest are not computed.'
		);
	if (athlete.birthYear === undefined)
		missing.push(
			`Year of birth is not given: no maximum is estimated${athlete.hidesFuel ? '' : ' and energy is not computed'}.`
		);
	if (athlete.weightKg === undefined && !athlete.hidesFuel)
		missing.push('Weight is not given: energy is not computed.');
	if (athlete.thresholdBpm === undefined)
		missing.push('No threshold: time over the threshold is not counted.');
	if (athlete.slowingMedicine)
		missing.push('Medicine that slows the heart: no verdict on a rest is given, and rates mean little.');
	if (athlete.pregnant)
		missing.push('Pregnancy: no figure here was made for it. A midwife or doctor decides what is trained.');
	return missing;
}
