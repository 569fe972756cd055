import type { Answer } from '$lib/physiology/answer';
import { energyOf, type EnergyEstimate } from '$lib/physiology/energy';
import type { EnergyActivity } from '$lib/physiology/energy-regression';
import { secondsOf } from '$lib/physiology/grid';
import { timeInBands, type TimeInBands } from '$lib/physiology/intensity';
import { banisterLoad } from '$lib/physiology/load';
import { higherMaximum, maxHeartRateFromAge } from '$lib/physiology/max-heart-rate';
import { metEnergyKJ, metOf, type MetActivity } from '$lib/physiology/met';
import type { Activity } from '$lib/rounds/plan';
import type { Phase } from '$lib/rounds/timeline';
import type { Reading } from '$lib/record/columns';
import { secondsOfPhase, workedS, workRoundOf } from './phase-times';
import type { RecordHead } from '$lib/record/record';

/** What a session cost and where its work lay. A reason stands wherever a figure is missing. */
export interface SessionCosts {
	/** Seconds of work by share of the threshold, pauses left out; absent without a threshold. */
	bands?: TimeInBands;
	/** The whole session, rests and warm-up included. */
	energy: Answer<EnergyEstimate>;
	/** The work alone by the published equivalent of its activity: a check that knows nothing of the heart. */
	metWorkKJ: Answer<number>;
	/** The same by the compendium, where a value measured in boxers is taken before it. */
	compendiumWorkKJ?: number;
	/** Banister's impulse over the whole session. */
	load: Answer<number>;
	/** The maximum that the load stands on was estimated from age, with an error of about 10 bpm. */
	isMaxEstimated: boolean;
	/** A believable rate above the measured maximum: offered, never taken. */
	higherMaxBpm?: number;
}

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
	phases: readonly Phase[]
): SessionCosts {
	const { athlete, plan, joinedMs = 0, endedMs } = head;
	const whole = secondsOf(readings, joinedMs, (endedMs - joinedMs) / 1000);
	const boxed = phases.filter(({ kind }) => kind === 'work');
	const workS = boxed.reduce((sum, phase) => sum + workedS(phase), 0);
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
		energy: energyOf(
			whole,
			{ ...athlete, vo2Max: athlete.vo2max },
			{ activity: energyActivityOf(plan.activity) }
		),
		...metWork(plan.activity, workS / 60, athlete.weightKg),
		load: load.value ? { value: load.value.load } : load,
		isMaxEstimated: athlete.measuredMaxBpm === undefined,
		higherMaxBpm:
			athlete.measuredMaxBpm === undefined ? undefined : higherMaximum(whole, athlete.measuredMaxBpm)
	};
}

function metWork(
	activity: Activity,
	minutes: number,
	weightKg: number | undefined
): Pick<SessionCosts, 'metWorkKJ' | 'compendiumWorkKJ'> {
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
