import * as v from 'valibot';
import { plannedPhases } from './course';
import type { Plan } from './plan';
import { longestPartS, planSchema } from './plan-schema';
import { leastHeartPercent, leastLongestRestS, mostHeartPercent } from './rest-by-heart';

const longestMs = 4 * 3_600_000;
const mostRounds = 60;

export interface PlanProblem {
	field: keyof Plan;
	/** A plain sentence: what is wrong and what to do. */
	message: string;
}

type Length = { [Field in keyof Plan]-?: Plan[Field] extends number ? Field : never }[keyof Plan];

// In the order of the form. A round and a rest need a length; every other part may be left out.
const fields: Record<Length, { label: string; least: 0 | 1; unit: string }> = {
	roundCount: { label: 'The number of rounds', least: 1, unit: '' },
	roundS: { label: 'The length of a round', least: 1, unit: ' of seconds' },
	restS: { label: 'The rest', least: 1, unit: ' of seconds' },
	warmUpS: { label: 'The warm-up', least: 0, unit: ' of seconds' },
	getReadyS: { label: 'The time to get ready', least: 0, unit: ' of seconds' },
	coolDownS: { label: 'The cool-down', least: 0, unit: ' of seconds' },
	endWarningS: { label: 'The warning before a round ends', least: 0, unit: ' of seconds' },
	startWarningS: { label: 'The warning before a round starts', least: 0, unit: ' of seconds' }
};

/**
 * Everything that keeps a plan from being started, at the field where it is mended; none means it may start.
 * A warning as long as its phase, or longer, is no fault: it stays silent there, so that one setting serves
 * plans of any round length.
 */
export function checkPlan(plan: Plan): PlanProblem[] {
	const problems = [...nameProblems(plan), ...(plan.followsGymBell ? [] : ringProblems(plan))];
	for (const problem of notStorable(plan))
		if (!problems.some(({ field }) => field === problem.field)) problems.push(problem);
	// A sum is worth checking only once every number in it is one. The gym's own bell says what the numbers would.
	if (plan.followsGymBell || problems.some(({ field }) => field in fields) || totalMs(plan) <= longestMs)
		return problems;
	const parts: Length[] = ['roundS', 'restS', 'warmUpS', 'getReadyS', 'coolDownS'];
	const share = (part: Length) => plan[part] * (part === 'roundS' || part === 'restS' ? plan.roundCount : 1);
	const longest = parts.reduce((most, part) => (share(part) > share(most) ? part : most));
	return [
		...problems,
		{
			field: longest,
			message: `The session lasts more than 4 hours in all, most of it here. Make this shorter, or take fewer rounds.`
		}
	];
}

function nameProblems({ name }: Plan): PlanProblem[] {
	const isNamed = typeof name === 'string' && name.trim() !== '';
	return isNamed ? [] : [{ field: 'name', message: 'Give the plan a name.' }];
}

/** What the page must know to ring the bell itself. */
function ringProblems(plan: Plan): PlanProblem[] {
	const problems: PlanProblem[] = [];
	for (const field of Object.keys(fields) as Length[])
		if (!Number.isSafeInteger(plan[field]) || plan[field] < fields[field].least)
			problems.push({ field, message: wholeWords(field) });
	if (plan.roundCount > mostRounds) problems.push({ field: 'roundCount', message: tooManyWords });
	return [...problems, ...heartProblems(plan)];
}

/** What the store would refuse to keep, a field at a time: a session that was started by it would be lost. */
function notStorable(plan: Plan): PlanProblem[] {
	const issues = v.safeParse(planSchema, plan).issues ?? [];
	return issues.flatMap((issue) => {
		const field = issue.path?.[0].key as keyof Plan | undefined;
		if (field === undefined) return [];
		return { field, message: isLength(field) ? lengthWords(field, plan[field]) : againWords };
	});
}

const againWords = 'This cannot be kept as it is. Choose it again.';
const tooManyWords = `A plan has at most ${mostRounds} rounds. Take fewer.`;
const isLength = (field: keyof Plan): field is Length => field in fields;

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

function heartProblems({ restDownToPercent: percent, restS }: Plan): PlanProblem[] {
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

/** First bell to last, rests included and the closing minute not: 12 x 3 minutes last 47. */
export function boutMs(plan: Plan): number {
	return (plan.roundCount * plan.roundS + (plan.roundCount - 1) * plan.restS) * 1000;
}

/**
 * The whole session if nothing is changed on the way, from Start to the end of the cool-down; with rests by heart the
 * longest it can be, and Infinity where the gym's own bell rings.
 */
export function totalMs(plan: Plan): number {
	return plannedPhases(plan).at(-1)?.endMs ?? 0;
}
