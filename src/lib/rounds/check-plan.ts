import * as v from 'valibot';
import { aimFault } from './check-aim';
import { blocksOf, mostBlocks, roundsIn } from './blocks';
import type { Block, Plan } from './plan';
import { longestPartS, planSchema } from './plan-schema';
import { totalMs } from './totals';
import { leastHeartPercent, leastLongestRestS, mostHeartPercent } from './rest-by-heart';

const longestMs = 4 * 3_600_000;
const mostRounds = 60;

export interface PlanProblem {
	field: keyof Plan | keyof Block;
	/** Of which block, from the second on; what the first is made of are members of the plan. */
	block?: number;
	/** A plain sentence: what is wrong and what to do. */
	message: string;
}

type Numbers<T> = { [Field in keyof T]-?: T[Field] extends number ? Field : never }[keyof T];
type Length = Numbers<Plan> | Numbers<Block>;

// In the order of the form. A round, a rest and a pause need a length; every other part may be left out.
const fields: Record<Length, { label: string; least: 0 | 1; unit: string }> = {
	roundCount: { label: 'The number of rounds', least: 1, unit: '' },
	roundS: { label: 'The length of a round', least: 1, unit: ' of seconds' },
	restS: { label: 'The rest', least: 1, unit: ' of seconds' },
	pauseS: { label: 'The pause before it', least: 1, unit: ' of seconds' },
	warmUpS: { label: 'The warm-up', least: 0, unit: ' of seconds' },
	getReadyS: { label: 'The time to get ready', least: 0, unit: ' of seconds' },
	coolDownS: { label: 'The cool-down', least: 0, unit: ' of seconds' },
	endWarningS: { label: 'The warning before a round ends', least: 0, unit: ' of seconds' },
	startWarningS: { label: 'The warning before a round starts', least: 0, unit: ' of seconds' }
};
const isLength = (field: string): field is Length => field in fields;
const isSame = (one: PlanProblem, other: PlanProblem) =>
	one.field === other.field && one.block === other.block;

/**
 * Everything that keeps a plan from being started, at the field where it is mended; none means it may start.
 * A warning as long as its phase, or longer, is no fault: it stays silent there, so that one setting serves
 * plans of any round length.
 */
export function checkPlan(plan: Plan): PlanProblem[] {
	const blocks = Array.isArray(plan.blocks ?? []) ? blocksOf(plan) : [];
	const problems = [...nameProblems(plan), ...(plan.followsGymBell ? [] : ringProblems(plan))];
	const aims = blocks.flatMap((block, i): PlanProblem[] => {
		const message = block && aimFault(block.aim);
		return message ? [said({ field: 'aim', message }, i)] : [];
	});
	for (const problem of [...aims, ...notStorable(plan)])
		if (!problems.some((one) => isSame(one, problem))) problems.push(problem);
	// A sum is worth checking only once every number in it is one. The gym's own bell says what the numbers would.
	if (plan.followsGymBell || problems.some(({ field }) => isLength(field) || field === 'blocks'))
		return problems;
	if (roundsIn(blocks) > mostRounds)
		problems.push(mostAt(blocks, ({ roundCount }) => roundCount, 'roundCount', tooManyWords));
	else if (totalMs(plan) > longestMs) problems.push(longestPart(plan));
	return problems;
}

/** Of the second block on the sentence says of which. */
function said({ field, message }: PlanProblem, i: number): PlanProblem {
	if (i === 0) return { field, message };
	return {
		field,
		block: i + 1,
		message: `Block ${i + 1}: ${message.charAt(0).toLowerCase()}${message.slice(1)}`
	};
}

function mostAt(
	blocks: readonly Block[],
	measure: (block: Block) => number,
	field: PlanProblem['field'],
	message: string
): PlanProblem {
	const sizes = blocks.map(measure);
	return said({ field, message }, sizes.indexOf(Math.max(...sizes)));
}

function longestPart(plan: Plan): PlanProblem {
	const message =
		'The session lasts more than 4 hours in all, most of it here. Make this shorter, or take fewer rounds.';
	const parts: { field: Length; s: number; i: number }[] = [
		...blocksOf(plan).flatMap(({ roundS, restS, pauseS, roundCount }, i) => [
			{ field: 'roundS' as const, s: roundS * roundCount, i },
			{ field: 'restS' as const, s: restS * roundCount, i },
			...(i > 0 ? [{ field: 'pauseS' as const, s: pauseS, i }] : [])
		]),
		...(['warmUpS', 'getReadyS', 'coolDownS'] as const).map((field) => ({ field, s: plan[field], i: 0 }))
	];
	const longest = parts.reduce((most, part) => (part.s > most.s ? part : most));
	return said({ field: longest.field, message }, longest.i);
}

