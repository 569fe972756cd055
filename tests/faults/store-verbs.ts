import { emptyWorld, gymWorld, mergedWorld, otherGymWorld, sharedWorld, type World } from './worlds';
import { pageOver } from './faulty-requests';
import type { Page } from './views';
import { makeRecord, padsPlan, readingEntry, startEntry } from '../store/builders';
import { iso, nerea, noonMs } from '../store/laptop';
import { makeDay, makeEntry } from '../review/training-days';
import { summaryOf } from '$lib/review/summary';
import { listAthletes } from '$lib/store/athlete-list';
import { saveAthlete } from '$lib/store/athletes';
import { wholeBackup } from '../store/whole-backup';
import { planRestore, restore } from '$lib/store/backup/restore';
import type { UseStore } from '$lib/store/database';
import { saveDay } from '$lib/store/days';
import { addEdit } from '$lib/store/edits';
import { keepExample, removeExample } from '$lib/store/example';
import { filesIn } from '$lib/store/folder/door';
import { noteOwnFates, noteShared, takeFate } from '$lib/store/folder/fates';
import { followMerges, mergeAthletes } from '$lib/store/folder/merges';
import { keepReport } from '$lib/store/folder/report';
import { keepMemory } from '$lib/store/folder/memory';
import { keepHandle, setConsent, setReasonConsent } from '$lib/store/folder/state';
import { visitFolder } from '$lib/store/folder/sync';
import { withdraw } from '$lib/store/folder/withdraw';
import { logFuel, saveGoal } from '$lib/store/fuel';
import { deleteAthlete, purgeAthletes, restoreAthlete } from '$lib/store/gone-athletes';
import { openJournal } from '$lib/store/journal';
import { deletePlan, savePlan } from '$lib/store/plans';
import { newestOfAthlete, openSessionIndex, orderOfSessions } from '$lib/store/session-index';
import { deleteSession, purgeDeleted, restoreSession, saveSummary } from '$lib/store/sessions';
import { setSetting } from '$lib/store/settings';
import { takeTable } from '$lib/store/take-table';
import { checkTrainings, mendMadeTrainings, mendTrainings, readTrainings } from '$lib/store/trainings';

export interface Verb {
	/** As the code exports it, and of what where it stands here twice. */
	name: string;
	world: () => Promise<World> | World;
	/** What the press does. */
	open: (page: Page) => (() => Promise<unknown>) | Promise<() => Promise<unknown>>;
	/** In many transactions, each of which stands: what was begun is gone on with by the next try. */
	isManyFold?: true;
}

const dayMs = 86_400_000;
const laterMs = noonMs + 60_000;
const report = {
	at: iso(noonMs),
	movedAt: iso(noonMs),
	listed: 1,
	opened: 0,
	...{ cameIn: counts(0), wentOut: counts(1) },
	problems: [],
	foreign: { count: 0, examples: [] }
};
function counts(sessions: number) {
	return { sessions, corrections: 0, cards: 0, days: 0, plans: 0, deletions: 0, restored: 0 };
}
const measured = (id: string) => {
	const record = makeRecord({ id });
	return { ...record, summary: summaryOf(record) };
};
const groupEntry = { athleteId: 'ath-2', startedAt: iso(noonMs), entry: makeEntry({ id: 'of-group' }) };
const memory = {
	flat: new Set(['a.session.json']),
	years: new Map([['2026', { names: new Set(['b.session.json']), listedMs: noonMs, isChanged: true }]]),
	seen: new Set(['a.session.json', 'b.session.json']),
	problems: new Map(),
	signedMs: new Map<string, number>(),
	unsentEdits: new Set<string>(),
	isSettled: true
};
// The handle of a browser is cloned by the browser; here anything that looks like one will do.
const handle = { getFileHandle: true, name: 'gym' } as unknown as FileSystemDirectoryHandle;

/** One in one transaction, over the gym. */
const verb = (name: string, work: (store: UseStore) => Promise<unknown>, world = gymWorld): Verb => ({
	name,
	world,
	open:
		({ store }) =>
		() =>
			work(store)
});

