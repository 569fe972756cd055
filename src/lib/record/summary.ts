import type { Answer } from '$lib/physiology/answer';
import type { EnergyEstimate } from '$lib/physiology/energy';
import type { Fade } from '$lib/physiology/fade';
import type { TimeInBands } from '$lib/physiology/intensity';
import type { OverThreshold } from '$lib/physiology/over-threshold';
import type { RestMeasure } from '$lib/physiology/recovery';
import type { RecoveryFit } from '$lib/physiology/recovery-fit';
import type { PlanKind, Posture } from '$lib/rounds/plan';
import * as v from 'valibot';
import { shape } from './check';

/** Raised whenever a measure's definition changes; summaries with another number are computed afresh. */
export const methodsVersion = 5;

/** One boxed round with the rest that followed it. Absent values could not be measured. */
export interface RoundSummary {
	round: number;
	/** 1, or more where the round was boxed again. */
	attempt: number;
	startMs: number;
	endMs: number;
	averageBpm?: number;
	/** Highest second of the work itself; the rest's own peak often lies some seconds after the bell. */
	peakBpm?: number;
	/** The share of seconds with a usable reading, 0 to 1. */
	coverage?: number;
	/** Absent without a threshold. */
	over?: OverThreshold;
	stopped?: true;
	repeated?: true;
	/** The rest after the round; absent where none followed. */
	rest?: RestSummary;
}

export interface RestSummary extends RestMeasure {
	kind: 'rest' | 'closing';
	startMs: number;
	endMs: number;
	/** The drop at 60 from the RR intervals: a second reading, never mixed with the strap's own. */
	dropFromRr60?: number;
	/** The curve of the recovery, only where its time constant may be shown to people. */
	recovery?: RecoveryFit;
}

/** What a session came to. A cache: dropped and rebuilt from the record it is the same. */
export interface Summary {
	methodsVersion: number;
	rounds: RoundSummary[];
	peakBpm?: number;
	/** Mean drop at 60 of the judged rests, and how many there were; where none was judged, of those measured. */
	meanDrop60?: number;
	drop60Count: number;
	/** Whole seconds from Start, or from joining, to the end. */
	lengthS: number;
	/** Seconds of work, pauses left out. */
	workS: number;
	/** Seconds over the threshold outside the bursts, all rounds together; absent without a threshold. */
	overS?: number;
	fade?: Fade;
	costs: SessionCosts;
	/** Sentences on what is out of the ordinary; mostly none. */
	unusual: string[];
	/** What a guided measurement came to. */
	guided?: GuidedSummary;
	/** A strap had no contact sensor, or announced one and never reported contact: its reports were left aside. */
	ignoresContact: boolean;
}

/** What a guided measurement came to; what could not be had is absent, and `reasons` says why. */
export interface GuidedSummary {
	kind: PlanKind;
	posture?: Posture;
	/** Mean of the 20 minutes less 5 %, bpm, unrounded. */
	thresholdBpm?: number;
	meanBpm?: number;
	restBpm?: number;
	rmssdMs?: number;
	/** Of the beats that RMSSD is of, 0 to 1. */
	badBeatShare?: number;
	tauS?: number;
	tauErrorS?: number;
	/** Of the seconds measured, 0 to 1. */
	coverage?: number;
	reasons: string[];
}

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

const finite = v.pipe(v.number(), v.finite());
const ifKnown = v.optional(finite);

const restSchema = shape<RestSummary>({
	kind: v.picklist(['rest', 'closing']),
	startMs: finite,
	endMs: finite,
	dropFromRr60: ifKnown,
	bellBpm: ifKnown,
	rate60: ifKnown,
	drop30: ifKnown,
	drop60: ifKnown,
	drop60ErrorBpm: ifKnown,
	restDrop: ifKnown,
	peakBpm: ifKnown,
	peakLagS: ifKnown,
	coverage: ifKnown,
	verdict: v.picklist(['under the band', 'in the band', 'over the band', 'not judged']),
	nearEdge: v.boolean(),
	reason: v.optional(v.string()),
	recovery: v.optional(
		shape<NonNullable<RestSummary['recovery']>>({
			floorBpm: finite,
			amplitudeBpm: finite,
			tauS: finite,
			tauErrorS: finite,
			r2: finite
		})
	)
});

const overSchema = shape<NonNullable<RoundSummary['over']>>({
	overS: finite,
	burstOverS: finite,
	longestS: finite,
	spells: finite,
	workS: finite,
	coverage: ifKnown
});

const roundSchema = shape<RoundSummary>({
	round: finite,
	attempt: finite,
	startMs: finite,
	endMs: finite,
	averageBpm: ifKnown,
	peakBpm: ifKnown,
	coverage: ifKnown,
	over: v.optional(overSchema),
	stopped: v.optional(v.literal(true)),
	repeated: v.optional(v.literal(true)),
	rest: v.optional(restSchema)
});

const fadeSchema = shape<NonNullable<Summary['fade']>>({
	slopeBpm: finite,
	slopeErrorBpm: finite,
	restCount: finite,
	trend: v.picklist(['fading', 'coming down further', 'no clear change'])
});

/** A value or the reason why there is none. */
const answer = <T>(value: v.GenericSchema<unknown, T>) =>
	v.union([v.object({ value }), v.object({ reason: v.string() })]) as v.GenericSchema<
		unknown,
		{ value: T; reason?: undefined } | { value?: undefined; reason: string }
	>;

type Costs = Summary['costs'];

const energySchema = shape<NonNullable<Costs['energy']['value']>>({
	grossKJ: finite,
	lowKJ: finite,
	highKJ: finite,
	netKJ: finite,
	netLowKJ: finite,
	netHighKJ: finite,
	restingKJ: finite,
	countedS: finite,
	coverage: finite,
	method: v.picklist(['Keytel', 'Keytel with VO2max']),
	restingMethod: v.picklist(['ten Haaf', 'Mifflin-St Jeor', 'Schofield', 'one MET']),
	cautions: v.array(v.string())
});

const costsSchema = shape<Costs>({
	bands: v.optional(
		v.object({
			easy: finite,
			working: finite,
			'near threshold': finite,
			'over threshold': finite,
			'closing burst': finite,
			unknown: finite
		})
	),
	energy: answer(energySchema),
	metWorkKJ: answer(finite),
	compendiumWorkKJ: ifKnown,
	load: answer(finite),
	isMaxEstimated: v.boolean(),
	higherMaxBpm: ifKnown
});

const guidedSchema = shape<NonNullable<Summary['guided']>>({
	kind: v.picklist(['threshold run', 'resting', 'recovery check']),
	posture: v.optional(v.picklist(['lying', 'sitting', 'standing', 'walking'])),
	thresholdBpm: ifKnown,
	meanBpm: ifKnown,
	restBpm: ifKnown,
	rmssdMs: ifKnown,
	badBeatShare: ifKnown,
	tauS: ifKnown,
	tauErrorS: ifKnown,
	coverage: ifKnown,
	reasons: v.array(v.string())
});

/**
 * What lies beside a head as a cache. Whatever does not pass, measured by other methods or damaged, is
 * computed afresh from the record.
 */
export const summarySchema = shape<Summary>({
	methodsVersion: v.literal(methodsVersion),
	rounds: v.array(roundSchema),
	peakBpm: ifKnown,
	meanDrop60: ifKnown,
	drop60Count: finite,
	lengthS: finite,
	workS: finite,
	overS: ifKnown,
	fade: v.optional(fadeSchema),
	costs: costsSchema,
	unusual: v.array(v.string()),
	guided: v.optional(guidedSchema),
	ignoresContact: v.boolean()
});
