import { parseBackup, type Backup } from './form';
import { readHere, stepsFor } from './restore-steps';
import { backupOfSession, isSessionFile, onlySession, withoutNotesHere } from './session-file';
import type { RestoreGroup, Steps } from './steps';
import { dayPrefix, putDay } from '../days';
import { breathing, breathingIn, inBreaths, type Tell } from '../breathe';
import { read, write, type UseStore } from '../database';
import { putEdit } from '../edits';
import { enterAsOf, stampOf, stampPrefix } from '../entered';
import { planStatePrefix, putPlan } from '../plans';
import type { StoredDay } from '$lib/record/day';
import type { RecordEdit } from '$lib/record/edit';
import type { RecordHead } from '$lib/record/head';
import type { Registers } from '$lib/record/registers';

/** What restoring a backup would do to this browser; nothing has been written yet. */
export interface RestorePlan {
	status: 'ready';
	/** ISO 8601 in UTC. */
	madeAt: string;
	/** Those the backup has something of. */
	groups: RestoreGroup[];
	/** Where the file is that of one session: whose, and how many readings. */
	session?: { head: RecordHead; readingCount: number };
	/** Nothing would be added or changed. */
	isIdle: boolean;
	backup: Backup;
}

export type RestoreAnswer = RestorePlan | { status: 'refused'; problem: string };

/**
 * Reads a backup, or the file of one session, and says what restoring it would do, entry by entry, merging by id: what
 * is not here is added; of cards, settings, weights and food what was entered later holds, here or in the backup; plans are
 * joined as two laptops join them;
 * sessions never change, so one that is here stays, unless it is damaged here (then the backup's takes its
 * place) or was deleted (then it comes back). Writes nothing. What is wrong with the file is an answer;
 * `tell` may call it off; rejects with `StoreError` else.
 */
export async function planRestore(
	store: UseStore,
	text: string,
	tell: Tell = () => undefined
): Promise<RestoreAnswer> {
	const isOne = isSessionFile(text);
	const { value: file, problem } = isOne
		? backupOfSession(text)
		: await parseBackup(
				text,
				breathing((share) => tell(share / 2))
			);
	if (problem !== undefined) return { status: 'refused', problem };
	const backup = isOne ? await withoutNotesHere(store, file) : file;
	const here = await read(store, (objects) => readHere(backup.entries, objects));
	const breathe = breathing((share) => tell((1 + share) / 2));
	const plan = planOf(backup, await stepsFor(backup.entries, here, breathe));
	return isOne ? { ...plan, session: onlySession(backup.entries) } : plan;
}

/**
 * Carries out a plan that was shown, in one transaction: all of it or nothing. Where something here has changed
 * since the plan was made, nothing is written and the answer is refused. What comes in as deleted is deleted as of
 * `nowMs` (epoch milliseconds), so that an older backup leaves its day, too. `tell` may call it off. Rejects with
 * `StoreError`, and then, as where it was called off, nothing was written.
 */
export function restore(
	store: UseStore,
	plan: RestorePlan,
	tell: Tell = () => undefined,
	nowMs = Date.now()
): Promise<{ status: 'restored' } | { status: 'refused'; problem: string }> {
	return write(
		store,
		async (objects) => {
			const here = await readHere(plan.backup.entries, objects);
			const breathe = breathingIn(objects, tell);
			const steps = await stepsFor(plan.backup.entries, here, (share) => breathe(share / 2), nowMs);
			if (JSON.stringify(planOf(plan.backup, steps).groups) !== JSON.stringify(plan.groups))
				return {
					status: 'refused',
					problem:
						'Something in this browser has changed since. Choose the file again to see what would happen.'
				};
			for await (const some of inBreaths(steps.puts, breathe, 0.5))
				for (const [key, value] of some)
					if (key.startsWith('edit/')) await putEdit(objects, key.split('/')[1]!, value as RecordEdit);
					else if (key.startsWith(dayPrefix)) putDay(objects, key, value as StoredDay);
					else if (key.startsWith(planStatePrefix))
						await putPlan(objects, key.slice(planStatePrefix.length), value as Registers);
					else enterAsOf(objects, key, value, stampOf(plan.backup.entries.get(stampPrefix + key)));
			for (const key of steps.deletes) objects.delete(key);
			return { status: 'restored' };
		},
		'strict'
	);
}

function planOf(backup: Backup, { groups }: Steps): RestorePlan {
	const touched = groups.filter(
		({ added, changed, skipped }) => added.length + changed.length + skipped.length
	);
	const isIdle = touched.every(({ added, changed }) => added.length + changed.length === 0);
	return { status: 'ready', madeAt: backup.madeAt, groups: touched, isIdle, backup };
}
