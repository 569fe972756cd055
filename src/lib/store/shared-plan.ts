import * as v from 'valibot';
import { jsonIn } from './bounded-json';
import { check, type Checked } from '$lib/record/check';
import type { Aim } from '$lib/rounds/aim';
import { blocksOf, withBlocks } from '$lib/rounds/blocks';
import { checkPlan } from '$lib/rounds/check-plan';
import { plannedActivities, type Activity, type Block, type Plan } from '$lib/rounds/plan';
import { planSchema } from '$lib/rounds/plan-schema';

export const planFormat = 'corner-minute plan';
const planVersion = 1;

// A plan of as many blocks as there may be takes 10,000 characters as JSON and 14,000 in a link.
export const mostFileCharacters = 64_000;
export const mostLinkCharacters = 16_000;
const longestName = 200;

const envelopeSchema = v.object({ version: v.literal(planVersion), plan: planSchema });

/** What the fragment of a link begins with. */
const mark = '#plan=';

/** A plan as JSON text for a file. Only what is planned goes along; a plan that may start comes back the same. */
export function planJson(plan: Plan): string {
	return JSON.stringify({ format: planFormat, version: planVersion, plan: ownMembers(plan) }, null, '\t');
}

/** The fragment of a link that carries a plan: base64url (RFC 4648, section 5, without padding) of JSON in UTF-8. */
export function planFragment(plan: Plan): string {
	const bytes = new TextEncoder().encode(JSON.stringify({ version: planVersion, plan: ownMembers(plan) }));
	const text = btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
	return mark + text.replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

/** The plan in a text that `planJson` wrote, or one plain sentence on what is wrong. Never throws. */
export function parsePlanJson(text: string): Checked<Plan> {
	const json = jsonIn(text, 'plan', mostFileCharacters);
	if (json.problem !== undefined) return { problem: json.problem };
	const { format } = (json.value ?? {}) as { format?: unknown };
	return format === planFormat
		? planIn(json.value)
		: { problem: 'This file is not a plan of Corner Minute. Nothing of it was read.' };
}

/** Whether the fragment of an address is meant to carry a plan. */
export const isPlanFragment = (fragment: string) => fragment.startsWith(mark);

/** The plan in the fragment of a link, or one plain sentence on what is wrong. Never throws. */
export function parsePlanFragment(fragment: string): Checked<Plan> {
	const text = fragment.slice(mark.length);
	if (text.length > mostLinkCharacters)
		return {
			problem: 'This link is longer than any plan’s, so it was not read. Ask for the plan as a file.'
		};
	let content: unknown;
	try {
		if (!/^[\w-]+$/.test(text)) return { problem: notWhole };
		const bytes = Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (letter) =>
			letter.charCodeAt(0)
		);
		content = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
	} catch {
		return { problem: notWhole };
	}
	return planIn(content);
}

const notWhole =
	'The plan in this link is not whole: something of it was lost or changed on the way. Ask for the link again, or for the plan as a file.';

function planIn(content: unknown): Checked<Plan> {
	const { value, problem } = check(envelopeSchema, content, planVersion);
	if (problem !== undefined) return { problem: `The plan was not read. ${problem}` };
	const { plan } = value;
	// Tests have stop signs to be read before them.
	if (plan.kind !== undefined)
		return { problem: 'This is a plan of a test. Tests are started under Train, Tests.' };
	if (plan.name.length > longestName)
		return { problem: `The name of the plan is longer than ${longestName} characters, so it was not read.` };
	const isPlanned = (activity: Activity) => (plannedActivities as readonly string[]).includes(activity);
	if (!blocksOf(plan).every(({ activity }) => isPlanned(activity)))
		return { problem: 'The plan has a block of rest, which is none that can be boxed. It was not read.' };
	const own = ownMembers(plan);
	const [fault] = checkPlan(own);
	return fault
		? { problem: `The plan could not be started, so it was not read. ${fault.message}` }
		: { value: own };
}

/** Nothing but the members that this page knows of what is planned. */
function ownMembers(plan: Plan): Plan {
	const { name, warmUpS, getReadyS, coolDownS, endWarningS, startWarningS, followsGymBell } = plan;
	const [first, ...others] = blocksOf(plan).map(ownBlock);
	const { pauseS: _pause, ...members } = first!;
	return withBlocks(
		{
			...members,
			...{ name, warmUpS, getReadyS, coolDownS, endWarningS, startWarningS },
			...(followsGymBell && { followsGymBell })
		},
		[first!, ...others]
	);
}

function ownAim(aim: Aim): Aim {
	const { kind } = aim;
	if (kind === 'effort') return { kind, effort: aim.effort };
	if (kind !== 'share of maximum') return { kind };
	return { kind, fromPercent: aim.fromPercent, toPercent: aim.toPercent };
}

const ownBlock = (block: Block): Block => {
	const { activity, roundCount, roundS, restS, pauseS, restDownToPercent, aim } = block;
	return {
		...{ activity, roundCount, roundS, restS, pauseS },
		...(restDownToPercent !== undefined && { restDownToPercent }),
		...(aim && { aim: ownAim(aim) })
	};
};

const longestNamePart = 40;

/** Letters and figures of the name alone: whatever else it holds, some file system may refuse. */
export const planFileName = ({ name }: Plan) =>
	`corner-minute-plan-${Array.from(name.normalize('NFC').replace(/[^\p{L}\p{M}\p{N}]+/gu, '-'))
		.slice(0, longestNamePart)
		.join('')}.json`;
