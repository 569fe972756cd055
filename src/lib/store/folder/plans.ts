import { isDamage, unlessDamaged } from '../damage';
import { keysUnder, read, write } from '../database';
import { machineIn } from '../machine';
import { joinPlan, keptPlan, planStatePrefix, registerPlans, unsentPlanPrefix } from '../plans';
import { stampedText } from './text';
import type { StampedName } from './names';
import type { Travel } from './travel';
import type { FolderVisit } from './visit';
import { planState, shownPlan } from '$lib/record/own-plan';
import { joined, latestAt, type Registers } from '$lib/record/registers';
import { isSame } from '$lib/record/same';
import { fileMoment } from '$lib/record/stamp';
import { grouped } from '$lib/record/grouped';

/**
 * Plans of one's own in the shared folder: a file a plan and machine, that holds all that the machine knew of the plan. That
 * one was removed is such a file too, which stays, so that no late copy brings the plan back.
 */

/** Takes in what was said of plans elsewhere. */
export async function takePlans(visit: FolderVisit): Promise<void> {
	// What was done here first: else it would look as if nothing had been written since the last visit.
	await write(visit.store, registerPlans);
	const fresh = visit.of('plan').filter((name) => !visit.isSeen(name));
	for (const [id, names] of grouped(fresh, ({ id }) => id)) {
		const sound: StampedName[] = [];
		let coming: Registers = {};
		for (const name of names) {
			const content = await visit.open(name);
			if (content?.kind !== 'plan') continue;
			sound.push(name);
			coming = joined(coming, content.said);
		}
		if (sound.length === 0) continue;
		try {
			if (await write(visit.store, (objects) => joinPlan(objects, id, coming))) visit.note('plans');
			visit.took(...sound);
		} catch (error) {
			if (!isDamage(error)) throw error;
			for (const name of sound) await visit.refuse(name, error.message);
		}
	}
}

/**
 * Writes the plans of which something is known here that the folder does not say, and takes away older files of this machine.
 * Plans are nobody's health, so no one athlete is asked; but a laptop where nobody is switched on writes nothing at all.
 */
export async function givePlans(visit: FolderVisit, travel: Travel): Promise<void> {
	if (travel.consents.size === 0) return;
	const [keys, unsent, me] = await write(visit.store, (objects) =>
		Promise.all([
			keysUnder(objects, planStatePrefix),
			keysUnder(objects, unsentPlanPrefix),
			machineIn(objects)
		])
	);
	const isUnsent = new Set(unsent);
	const there = grouped(visit.of('plan'), ({ id }) => id);
	for (const key of keys) {
		const id = key.slice(planStatePrefix.length);
		const files = there.get(id) ?? [];
		const isTold = files.some((name) => visit.isSeen(name)) && !isUnsent.has(unsentPlanPrefix + id);
		if (!isTold) await givePlan(visit, id, me, files);
	}
}

async function givePlan(
	visit: FolderVisit,
	id: string,
	me: string,
	files: readonly StampedName[]
): Promise<void> {
	const stateNow = (objects: IDBObjectStore) =>
		unlessDamaged(keptPlan(objects, id).then(planState), undefined);
	const state = await read(visit.store, stateNow);
	// What nobody else ever saw need not be told removed.
	if (!state || (files.length === 0 && !shownPlan(state))) return;
	const own = files.filter(({ by }) => by === me);
	const last =
		own
			.map(({ at }) => at)
			.sort()
			.at(-1) ?? '';
	const saidAt = latestAt(state) || new Date(0).toISOString();
	const name: StampedName = { kind: 'plan', id, at: fileMoment(last, saidAt, state), by: me };
	await visit.write(name, await stampedText(name, { said: state }));
	visit.report.wentOut.plans++;
	for (const older of own) await visit.remove(older);
	await write(visit.store, async (objects) => {
		// Something may have been said since the plan was read.
		if (isSame(await stateNow(objects), state)) objects.delete(unsentPlanPrefix + id);
	});
}