/** Everything that is exported of store/ and writes, as somebody's press sets it going. */
export const storeVerbs: readonly Verb[] = [
	{
		name: 'openJournal, append: the first of a session',
		world: gymWorld,
		open: ({ store }) => {
			const journal = openJournal(store, 'ses-2');
			return () => journal.append([startEntry, readingEntry()]);
		}
	},
	{
		name: 'openJournal, append: more',
		world: gymWorld,
		open: ({ store }) => {
			const journal = openJournal(store, 'ses-1', true);
			return () => journal.append([readingEntry({ ms: 1000 })]);
		}
	},
	{
		name: 'openJournal, finish',
		world: gymWorld,
		open: ({ store }) => {
			const journal = openJournal(store, 'ses-1', true);
			return () => journal.finish([measured('new-1'), measured('new-2')], [groupEntry]);
		}
	},
	{
		name: 'openJournal, finishAs',
		world: gymWorld,
		open: ({ store }) => {
			const journal = openJournal(store, 'ses-1', true);
			return () => journal.finishAs(() => ({ records: [measured('new-1')], entries: [] }));
		}
	},
	{
		name: 'openJournal, discard',
		world: gymWorld,
		open: ({ store }) => {
			const journal = openJournal(store, 'ses-1', true);
			return () => journal.discard();
		}
	},
	verb('saveSummary', (store) => saveSummary(store, 'b', measured('b').summary, { effort: 3 })),
	verb('deleteSession', (store) => deleteSession(store, 'a', laterMs)),
	verb('restoreSession', (store) => restoreSession(store, 'd')),
	verb('purgeDeleted', (store) => purgeDeleted(store, dayMs, laterMs)),
	verb('addEdit', (store) => addEdit(store, 'a', { at: iso(laterMs), told: { thresholdBpm: 165 } })),
	verb('saveAthlete', (store) =>
		saveAthlete(store, { ...nerea, thresholdBpm: 187, changedAt: iso(laterMs) }, nerea, laterMs)
	),
	verb(
		'listAthletes: the first visit',
		(store) => listAthletes(store, () => 'me'),
		async () => emptyWorld()
	),
	verb('setSetting', (store) => setSetting(store, 'units', 'imperial')),
	verb('savePlan', (store) => savePlan(store, { id: 'plan-1', plan: { ...padsPlan, roundS: 150 } }, laterMs)),
	verb('deletePlan', (store) => deletePlan(store, 'plan-1', laterMs)),
	verb('saveDay', (store) =>
		saveDay(store, 'ath-1', '2026-03-01', { changed: makeDay(makeEntry({ id: 'more' })) }, laterMs)
	),
	verb('logFuel', (store) => logFuel(store, 'weight', 'ath-1', '2026-03-01', 61)),
	verb('saveGoal', (store) => saveGoal(store, 'ath-1', { kg: 61, date: '2026-06-01' })),
	verb('keepExample', (store) =>
		keepExample(
			store,
			[{ id: 'ex-2', name: 'Ib', example: true }],
			[
				{
					record: {
						...measured('ex-2'),
						head: { ...measured('ex-2').head, startedAt: iso(noonMs), example: true }
					},
					edit: { at: iso(noonMs), effort: 6 }
				}
			],
			[{ athleteId: 'ex-2', date: '2026-03-01', day: makeDay(makeEntry()) }]
		)
	),
	verb('removeExample', (store) => removeExample(store)),
	verb('deleteAthlete', (store) => deleteAthlete(store, 'ath-1', laterMs)),
	verb('restoreAthlete', (store) => restoreAthlete(store, 'ath-4')),
	verb('purgeAthletes', (store) => purgeAthletes(store, dayMs, laterMs)),
	verb('takeTable', (store) => {
		const training = { activity: 'bag', minutes: 40, effort: 5 };
		const row = { line: 2, athleteId: 'ath-1', name: 'Nerea', date: '2026-03-01' };
		const rows = [
			{ ...row, training },
			{ ...row, line: 3, date: '2026-02-27' }
		];
		return takeTable(store, rows, () => undefined, laterMs);
	}),
	verb('readTrainings', (store) => readTrainings(store, new Date(0), new Date(laterMs))),
	verb('mendTrainings', (store) => mendTrainings(store)),
	verb('mendMadeTrainings', (store) => mendMadeTrainings(store)),
	verb('checkTrainings', (store) => checkTrainings(store)),
	verb('orderOfSessions', async (store) => (await orderOfSessions(store, openSessionIndex())).ids),
	verb('newestOfAthlete', (store) => newestOfAthlete(store, openSessionIndex(), 'ath-1')),
	{
		name: 'restore',
		world: gymWorld,
		open: async ({ store }) => {
			const answer = await planRestore(store, await otherBackup());
			if (answer.status !== 'ready') throw new Error(answer.problem);
			return () => restore(store, answer, () => undefined, laterMs);
		}
	},
	verb('mergeAthletes', (store) => mergeAthletes(store, { ...nerea, thresholdBpm: 190 }, 'ath-3', laterMs)),
	verb('followMerges', (store) => followMerges(store, laterMs), mergedWorld),
	verb('setConsent', (store) => setConsent(store, 'ath-1', false)),
	verb('setReasonConsent', (store) => setReasonConsent(store, 'ath-1', true)),
	verb('keepMemory', (store) => keepMemory(store, memory)),
	verb('keepHandle', (store) => keepHandle(store, handle)),
	verb('noteOwnFates', (store) => noteOwnFates(store, laterMs), sharedWorld),
	verb('noteShared', (store) => noteShared(store, 'session', 'y', laterMs), sharedWorld),
	verb('takeFate', (store) =>
		takeFate(store, 'session', 'a', { deleted: true, at: iso(laterMs), by: 'b' }, laterMs)
	),
	verb('keepReport', (store) => keepReport(store, report)),
	{
		name: 'visitFolder',
		world: sharedWorld,
		isManyFold: true,
		open:
			({ store, folder }) =>
			() =>
				visitFolder(store, filesIn(folder.handle), noonMs + 3 * 3_600_000)
	},
	{
		name: 'withdraw',
		world: sharedWorld,
		isManyFold: true,
		open:
			({ store, folder }) =>
			() =>
				withdraw(store, filesIn(folder.handle), 'ath-1', laterMs)
	}
];

let backup: Promise<string> | undefined;
/** The backup of another gym, made once. */
function otherBackup(): Promise<string> {
	const { indexedDB } = globalThis;
	backup ??= (async () => {
		const { disk } = await otherGymWorld();
		const { text } = await wholeBackup(await pageOver(disk), new Date(noonMs));
		globalThis.indexedDB = indexedDB;
		return text;
	})();
	return backup;
}
