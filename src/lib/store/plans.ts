import { unlessDamaged } from './damage';
import { keysUnder, storable, StoreError, valueAt, write, type UseStore } from './database';
import { enterAsOf, enteredAt } from './entered';
import { machineIn } from './machine';
import { planPrefix, type OwnPlan } from './plan-list';
import type { Checked } from '$lib/record/check';
import {
	changedPlan,
	checkedPlanState,
	copiesOf,
	joinedPlan,
	planState,
	saidAt,
	shownPlan,
	type KeptPlan
} from '$lib/record/own-plan';
import { signedAnew, type Registers } from '$lib/record/registers';
import { checkedPlan } from '$lib/record/plan';
import { isSame } from '$lib/record/same';
import { withoutHandOvers } from '$lib/rounds/hand-overs';
import type { Plan } from '$lib/rounds/plan';
import { planSchema } from '$lib/rounds/plan-schema';

export const planStatePrefix = 'plan-state/';

/** Plans of which something is known here that lies in no file of the shared folder yet. */
export const unsentPlanPrefix = 'shared/plan/';

/** Keeps a plan, in place of the one with the same id. Rejects with `StoreError`. */
export async function savePlan(store: UseStore, { id, plan }: OwnPlan, nowMs = Date.now()): Promise<void> {
	const own = withoutHandOvers(storable(planSchema, plan, 'The plan'));
	await write(store, (objects) => changePlan(objects, id, own, nowMs));
}

export function deletePlan(store: UseStore, id: string, nowMs = Date.now()): Promise<void> {
	return write(store, (objects) => changePlan(objects, id, undefined, nowMs));
}

async function changePlan(
	objects: IDBObjectStore,
	id: string,
	plan: Plan | undefined,
	nowMs: number
): Promise<void> {
	const known = planState(await keptPlan(objects, id));
	await putPlan(objects, id, changedPlan(known, plan, { ms: nowMs, by: await machineIn(objects) }));
}

/** What lies here of a plan. Rejects with `StoreError` where it cannot be read, so that nobody writes over it. */
export async function keptPlan(objects: IDBObjectStore, id: string): Promise<KeptPlan> {
	const [said, plan, at] = await Promise.all([
		valueAt(objects, planStatePrefix + id).then((stored) => sound(stored, checkedPlanState)),
		valueAt(objects, planPrefix + id).then((stored) => sound(stored, checkedPlan)),
		enteredAt(objects, planPrefix + id)
	]);
	return { ...(said && { said }), ...(plan && { plan }), ...(at !== undefined && { at }) };
}

function sound<T>(stored: unknown, checked: (stored: unknown) => Checked<T>): T | undefined {
	if (stored === undefined) return undefined;
	const { value, problem } = checked(stored);
	if (problem === undefined) return value;
	throw new StoreError('failed', `The plan that lies here cannot be read. ${problem}`);
}

/** Puts all that is known of a plan and notes that the shared folder has yet to be told; in a transaction that runs. */
export async function putPlan(objects: IDBObjectStore, id: string, state: Registers): Promise<void> {
	await storePlan(objects, id, state);
	objects.put(true, unsentPlanPrefix + id);
}

/**
 * Takes over what was said of a plan elsewhere. Answers whether anything of it was not known here. Rejects with
 * `StoreError` where what lies here cannot be read.
 */
export async function joinPlan(objects: IDBObjectStore, id: string, coming: Registers): Promise<boolean> {
	const kept = await keptPlan(objects, id);
	const said = kept.said && signedAnew(kept.said, coming, await machineIn(objects));
	const here = { ...kept, ...(said && { said }) };
	const both = joinedPlan(here, coming);
	const isNews = !isSame(both, planState(kept));
	if (isNews) await storePlan(objects, id, both);
	if (!isSame(both, coming)) objects.put(true, unsentPlanPrefix + id);
	return isNews;
}

async function storePlan(objects: IDBObjectStore, id: string, state: Registers): Promise<void> {
	const { value, problem } = checkedPlanState(state);
	if (!value) throw new StoreError('failed', `The plan was not stored. ${problem}`);
	enterAsOf(objects, planPrefix + id, shownPlan(value), saidAt(value));
	objects.put(value, planStatePrefix + id);
	for (const [copyId, copy] of copiesOf(id, value)) await joinPlan(objects, copyId, copy);
}

/** Notes what pages wrote that knew no registers of plans; in a transaction that runs. */
export async function registerPlans(objects: IDBObjectStore): Promise<void> {
	const keys = await Promise.all([planPrefix, planStatePrefix].map((prefix) => keysUnder(objects, prefix)));
	for (const id of new Set(keys.flat().map((key) => key.split('/')[1] ?? ''))) {
		const here = await unlessDamaged(keptPlan(objects, id), undefined);
		if (here && !isSame(here.plan, shownPlan(here.said))) await putPlan(objects, id, planState(here));
	}
}
