import { pulseRule } from '$lib/bell/pulse-rule';
import type { LiveView } from './live-view';

/** The rate, whole bpm, that an athlete is not to go over today; undefined where none is set. */
export type CeilingOf = (athleteId: string) => number | undefined;

/** Watches the rates that somebody is not to go over on the way back after a blow to the head: in rests as in work. */
export class CeilingWatch {
	/** The spell of each corner that is over: since when, and its alarm. */
	readonly #spells = new Map<number, { sinceMs: number; isAlarmDue: ReturnType<typeof pulseRule> }>();

	constructor(private readonly ceilingOf: CeilingOf) {}

	/**
	 * Marks whoever is over at this moment, and answers whether the alarm is to sound: once somebody has been over for 5 s, and
	 * again each 15 s. A rate that is not known is not over.
	 */
	follow(view: LiveView): { view: LiveView; isDue: boolean } {
		let isDue = false;
		let isAnyOver = false;
		const corners = view.corners.map((one) => {
			const { corner, athleteId, signal } = one;
			const ceilingBpm = this.ceilingOf(athleteId);
			const isOver = ceilingBpm !== undefined && signal.bpm !== undefined && signal.bpm > ceilingBpm;
			if (!isOver) {
				this.#spells.delete(corner);
				return one;
			}
			isAnyOver = true;
			const nowMs = view.elapsedMs;
			const spell = this.#spells.get(corner) ?? { sinceMs: nowMs, isAlarmDue: pulseRule() };
			this.#spells.set(corner, spell);
			const overS = (nowMs - spell.sinceMs) / 1000;
			if (spell.isAlarmDue({ nowMs, overS, inBurst: false })) isDue = true;
			return { ...one, overCeilingBpm: ceilingBpm };
		});
		return { view: isAnyOver ? { ...view, corners } : view, isDue };
	}
}
