import type { Aim } from './aim';

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

/** Rounds of one activity, one length and one rest. */
export interface Block {
	activity: Activity;
	roundCount: number;
	roundS: number;
	/** In rests by heart: the longest rest. */
	restS: number;
	/** From the last bell before it to its first. */
	pauseS: number;
	/** Rests by heart: each ends when every heart has come down to this share of its threshold, in percent. */
	restDownToPercent?: number;
	aim?: Aim;
}

/** Rests in which a strap goes to another chest: the measured minute first, then time to hand it over. */
export interface HandOvers {
	/** Numbers of the rounds after which, ascending. */
	afterRounds: readonly number[];
	/** Time for handing over, in whole seconds, after the measured minute. */
	lengthS: number;
}

/**
 * What is meant to happen. Whole seconds; a length of 0 leaves the part out (rounds and rests excepted). What it says
 * of rounds is its first block, which a page of before there were blocks reads as the whole: `blocksOf` is asked for
 * all of them. Rounds are numbered through the whole session.
 */
export interface Plan extends Omit<Block, 'pauseS'> {
	name: string;
	/** What follows the first block, in order; absent where that is all. */
	blocks?: readonly Block[];
	/** In which rests a strap changes hands; absent where everybody keeps theirs. Made for a session, and kept in no library. */
	handOvers?: HandOvers;
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
	/**
	 * The hall has a bell of its own and somebody presses a key at each: lengths say nothing, and rounds only where the
	 * next block begins. The last block has as many as are boxed.
	 */
	followsGymBell?: true;
}

/** A run and a measurement at rest are one stretch: they have no rounds to be stopped, and no drop to wait for. */
export const isOneStretch = (kind: PlanKind | undefined) => kind === 'threshold run' || kind === 'resting';

/** The minute after the last bell always runs: the drop in it is the one everybody asks for. */
const closingMs = 60_000;
/** A recovery check lies still for three minutes, so that its time constant can be had; quiet minutes have no bell to fall from. */
export const closingMsOf = ({ kind }: Pick<Plan, 'kind'>) =>
	kind === 'recovery check' ? 180_000 : kind === 'resting' ? 0 : closingMs;
