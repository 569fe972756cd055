import { blocksOf, roundsIn } from './blocks';
import type { Plan } from './plan';

/** Competition pace: no warm-up on the clock, fifteen seconds to get to the bag or the mark, full-minute rests. */
function bout(name: string, roundCount: number, roundS: number): Plan {
	return {
		name,
		activity: 'sparring',
		roundCount,
		roundS,
		restS: 60,
		warmUpS: 0,
		getReadyS: 15,
		coolDownS: 0,
		endWarningS: 10,
		startWarningS: 10
	};
}

/**
 * The competition formats as ready plans. Local rules decide; these are what is widely published:
 * - elite, youth, junior (15 and 16), schools (13 and 14) and masters: the federations' technical and
 *   competition rules for three-round boxing (masters box 1 to 2 minutes, as agreed for the bout);
 * - professional men, 4 to 12 rounds of 3 minutes with 1 minute between: Illinois 68 Ill. Adm. Code
 *   1370.540, and Maryland COMAR 09.14.06.16 (at most 12);
 * - professional women, at most 10 rounds of 2 minutes with 1 minute between: Ohio OAC 3773-2-03;
 * - the whistle ten seconds before a round starts: Washington WAC 36-12-280(5); a clapper ten seconds
 *   before it ends, told apart from bell and whistle: Ohio OAC 3773-2-10 (Montana forbids one,
 *   24.117.904: each can be switched off).
 */
export const competitionPlans: readonly Plan[] = [
	bout('Elite and youth, 3 x 3', 3, 180),
	bout('Junior, 3 x 2', 3, 120),
	bout('Schools, 3 x 1.5', 3, 90),
	bout('Masters, 3 x 2', 3, 120),
	bout('Masters, 3 x 1.5', 3, 90),
	bout('Masters, 3 x 1', 3, 60),
	...[4, 6, 8, 10, 12].map((rounds) => bout(`Professional men, ${rounds} x 3`, rounds, 180)),
	...[4, 6, 8, 10].map((rounds) => bout(`Professional women, ${rounds} x 2`, rounds, 120))
];

/**
 * How long a round of competition lasts at this age, s: 13 and 14 years (and younger, own rule) 90, 15 and 16 years
 * 120, from 17 on 180, and 180 where the age is unknown. Federations' technical and competition rules; local rules decide.
 *
 * @example boutRoundS(14) // 90
 */
export function boutRoundS(ageYears = Infinity): number {
	if (ageYears < 15) return 90;
	return ageYears < 17 ? 120 : 180;
}

/** The competition formats that are offered at this age: no longer rounds than its own, and masters and professionals to adults alone. */
export function competitionPlansAt(ageYears: number | undefined): readonly Plan[] {
	if (ageYears === undefined || ageYears >= 19) return competitionPlans;
	return competitionPlans.filter(
		({ name, roundS }) => roundS <= boutRoundS(ageYears) && !/^(Masters|Professional)/.test(name)
	);
}

const gym = { restS: 60, getReadyS: 15, endWarningS: 10, startWarningS: 10 };

/** Plans of our own for an evening in the gym: common practice, no source. */
export const gymPlans: readonly Plan[] = [
	{
		...gym,
		name: 'Bag, 6 x 3',
		activity: 'bag',
		roundCount: 6,
		roundS: 180,
		warmUpS: 300,
		coolDownS: 180
	},
	{ ...gym, name: 'Pads, 4 x 3', activity: 'pads', roundCount: 4, roundS: 180, warmUpS: 300, coolDownS: 180 },
	{
		...gym,
		name: 'Shadow boxing, 3 x 2',
		activity: 'shadow boxing',
		roundCount: 3,
		roundS: 120,
		warmUpS: 120,
		coolDownS: 0
	},
	{
		...gym,
		name: 'Skipping, 5 x 2',
		activity: 'skipping',
		roundCount: 5,
		roundS: 120,
		warmUpS: 60,
		coolDownS: 120
	},
	{
		...gym,
		name: 'An evening, 10 rounds in 4 blocks',
		activity: 'skipping',
		roundCount: 2,
		roundS: 180,
		warmUpS: 0,
		coolDownS: 180,
		aim: { kind: 'easy' },
		blocks: [
			{
				activity: 'shadow boxing',
				roundCount: 2,
				roundS: 180,
				restS: 60,
				pauseS: 60,
				aim: { kind: 'working' }
			},
			{
				activity: 'bag',
				roundCount: 3,
				roundS: 180,
				restS: 60,
				pauseS: 120,
				aim: { kind: 'near threshold' }
			},
			{ activity: 'pads', roundCount: 3, roundS: 180, restS: 60, pauseS: 120, aim: { kind: 'fight pace' } }
		]
	},
	{
		...gym,
		name: "To the gym's own bell",
		activity: 'bag',
		roundCount: 1,
		roundS: 180,
		warmUpS: 0,
		coolDownS: 0,
		followsGymBell: true
	}
];

/** A bout to the bell of the hall, of which the page rings nothing. */
export const hallBellPlan = (name: string): Plan => ({
	...gymPlans.find(({ followsGymBell }) => followsGymBell)!,
	name,
	activity: 'sparring'
});

const roundsInName = /(\d+ x \d+(\.\d+)?|\d+ rounds in \d+ blocks)$/;

/**
 * The name of a plan whose rounds were changed: where it ends in rounds by minutes ("Bag, 6 x 3") they are the plan's
 * own, and where it has several blocks their number ("Bag, 14 rounds in 3 blocks"), so that no session is kept under
 * rounds that it had not. Other names, and a plan half typed, stay as they are.
 */
export function nameAfterRounds(plan: Plan): string {
	const { name, roundCount, roundS, blocks = [] } = plan;
	const isWhole = Number.isInteger(roundCount) && Number.isInteger(roundS);
	const count = roundsIn(blocksOf(plan));
	if (!isWhole || !Number.isInteger(count)) return name;
	const minutes = Math.round(roundS / 0.6) / 100;
	const rounds =
		blocks.length > 0 ? `${count} rounds in ${blocks.length + 1} blocks` : `${roundCount} x ${minutes}`;
	return name.replace(roundsInName, rounds);
}
