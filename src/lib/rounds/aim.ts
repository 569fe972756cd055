/** What a block is to be boxed at, by the heart where something is known to measure it by. */
export type Aim =
	/** By the share of the threshold, as intensity is told (`bandOf`); fight pace is over it. */
	| { kind: 'easy' | 'working' | 'near threshold' | 'fight pace' }
	/** Of a measured maximum, in percent; both ends are in it. */
	| { kind: 'share of maximum'; fromPercent: number; toPercent: number }
	/** 0 to 10, where there is neither threshold nor maximum. */
	| { kind: 'effort'; effort: number };

/** Aims that a threshold measures. */
export const bandAims = ['easy', 'working', 'near threshold', 'fight pace'] as const;

/** The share of a maximum that may be aimed at, in percent (own rule). */
export const leastSharePercent = 50;
export const mostSharePercent = 100;

export const mostEffort = 10;

/** An aim in the words of plans and screens. */
export function aimWords(aim: Aim): string {
	switch (aim.kind) {
		case 'share of maximum':
			return `${aim.fromPercent} to ${aim.toPercent} % of maximum`;
		case 'effort':
			return `effort ${aim.effort}`;
		case 'near threshold':
			return 'near the threshold';
		default:
			return aim.kind;
	}
}

/** What is known that an aim can be measured by. */
export type Measured = Readonly<Record<'threshold' | 'maximum', boolean>>;
