import type { Answer } from '$lib/physiology/answer';
import { metEnergyKJ, runningMet } from '$lib/physiology/met';
import type { Phase } from '$lib/rounds/timeline';
import { workedS } from './phase-times';
import type { RecordHead } from '$lib/record/head';

/**
 * What a run cost by the published equivalent of its pace, kJ: a check that knows nothing of the heart. The pace is
 * that of the whole run, because nobody notes where it was raised.
 *
 * @param distanceKm how far the run itself was, warm-up left out, as the athlete told afterwards
 */
export function runWorkKJ(
	{ athlete }: Pick<RecordHead, 'athlete'>,
	phases: readonly Phase[],
	distanceKm: number | undefined
): Answer<number> {
	const run = phases.findLast(({ kind }) => kind === 'work');
	const minutes = run ? workedS(run) / 60 : 0;
	if (minutes === 0) return { reason: 'There was no run.' };
	if (distanceKm === undefined)
		return { reason: 'What a run costs hangs on its pace, which is not known: say above how far it was.' };
	if (athlete.weightKg === undefined) return { reason: 'The body mass is not given: enter it.' };
	const kmPerHour = (60 * distanceKm) / minutes;
	const met = runningMet(kmPerHour);
	if (met === undefined)
		return {
			reason: `No published value stands for ${kmPerHour.toFixed(1)} km an hour, only for 6.5 to 17.7: look at the distance again.`
		};
	const kJ = metEnergyKJ(met, minutes, athlete.weightKg);
	return kJ === undefined ? { reason: 'The body mass is outside 20 to 250 kg.' } : { value: kJ };
}
