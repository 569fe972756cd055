import * as v from 'valibot';
import { shape } from '$lib/record/record-schema';
import type { methodsVersion, RestSummary, RoundSummary, Summary } from '$lib/review/summary';

// The store takes types alone from the measures. This one holds the two numbers together: raising the
// session's does not compile until this one follows.
const currentMethods: typeof methodsVersion = 5;

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
	methodsVersion: v.literal(currentMethods),
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
