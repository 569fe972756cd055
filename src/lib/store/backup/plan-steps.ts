import type { Entries } from './form';
import type { Note, Steps } from './steps';
import { stampOf, stampPrefix } from '../entered';
import { planPrefix } from '../plan-list';
import { planStatePrefix } from '../plans';
import { checkedPlanState, joinedPlan, planState, shownPlan, type KeptPlan } from '$lib/record/own-plan';
import { checkedPlan } from '$lib/record/plan';
import { latestAt, type Registers } from '$lib/record/registers';
import { isSame } from '$lib/record/same';

/**
 * A plan is joined as two laptops join one. Of a backup of before plans had registers the moment decides, and without one what
 * is here stays: also that the plan was removed.
 */
export function takePlan(key: string, entries: Entries, here: Entries, steps: Steps, note: Note): void {
	const id = key.split('/')[1] ?? '';
	if (key.startsWith(planStatePrefix) && entries.has(planPrefix + id)) return;
	const [present, coming] = [keptIn(here, id), keptIn(entries, id)];
	const known = planState(present);
	const [before, wanted] = [shownPlan(known), shownPlan(planState(coming))];
	const name = (wanted ?? before)?.name;
	// Removed there, and removed here or never known.
	if (name === undefined) return;
	if (here.has(planStatePrefix + id) && !present.said)
		return note('skipped', name, 'the one here cannot be read, and stays as it is');
	const next = nextState(present, coming);
	if (isSame(next, known)) return note('skipped', name, before ? whyKept(before, wanted) : takenOut);
	steps.puts.push([planStatePrefix + id, next]);
	const after = shownPlan(next);
	if (!before) note('added', name);
	else if (!after) note('changed', name, 'it was taken out there later, and goes');
	else if (isSame(before, after)) note('added', name, 'what is here was entered later; both are kept');
	else note('changed', name, 'entered later than what is here');
}

const takenOut = 'it was taken out here later';

const whyKept = (before: unknown, wanted: unknown) =>
	isSame(before, wanted) ? undefined : 'what is here may be later, and stays';

function nextState(present: KeptPlan, coming: KeptPlan): Registers {
	if (coming.said) return joinedPlan(present, planState(coming));
	const known = planState(present);
	const knownAt = latestAt(known) || (present.at ?? '');
	const isUnknown = !present.said && !present.plan && knownAt === '';
	return isUnknown || (coming.at ?? '') > knownAt ? planState({ ...coming, said: known }) : known;
}

/** What a store or a backup has of a plan, as far as it can be read. */
function keptIn(all: Entries, id: string): KeptPlan {
	const at = stampOf(all.get(stampPrefix + planPrefix + id));
	const { value: said } = checkedPlanState(all.get(planStatePrefix + id));
	const { value: plan } = checkedPlan(all.get(planPrefix + id));
	return { ...(said && { said }), ...(plan && { plan }), ...(at !== undefined && { at }) };
}
