import type { SessionCosts } from '$lib/record/summary';
import { energyOfParts, type EnergyPart } from '$lib/physiology/energy-parts';
import type { EnergyActivity } from '$lib/physiology/energy-regression';
import { secondsOf } from '$lib/physiology/grid';
import { timeInBands } from '$lib/physiology/intensity';
import { banisterLoad } from '$lib/physiology/load';
import { higherMaximum, maxHeartRateFromAge } from '$lib/physiology/max-heart-rate';
import { metEnergyKJ, metOf, type MetActivity } from '$lib/physiology/met';
import { blockOf } from '$lib/rounds/blocks';
import type { Activity, Block } from '$lib/rounds/plan';
import type { Phase } from '$lib/rounds/timeline';
import type { Reading } from '$lib/record/columns';
import { grouped } from '$lib/record/grouped';
import { stretchesOf, type Stretch } from './stretches';
import { secondsOfPhase, workedS, workRoundOf } from './phase-times';
import type { RecordHead } from '$lib/record/head';

const metActivities: Record<Activity, MetActivity | undefined> = {
	pads: 'pads',
	bag: 'bag',
	'shadow boxing': 'shadow boxing',
	sparring: 'sparring',
	skipping: 'skipping rope, moderate',
	circuit: undefined,
	running: undefined,
	rest: undefined
};

/** Which range of the regression an activity takes. */
export function energyActivityOf(activity: Activity): EnergyActivity {
	switch (activity) {
		case 'bag':
		case 'shadow boxing':
		case 'pads':
		case 'sparring':
		case 'running':
			return activity;
		default:
			return 'other';
	}
}

/** The costs of a record, from its readings and the athlete's numbers as they were that day. */
export function costsOf(
	head: RecordHead,
	readings: readonly Reading[],
	phases: readonly Phase[],
	blocks: readonly Block[]
): SessionCosts {
	const { athlete, joinedMs = 0, endedMs } = head;
	const whole = secondsOf(readings, joinedMs, (endedMs - joinedMs) / 1000);
	const boxed = phases.filter(({ kind }) => kind === 'work');
	const work = boxed.map((phase) => ({
		seconds: secondsOfPhase(readings, phase),
		round: workRoundOf(phase)
	}));
	const estimatedMax =
		athlete.ageYears === undefined ? undefined : maxHeartRateFromAge(athlete.ageYears)?.bpm;
	const load = banisterLoad(whole, {
		sex: athlete.sex,
		restBpm: athlete.restBpm,
		maxBpm: athlete.measuredMaxBpm ?? estimatedMax
	});
	return {
		bands: athlete.thresholdBpm === undefined ? undefined : timeInBands(work, athlete.thresholdBpm),
		energy: energyOfParts(energyPartsOf(stretchesOf(whole, joinedMs, phases, blocks)), {
			...athlete,
			vo2Max: athlete.vo2max
		}),
		...metWorkOf(boxed, blocks, athlete.weightKg),
		load: load.value ? { value: load.value.load } : load,
		isMaxEstimated: athlete.measuredMaxBpm === undefined,
		higherMaxBpm:
			athlete.measuredMaxBpm === undefined ? undefined : higherMaximum(whole, athlete.measuredMaxBpm)
	};
}

/** The stretches with the range of the regression that each takes. */
export const energyPartsOf = (stretches: readonly Stretch[]): EnergyPart[] =>
	stretches.map(({ activity, seconds }) => ({ seconds, activity: energyActivityOf(activity) }));

type MetWork = Pick<SessionCosts, 'metWorkKJ' | 'compendiumWorkKJ'>;

/** The sum over what was done; the first reason where one of it has no value. */
function metWorkOf(boxed: readonly Phase[], blocks: readonly Block[], weightKg: number | undefined): MetWork {
	const ofWork = grouped(boxed, (phase) => blockOf(blocks, phase).activity);
	if (ofWork.size === 0) ofWork.set(blocks[0]!.activity, []);
	const all = [...ofWork].map(([activity, same]) =>
		metWork(activity, same.reduce((sum, phase) => sum + workedS(phase), 0) / 60, weightKg)
	);
	const missing = all.find(({ metWorkKJ }) => metWorkKJ.value === undefined);
	if (missing) return missing;
	const sum = (of: (work: MetWork) => number) => all.reduce((kJ, work) => kJ + of(work), 0);
	const own = ({ metWorkKJ: { value = 0 } }: MetWork) => value;
	return {
		metWorkKJ: { value: sum(own) },
		...(all.some(({ compendiumWorkKJ }) => compendiumWorkKJ !== undefined) && {
			compendiumWorkKJ: sum((work) => work.compendiumWorkKJ ?? own(work))
		})
	};
}

function metWork(activity: Activity, minutes: number, weightKg: number | undefined): MetWork {
	const without = (reason: string) => ({ metWorkKJ: { reason } });
	const name = metActivities[activity];
	if (activity === 'running')
		return without('What running costs hangs on its pace, and the pace is not known.');
	if (!name) return without(`No published value stands for "${activity}".`);
	if (weightKg === undefined) return without('The body mass is not given: enter it.');
	const { value, reason } = metOf(name);
	if (!value) return without(reason);
	const kJ = metEnergyKJ(value.met, minutes, weightKg);
	if (kJ === undefined) return without('The body mass is outside 20 to 250 kg.');
	const compendiumKJ = value.compendium && metEnergyKJ(value.compendium.met, minutes, weightKg);
	return {
		metWorkKJ: { value: kJ },
		...(compendiumKJ !== undefined && { compendiumWorkKJ: compendiumKJ })
	};
}
