import { competitionPlansAt, gymPlans } from './formats';
import type { Block, Plan } from './plan';

/** Ready plans of one kind, and what stands behind them. */
export interface TemplateGroup {
	name: string;
	/** Plain sentences, shown where a plan is chosen. */
	source: string;
	plans: readonly Plan[];
}

/** Of whom the templates are to fit; what is not known leaves them out of nothing. */
export interface TemplateFacts {
	ageYears?: number;
	sex?: 'female' | 'male';
	/** Whether a maximum was measured, by which a share of it can be aimed at. */
	hasMaximum: boolean;
}

const commonPractice = 'Common practice, no source.';

// Warm-up, cool-down and what is done in them are our own choice: the source names none that we could read.
const conditioning = {
	...{ warmUpS: 600, getReadyS: 15, coolDownS: 300 },
	...{ endWarningS: 10, startWarningS: 10 }
};

/** A band around the 90 % that are published, because a heart is never at one number (own rule). */
const ninetyPercent = { kind: 'share of maximum', fromPercent: 88, toPercent: 92 } as const;

/**
 * Conditioning by intervals: Ruddock, James, French, Rogerson, Driller, Hembrough, Appl Sci 2021;11:10658 (excerpts were
 * read). 4 x 8 min with 2 min between at 90 % of maximum or effort 9; 6 x 2 min with 3 min between at effort 8; 8 x 30 s with
 * 3 min between at effort 9.
 */
export function conditioningPlans(hasMaximum: boolean): readonly Plan[] {
	return [
		{
			...conditioning,
			name: 'Long intervals, 4 x 8',
			activity: 'running',
			roundCount: 4,
			roundS: 480,
			restS: 120,
			aim: hasMaximum ? ninetyPercent : { kind: 'effort', effort: 9 }
		},
		{
			...conditioning,
			name: 'Hard intervals, 6 x 2',
			activity: 'bag',
			roundCount: 6,
			roundS: 120,
			restS: 180,
			aim: { kind: 'effort', effort: 8 }
		},
		{
			...conditioning,
			name: 'Sprints, 8 x 0.5',
			activity: 'bag',
			roundCount: 8,
			roundS: 30,
			restS: 180,
			aim: { kind: 'effort', effort: 9 }
		}
	];
}

const lap: Block = { activity: 'circuit', roundCount: 6, roundS: 40, restS: 20, pauseS: 120 };

/** Stations in a row: common practice, no source. */
const circuitPlans: readonly Plan[] = [
	{
		...conditioning,
		name: 'Circuit, 10 x 1',
		activity: 'circuit',
		roundCount: 10,
		roundS: 60,
		restS: 30
	},
	{
		...conditioning,
		name: 'Circuit in laps, 18 rounds in 3 blocks',
		activity: 'circuit',
		roundCount: lap.roundCount,
		roundS: lap.roundS,
		restS: lap.restS,
		blocks: [lap, lap]
	}
];

const isProfessional = ({ name }: Plan, of: 'men' | 'women') => name.startsWith(`Professional ${of}`);

/**
 * The ready plans by group, each with its source. Bouts are those of the age (`competitionPlansAt`), and professional ones
 * those of the sex where it is known. A group that nothing is left of is none.
 */
export function templateGroups({ ageYears, sex, hasMaximum }: TemplateFacts): TemplateGroup[] {
	const bouts = competitionPlansAt(ageYears);
	const groups: TemplateGroup[] = [
		{
			name: 'Conditioning',
			source:
				'Ruddock and others, Appl Sci 2021;11:10658 (excerpts read): 4 x 8 minutes with 2 between at 90 % of maximum or effort 9, 6 x 2 with 3 between at effort 8, 8 x 30 seconds with 3 minutes between at effort 9. What is done, warm-up, cool-down and the 2 % on each side of 90 are our own choice. Hard work for trained, healthy adults; younger boxers by their coach’s word.',
			plans: conditioningPlans(hasMaximum)
		},
		{ name: 'Gym', source: commonPractice, plans: gymPlans },
		{ name: 'Circuits', source: commonPractice, plans: circuitPlans },
		{
			name: 'Bouts by age',
			source:
				'The federations’ technical and competition rules: 3 minutes from 17 years on, 2 at 15 and 16, 1.5 at 13 and 14, masters 1 to 2 as agreed. Local rules decide.',
			plans: bouts.filter((plan) => !isProfessional(plan, 'men') && !isProfessional(plan, 'women'))
		},
		{
			name: 'Professional bouts, men',
			source:
				'4 to 12 rounds of 3 minutes with 1 between: 68 Ill. Adm. Code 1370.540; Maryland COMAR 09.14.06.16. Local rules decide.',
			plans: sex === 'female' ? [] : bouts.filter((plan) => isProfessional(plan, 'men'))
		},
		{
			name: 'Professional bouts, women',
			source: 'At most 10 rounds of 2 minutes with 1 between: Ohio OAC 3773-2-03. Local rules decide.',
			plans: sex === 'male' ? [] : bouts.filter((plan) => isProfessional(plan, 'women'))
		}
	];
	return groups.filter(({ plans }) => plans.length > 0);
}
