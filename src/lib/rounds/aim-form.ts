import type { Aim, Measured } from './aim';

/** The aims in the order of the form, with what each is measured by. */
export const aimKinds: readonly { kind: Aim['kind']; words: string; needs?: keyof Measured }[] = [
	{ kind: 'easy', words: 'easy, under 80 % of threshold', needs: 'threshold' },
	{ kind: 'working', words: 'working, 80 to 90 % of threshold', needs: 'threshold' },
	{ kind: 'near threshold', words: 'near the threshold, from 90 %', needs: 'threshold' },
	{ kind: 'fight pace', words: 'fight pace, over the threshold', needs: 'threshold' },
	{ kind: 'share of maximum', words: 'a share of the measured maximum', needs: 'maximum' },
	{ kind: 'effort', words: 'an effort, 0 to 10' }
];

/** What stands in the fields of an aim that has just been chosen (own rule). */
export function firstAim(kind: Aim['kind']): Aim {
	if (kind === 'share of maximum') return { kind, fromPercent: 80, toPercent: 90 };
	return kind === 'effort' ? { kind, effort: 6 } : { kind };
}
