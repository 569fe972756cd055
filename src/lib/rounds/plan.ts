/** What somebody can plan. */
export const plannedActivities = [
	'pads',
	'bag',
	'shadow boxing',
	'sparring',
	'skipping',
	'circuit',
	'running'
] as const;
/** Those, and what only a guided measurement is of. */
export const activities = [...plannedActivities, 'rest'] as const;
export type Activity = (typeof activities)[number];

/** A guided measurement. A plan without a kind is an ordinary session of rounds. */
export const planKinds = ['threshold run', 'resting', 'recovery check'] as const;
export type PlanKind = (typeof planKinds)[number];

export const postures = ['lying', 'sitting', 'standing', 'walking'] as const;
export type Posture = (typeof postures)[number];

/** What is meant to happen. Whole seconds; a length of 0 leaves the part out (rounds and rests excepted). */
export interface Plan {
	name: string;
	activity: Activity;
	roundCount: number;
	roundS: number;
	/** In rests by heart: the longest rest. */
	restS: number;
	warmUpS: number;
	/** Countdown between the warm-up and the first bell. */
	getReadyS: number;
	coolDownS: number;
	/** The clapper, so long before a round ends; 0 for none. */
	endWarningS: number;
	/** The whistle, so long before a round starts; 0 for none. */
	startWarningS: number;
	/** A guided measurement; absent for a session of rounds. */
	kind?: PlanKind;
	/** How a guided measurement is taken; compared only with its like. */
	posture?: Posture;
	/** Rests by heart: each ends when every heart has come down to this share of its threshold, in percent. */
	restDownToPercent?: number;
	/** The hall has a bell of its own and somebody presses a key at each: lengths and rounds of the plan say nothing. */
	followsGymBell?: true;
}

/** A run and a measurement at rest are one stretch: they have no rounds to be stopped, and no drop to wait for. */
export const isOneStretch = (kind: PlanKind | undefined) => kind === 'threshold run' || kind === 'resting';
