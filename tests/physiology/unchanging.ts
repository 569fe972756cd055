import type { DayValue } from '$lib/physiology/change';
import type { chanceFrom } from './builders';

type Chance = ReturnType<typeof chanceFrom>;

/** What a simulated athlete does on each day; the laws are not those of the page. */
export interface Series {
	days: number;
	/** Judged rests on each day. */
	rests: (day: number) => number;
	/** The true drop of each day, beats. */
	trueDrop: (day: number) => number;
	/** Of one rest between days, as a share of the drop; that of the page where it is not given. */
	errorShare?: number;
}

/**
 * Days of an athlete whose heart falls in two exponentials (time constants 25 and 120 s, the fast one 70 %) after a
 * delay, and is read late and in whole beats. The size of the fall differs from day to day and as much from rest to
 * rest, by 14 % each unless given: together the 20 % of Bosquet, Gamelin, Berthoin, Int J Sports Med 2008;29:238-43.
 */
export function daysOf(chance: Chance, { days, rests, trueDrop, errorShare = 0.2 }: Series): DayValue[] {
	const share = errorShare * Math.SQRT1_2;
	return Array.from({ length: days }, (_, i) => {
		const ofDay = 1 + share * chance.normal();
		const count = rests(i);
		let sum = 0;
		for (let rest = 0; rest < count; rest++)
			sum += readDrop(trueDrop(i) * (ofDay + share * chance.normal()), chance);
		return { day: `${i}`, value: sum / count, count };
	});
}

const delayS = 6;
const lagS = 2;
const fallenBy = (s: number) => {
	const t = Math.max(0, s - delayS);
	return 0.7 * (1 - Math.exp(-t / 25)) + 0.3 * (1 - Math.exp(-t / 120));
};
const meanFallen = (lateS: number) =>
	[55, 56, 57, 58, 59].reduce((sum, s) => sum + fallenBy(s - lateS) / 5, 0);
const readShare = meanFallen(lagS) / meanFallen(0);

/** What the strap makes of a fall: late by two seconds, and the noise of two windows of five readings in whole beats. */
function readDrop(drop: number, chance: Chance): number {
	return readShare * drop + 0.5 * chance.normal() + chance.between(-0.2, 0.2);
}