function nameProblems({ name }: Plan): PlanProblem[] {
	const isNamed = typeof name === 'string' && name.trim() !== '';
	return isNamed ? [] : [{ field: 'name', message: 'Give the plan a name.' }];
}

/** What the page must know to ring the bell itself. */
function ringProblems(plan: Plan): PlanProblem[] {
	const ofPlan = blockProblems(
		plan,
		(Object.keys(fields) as Length[]).filter((field) => field !== 'pauseS')
	);
	const later = Array.isArray(plan.blocks) ? (plan.blocks as readonly unknown[]) : [];
	return [
		...ofPlan,
		...later.flatMap((block, i) =>
			typeof block === 'object' && block
				? blockProblems(block as Block, ['pauseS', 'roundCount', 'roundS', 'restS']).map((problem) =>
						said(problem, i + 1)
					)
				: []
		)
	];
}

function blockProblems<T extends Pick<Block, 'roundCount' | 'restS' | 'restDownToPercent'>>(
	block: T,
	lengths: readonly Length[]
): PlanProblem[] {
	const valueOf = (field: Length) => (block as unknown as Record<Length, number>)[field];
	const problems = lengths.flatMap((field): PlanProblem[] =>
		Number.isSafeInteger(valueOf(field)) && valueOf(field) >= fields[field].least
			? []
			: [{ field, message: wholeWords(field) }]
	);
	if (block.roundCount > mostRounds) problems.push({ field: 'roundCount', message: tooManyWords });
	return [...problems, ...heartProblems(block)];
}

/** What the store would refuse to keep, a field at a time: a session that was started by it would be lost. */
function notStorable(plan: Plan): PlanProblem[] {
	const issues = v.safeParse(planSchema, plan).issues ?? [];
	return issues.flatMap((issue) => {
		const keys = (issue.path ?? []).map(({ key }) => key);
		const isLater = keys[0] === 'blocks' && keys.length > 2;
		const field = (isLater ? keys[2] : keys[0]) as PlanProblem['field'] | undefined;
		if (field === undefined) return [];
		if (field === 'blocks')
			return {
				field,
				message: `A plan has at most ${mostBlocks} blocks, each with its rounds. Take one out.`
			};
		const i = isLater ? Number(keys[1]) + 1 : 0;
		const owner = (isLater ? plan.blocks?.[i - 1] : plan) as unknown as Record<string, number>;
		return said({ field, message: isLength(field) ? lengthWords(field, owner[field]!) : againWords }, i);
	});
}

const againWords = 'This cannot be kept as it is. Choose it again.';
const tooManyWords = `A plan has at most ${mostRounds} rounds. Take fewer.`;

function lengthWords(field: Length, value: number): string {
	const most = field === 'roundCount' ? mostRounds : longestPartS;
	if (!Number.isSafeInteger(value) || value <= most) return wholeWords(field);
	return field === 'roundCount'
		? tooManyWords
		: `${fields[field].label} can be ${longestPartS} seconds (4 hours) at most. Make it shorter.`;
}

function wholeWords(field: Length): string {
	const { label, least, unit } = fields[field];
	return `${label} must be a whole number${unit}, ${least} or more${least === 0 ? ' (0 leaves it out)' : ''}.`;
}

function heartProblems({
	restDownToPercent: percent,
	restS
}: Pick<Block, 'restDownToPercent' | 'restS'>): PlanProblem[] {
	if (percent === undefined) return [];
	const isShare =
		Number.isSafeInteger(percent) && percent >= leastHeartPercent && percent <= mostHeartPercent;
	return [
		...(isShare
			? []
			: [
					{
						field: 'restDownToPercent' as const,
						message: `The share must be a whole number from ${leastHeartPercent} to ${mostHeartPercent} % of the threshold.`
					}
				]),
		...(restS < leastLongestRestS && restS >= 1
			? [
					{
						field: 'restS' as const,
						message: `A rest until recovered lasts ${leastLongestRestS} seconds or more: make the longest one at least that long.`
					}
				]
			: [])
	];
}
