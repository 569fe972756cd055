import type { TimeInAim } from '$lib/physiology/aim';
import type { Answer } from '$lib/physiology/answer';
import type { EnergyEstimate } from '$lib/physiology/energy';
import type { Fade } from '$lib/physiology/fade';
import type { TimeInBands } from '$lib/physiology/intensity';
import type { OverThreshold } from '$lib/physiology/over-threshold';
import type { RestMeasure } from '$lib/physiology/recovery';
import type { RecoveryFit } from '$lib/physiology/recovery-fit';
import { planKinds } from '$lib/rounds/plan';
import { activitySchema, postureSchema } from '$lib/rounds/plan-schema';
import * as v from 'valibot';
import { shape, type MembersOf } from './check';

/** Raised whenever a measure's definition changes; summaries with another number are computed afresh. */
export const methodsVersion = 5;

const finite = v.pipe(v.number(), v.finite());
const ifKnown = v.optional(finite);

/** The rest after a round, as it was measured. */
export type RestSummary = v.InferOutput<typeof restSchema>;

const restMeasureMembers = {
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
	reason: v.optional(v.string())
} satisfies MembersOf<RestMeasure>;

const restSchema = shape({
	kind: v.picklist(['rest', 'closing']),
	startMs: finite,
	endMs: finite,
	...restMeasureMembers,
	/** The drop at 60 from the RR intervals: a second reading, never mixed with the strap's own. */
	dropFromRr60: ifKnown,
	/** The curve of the recovery, only where its time constant may be shown to people. */
	recovery: v.optional(
		shape({
			floorBpm: finite,
			amplitudeBpm: finite,
			tauS: finite,
			tauErrorS: finite,
			r2: finite
		} satisfies MembersOf<RecoveryFit>)
	)
});

const overSchema = shape({
	overS: finite,
	burstOverS: finite,
	longestS: finite,
	spells: finite,
	workS: finite,
	coverage: ifKnown
} satisfies MembersOf<OverThreshold>);

const aimTimeSchema = shape({
	inS: finite,
	belowS: finite,
	aboveS: finite,
	unknownS: finite
} satisfies MembersOf<TimeInAim>);

/** One boxed round with the rest that followed it. Absent values could not be measured. */
export type RoundSummary = v.InferOutput<typeof roundSchema>;

const roundSchema = shape({
	round: finite,
	/** 1, or more where the round was boxed again. */
	attempt: finite,
	startMs: finite,
	endMs: finite,
	averageBpm: ifKnown,
	/** Highest second of the work itself; the rest's own peak often lies some seconds after the bell. */
	peakBpm: ifKnown,
	/** The share of seconds with a usable reading, 0 to 1. */
	coverage: ifKnown,
	/** Of which of the session's blocks, from the second on. */
	block: v.optional(finite),
	/** What was done; absent where all of the session was what its first block is of. */
	activity: v.optional(activitySchema),
	/** Absent where the block has no aim that something known measures. */
	aim: v.optional(aimTimeSchema),
	/** Absent without a threshold. */
	over: v.optional(overSchema),
	stopped: v.optional(v.literal(true)),
	repeated: v.optional(v.literal(true)),
	/** The rest after the round; absent where none followed. */
	rest: v.optional(restSchema)
});

const fadeSchema = shape({
	slopeBpm: finite,
	slopeErrorBpm: finite,
	restCount: finite,
	trend: v.picklist(['fading', 'coming down further', 'no clear change'])
} satisfies MembersOf<Fade>);

/** A value or the reason why there is none. The type is that of the measures, which says that it is never both. */
const answer = <T>(value: v.GenericSchema<unknown, T>) =>
	v.union([v.object({ value }), v.object({ reason: v.string() })]) as v.GenericSchema<unknown, Answer<T>>;

const energySchema = shape({
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
} satisfies MembersOf<EnergyEstimate>);

/** What a session cost and where its work lay. A reason stands wherever a figure is missing. */
export type SessionCosts = v.InferOutput<typeof costsSchema>;

const costsSchema = shape({
	/** Seconds of work by share of the threshold, pauses left out; absent without a threshold. */
	bands: v.optional(
		v.object({
			easy: finite,
			working: finite,
			'near threshold': finite,
			'over threshold': finite,
			'closing burst': finite,
			unknown: finite
		} satisfies MembersOf<TimeInBands>)
	),
	/** The whole session, rests and warm-up included. */
	energy: answer(energySchema),
	/** The work alone by the published equivalent of its activity: a check that knows nothing of the heart. */
	metWorkKJ: answer(finite),
	/** The same by the compendium, where a value measured in boxers is taken before it. */
	compendiumWorkKJ: ifKnown,
	/** Banister's impulse over the whole session. */
	load: answer(finite),
	/** The maximum that the load stands on was estimated from age, with an error of about 10 bpm. */
	isMaxEstimated: v.boolean(),
	/** A believable rate above the measured maximum: offered, never taken. */
	higherMaxBpm: ifKnown
});

/** What a guided measurement came to; what could not be had is absent, and `reasons` says why. */
export type GuidedSummary = v.InferOutput<typeof guidedSchema>;

const guidedSchema = shape({
	kind: v.picklist(planKinds),
	posture: v.optional(postureSchema),
	/** Mean of the 20 minutes less 5 %, bpm, unrounded. */
	thresholdBpm: ifKnown,
	meanBpm: ifKnown,
	restBpm: ifKnown,
	rmssdMs: ifKnown,
	/** Of the beats that RMSSD is of, 0 to 1. */
	badBeatShare: ifKnown,
	tauS: ifKnown,
	tauErrorS: ifKnown,
	/** Of the seconds measured, 0 to 1. */
	coverage: ifKnown,
	reasons: v.array(v.string())
});

/** What a session came to. A cache: dropped and rebuilt from the record it is the same. */
export type Summary = v.InferOutput<typeof summarySchema>;

/**
 * What lies beside a head as a cache. Whatever does not pass, measured by other methods or damaged, is
 * computed afresh from the record.
 */
export const summarySchema = shape({
	methodsVersion: v.pipe(v.number(), v.value(methodsVersion)),
	rounds: v.array(roundSchema),
	peakBpm: ifKnown,
	/**
	 * Mean drop at 60 of the judged rests, and how many there were; where none was judged, of those measured. Of several
	 * activities, of that with the most of them, the first of equals.
	 */
	meanDrop60: ifKnown,
	drop60Count: finite,
	/** Whole seconds from Start, or from joining, to the end. */
	lengthS: finite,
	/** Seconds of work, pauses left out. */
	workS: finite,
	/** Seconds over the threshold outside the bursts, all rounds together; absent without a threshold. */
	overS: ifKnown,
	/** Absent where the work was not all of one kind: drops are compared within one activity alone. */
	fade: v.optional(fadeSchema),
	costs: costsSchema,
	/** Sentences on what is out of the ordinary; mostly none. */
	unusual: v.array(v.string()),
	/** What a guided measurement came to. */
	guided: v.optional(guidedSchema),
	/** A strap had no contact sensor, or announced one and never reported contact: its reports were left aside. */
	ignoresContact: v.boolean()
});
