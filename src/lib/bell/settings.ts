import type { Sound } from './sound';

/** How the athlete wants to hear the rounds. */
export interface BellSettings {
	on: Record<Sound, boolean>;
	/** 0 to 1, as a slider shows it. */
	volume: number;
	/** Of single sounds, 0 to 1, under the volume of all; a sound without one rings at that. */
	levels?: Partial<Record<Sound, number>>;
	/** A voice of this machine says each drop, for the athlete who is alone. */
	saysDrop?: boolean;
	/**
	 * Ring so many milliseconds earlier, 0 to 1000: the lag of a wireless speaker that the browser does not
	 * know of. What the browser does know is made up for without it.
	 */
	delayMs: number;
	/** Play next to nothing all the time, for speakers that doze off and tabs that are put to sleep. */
	keepAwake: boolean;
}

export const defaultBellSettings: BellSettings = {
	on: { count: true, 'round start': true, 'round end': true, clapper: true, whistle: true, pulse: true },
	volume: 0.8,
	delayMs: 0,
	keepAwake: false
};
