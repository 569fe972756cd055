import type { Answer } from './answer';
import { energyOf, type EnergyEstimate, type EnergyFacts } from './energy';
import type { EnergyActivity } from './energy-regression';
import type { Seconds } from './grid';

export interface EnergyPart {
	seconds: Seconds;
	activity: EnergyActivity;
}

/**
 * The energy of a session of several activities: the sum of its parts, each in the range of its own (`energyOf`). A
 * part without any reading is not counted, as a gap is not; the coverage says so.
 *
 * @returns the reason of the first part where no part has a figure
 */
export function energyOfParts(parts: readonly EnergyPart[], athlete: EnergyFacts): Answer<EnergyEstimate> {
	const [first, ...others] = parts;
	if (first && others.every(({ activity }) => activity === first.activity))
		return energyOf(joined(parts), athlete, first);
	const answers = parts.map(({ seconds, activity }) => energyOf(seconds, athlete, { activity }));
	const found = answers.flatMap(({ value }) => value ?? []);
	if (found.length === 0)
		return answers[0] ?? { reason: 'No second has a heart-rate reading: check the strap.' };
	const lengthS = parts.reduce((sum, { seconds }) => sum + seconds.length, 0);
	const sumOf = (name: (typeof summed)[number]) => found.reduce((sum, one) => sum + one[name], 0);
	const sums = Object.fromEntries(summed.map((name) => [name, sumOf(name)])) as Pick<
		EnergyEstimate,
		(typeof summed)[number]
	>;
	const { method, restingMethod } = found[0]!;
	return {
		value: {
			...sums,
			coverage: sums.countedS / lengthS,
			method,
			restingMethod,
			cautions: [...new Set(found.flatMap(({ cautions }) => cautions))]
		}
	};
}

const summed = [
	'grossKJ',
	'lowKJ',
	'highKJ',
	'netKJ',
	'netLowKJ',
	'netHighKJ',
	'restingKJ',
	'countedS'
] as const;

function joined(parts: readonly EnergyPart[]): Seconds {
	if (parts.length === 1) return parts[0]!.seconds;
	const all = new Float64Array(parts.reduce((sum, { seconds }) => sum + seconds.length, 0));
	let at = 0;
	for (const { seconds } of parts) {
		all.set(seconds, at);
		at += seconds.length;
	}
	return all;
}
