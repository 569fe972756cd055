import { amendmentKinds, type Amendment } from '$lib/rounds/amendment';
import type { Aim } from '$lib/rounds/aim';
import type { Block, Plan } from '$lib/rounds/plan';
import { restingPlan, thresholdRunPlan } from '$lib/rounds/guided-plans';
import { shortPlan } from '../session/builders';
import type { Chance } from './chance';

/** What happens besides packets. */
export type Happening =
	| Exclude<Amendment['kind'], 'finish'>
	| 'swap'
	| 'join'
	| 'leave'
	| 'another strap'
	| 'hand over'
	| 'hand over undone'
	| 'join bare'
	| 'signal lost'
	| 'signal back'
	| 'reload'
	| 'sleep';

export interface Step {
	/** Elapsed ms; fractions as a browser's clock has them. */
	atMs: number;
	what: Happening;
}

/** How a strap sends, and what it says of contact. */
export interface StrapHabit {
	/** Where in the second it sends, ms. */
	intoMs: number;
	/** By how much a packet may come later, ms. */
	jitterMs: number;
	/** Of a packet, to be the last before a silence that ends in a burst. */
	gapShare: number;
	contact: 'not supported' | 'contact' | 'mixed' | 'never' | 'late';
	middleBpm: number;
}

/** A session by chance: all that has to be known to play it again. */
export interface RandomSession {
	plan: Plan;
	/** The clock's time at elapsed zero. */
	originMs: number;
	/** Elapsed ms at which the session's code is loaded; packets before it were heard by the seat. */
	loadedMs: number;
	/** Nobody looks: the page is woken by its packets alone. */
	isHidden: boolean;
	thresholdBpm?: number;
	straps: StrapHabit[];
	/** How many begin without a strap. */
	bare: number;
	steps: Step[];
	/** When Finish is pressed, elapsed ms, where the session has not ended before. */
	finishMs: number;
}

const happenings: readonly Happening[] = [
	...amendmentKinds.filter((kind) => kind !== 'finish'),
	...(['swap', 'swap', 'join', 'leave', 'another strap', 'another strap'] as const),
	...(['hand over', 'hand over', 'hand over undone', 'join bare'] as const),
	...(['signal lost', 'signal back', 'reload', 'sleep'] as const)
];

/** What a guided measurement, which is of one athlete, knows nothing of. */
const ofSeveral: readonly Happening[] = [
	'swap',
	'join',
	'leave',
	'hand over',
	'hand over undone',
	'join bare'
];

const randomAim = (chance: Chance): Aim | undefined =>
	chance.pick<Aim | undefined>([
		undefined,
		{ kind: 'easy' },
		{ kind: 'working' },
		{ kind: 'near threshold' },
		{ kind: 'fight pace' },
		{ kind: 'share of maximum', fromPercent: 75, toPercent: 85 },
		{ kind: 'effort', effort: 6 }
	]);

function randomBlock(chance: Chance): Block {
	return {
		activity: chance.pick(['bag', 'pads', 'skipping']),
		roundCount: 1 + chance.below(2),
		roundS: 5 + chance.below(60),
		restS: chance.pick([31, 45, 75]),
		pauseS: chance.pick([1, 20, 60, 61, 90]),
		...(chance.uniform() < 0.2 && { restDownToPercent: 85 }),
		aim: randomAim(chance)
	};
}

/** Of a hundred plans two are threshold runs and three resting measurements, which are of one athlete. */
function randomPlan(chance: Chance): Plan {
	const kind = chance.below(100);
	if (kind < 2) return thresholdRunPlan(chance.below(20));
	if (kind < 5) return restingPlan('lying');
	return {
		...shortPlan,
		roundCount: 1 + chance.below(3),
		roundS: 5 + chance.below(45),
		restS: chance.pick([31, 45, 60, 61, 75, 95, 130]),
		warmUpS: chance.pick([0, 0, 7]),
		getReadyS: chance.pick([0, 3, 10]),
		coolDownS: chance.pick([0, 0, 12]),
		...(kind < 15 && { followsGymBell: true }),
		...(kind >= 15 && kind < 30 && { restDownToPercent: chance.pick([75, 85]) }),
		aim: randomAim(chance),
		...(chance.uniform() < 0.2 && { handOvers: { afterRounds: [1, 3], lengthS: chance.pick([15, 60]) } }),
		...(chance.uniform() < 0.5 && {
			blocks: Array.from({ length: 1 + chance.below(3) }, () => randomBlock(chance))
		})
	};
}

/** Mostly about the edges of seconds, where a count goes wrong first. */
const randomMs = (chance: Chance, mostMs: number) =>
	chance.uniform() < 0.5
		? chance.below(mostMs)
		: Math.max(0, chance.below(mostMs / 1000) * 1000 + chance.pick([-51, -50, -49, -20, -1, 0, 1, 30, 500]));

export function randomHabit(chance: Chance): StrapHabit {
	return {
		intoMs: chance.pick([0, 1, 300, 500, 949, 950, 951, 960, 999, chance.below(1000)]),
		jitterMs: chance.pick([0, 0, 60, 400, 1600]),
		gapShare: chance.pick([0, 0.01, 0.04]),
		contact: chance.pick(['not supported', 'not supported', 'contact', 'mixed', 'never', 'never', 'late']),
		middleBpm: 140 + chance.below(30)
	};
}

/** What a strap sends at `nextMs` of elapsed time, as its packet number `sent`. */
export function packetOf(
	{ habit, nextMs, sent }: { habit: StrapHabit; nextMs: number; sent: number },
	chance: Chance
) {
	const oddBpm = chance.uniform() < 0.05 ? chance.pick([0, 25, 29, 30, 240, 241, 300]) : undefined;
	const said = {
		'not supported': 'not supported',
		contact: 'contact',
		mixed: chance.uniform() < 0.15 ? 'no contact' : 'contact',
		never: 'no contact',
		// Not among its first packets, now and then just in time.
		late: sent > 57 ? 'contact' : 'no contact'
	} as const;
	const bpm = habit.middleBpm + Math.round(30 * Math.sin(nextMs / 17_000) + 3 * chance.uniform());
	return { bpm: oddBpm ?? bpm, contact: said[habit.contact] };
}

export function randomSession(chance: Chance): RandomSession {
	const plan = randomPlan(chance);
	const isGuided = plan.kind !== undefined;
	const longestMs = (plan.kind === 'threshold run' ? 1300 : 360) * 1000;
	const steps = Array.from({ length: chance.below(isGuided ? 4 : 9) }, () => ({
		atMs: randomMs(chance, longestMs) + chance.pick([0, 0, 0.3, 0.5, 0.8]),
		what: chance.pick(happenings)
	}));
	return {
		plan,
		originMs: chance.pick([0, 5000, 4321.7]),
		loadedMs: chance.pick([0, 0, 40, 6000]),
		isHidden: chance.uniform() < 0.3,
		...(chance.uniform() < 0.9 && { thresholdBpm: 140 + chance.below(60) / 2 }),
		straps: Array.from({ length: isGuided ? 1 : 1 + chance.below(2) }, () => randomHabit(chance)),
		bare: isGuided ? 0 : chance.below(3),
		steps: steps
			.filter(({ what }) => !isGuided || !ofSeveral.includes(what))
			.toSorted((one, other) => one.atMs - other.atMs),
		finishMs: longestMs + randomMs(chance, 60_000)
	};
}
