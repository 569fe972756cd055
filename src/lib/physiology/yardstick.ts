import { restErrorOf, typicalErrorOf } from './drop-error';

/** How far apart two measurements of one kind have to lie, and what that rests on. */
export interface Yardstick {
	/** In which a change is told. */
	unit: string;
	/** The value in units of its own typical error, so that one unit is as much everywhere on the scale. */
	toUnits: (value: number) => number;
	fromUnits: (units: number) => number;
	/** The typical error of one measurement of this size, in the value's own unit. */
	errorAt: (value: number) => number;
	/** Smallest standard error that is ever believed, in the value's own unit. */
	leastError: number;
	/** Part of the error's variance that the measurements of one day do not share, 0 to 1. */
	withinDay: number;
	/** Days of measurements under which no change is spoken of. */
	leastDays: number;
	/** Days from which the athlete's own spread counts. */
	ownFromDays: number;
	/** How well the yardstick's own error is known, in degrees of freedom, while it alone counts. */
	degrees: number;
	/** So many degrees of freedom it is worth beside the athlete's own spread. */
	weight: number;
	/** Values under this size, up or down, are never told apart. */
	small: number;
}

const series = { leastError: 0, withinDay: 0, leastDays: 3, ownFromDays: 5, degrees: 5, weight: 3, small: 0 };

/** Where the error is a share of the value, one unit is a step of the logarithm. */
const ofShare = (share: number, unit: string): Yardstick => ({
	...series,
	unit,
	toUnits: (value) => Math.log(value) / share,
	fromUnits: (units) => Math.exp(units * share),
	errorAt: (value) => value * share
});

const floorBpm = typicalErrorOf(0);
// From here on the error grows with the drop: 20 % of 10 beats are the 2 of the floor.
const straightBpm = 10;
const straightUnits = straightBpm / floorBpm;
const drop = {
	...series,
	unit: 'beats',
	/** Straight while the error stands at its floor, then a logarithm. */
	toUnits: (value: number) => {
		const size = Math.abs(value);
		const units = size <= straightBpm ? size / floorBpm : straightUnits * (1 + Math.log(size / straightBpm));
		return Math.sign(value) * units;
	},
	fromUnits: (units: number) => {
		const size = Math.abs(units);
		const bpm =
			size <= straightUnits
				? size * floorBpm
				: straightBpm * Math.exp((size - straightUnits) / straightUnits);
		return Math.sign(units) * bpm;
	},
	errorAt: typicalErrorOf,
	leastError: floorBpm,
	withinDay: (restErrorOf(1) / typicalErrorOf(1)) ** 2,
	small: straightBpm
} satisfies Yardstick;

const thresholdErrorBpm = 4;

/**
 * The errors that measurements over weeks are judged by, as published or as our own rules. Five degrees of freedom
 * each, because the published errors themselves scatter: for the drop 15 to 32 % (Al Haddad et al., Int J Sports
 * Med 2011;32:598-605). Beside the athlete's own five days or more they weigh as three degrees of freedom (own rules).
 *
 * - `drop`: 20 %, at least 2 beats, half of the variance between days (see `typicalErrorOf`)
 * - `rateShare`: rate after one minute as a share of the threshold, 8 % (Bosquet, Gamelin, Berthoin, Int J Sports
 *   Med 2008;29:238-43), the same halves
 * - `threshold`: 4 bpm until three runs say better (own rule)
 * - `tau`: 35 %, `restingRate`: 10 % (Buchheit, Front Physiol 2014;5:73)
 */
export const yardsticks = {
	drop,
	rateShare: { ...ofShare(0.08, '% of the threshold'), withinDay: drop.withinDay },
	threshold: {
		...series,
		unit: 'beats a minute',
		toUnits: (value) => value / thresholdErrorBpm,
		fromUnits: (units) => units * thresholdErrorBpm,
		errorAt: () => thresholdErrorBpm,
		leastDays: 2,
		ownFromDays: 3,
		degrees: 10,
		weight: 10
	},
	tau: ofShare(0.35, 'seconds'),
	restingRate: ofShare(0.1, 'beats a minute')
} as const satisfies Record<string, Yardstick>;
