export type Activity = 'pads' | 'bag' | 'shadow boxing' | 'sparring' | 'skipping' | 'circuit';

/** What is meant to happen. Whole seconds; a length of 0 leaves the part out (rounds and rests excepted). */
export interface Plan {
	name: string;
	activity: Activity;
	roundCount: number;
	roundS: number;
	restS: number;
	warmUpS: number;
	/** Countdown between the warm-up and the first bell. */
	getReadyS: number;
	coolDownS: number;
	/** The clapper, so long before a round ends; 0 for none. */
	endWarningS: number;
	/** The whistle, so long before a round starts; 0 for none. */
	startWarningS: number;
}
