import { vi } from 'vitest';
import {
	arm,
	faultKinds,
	isPlayed,
	isSilenced,
	pageOver,
	stepsSeen,
	type Disk,
	type Fault
} from './faulty-requests';
import { textOf } from './full-store';
import type { Verb } from './store-verbs';
import { differing, entriesOf, lost, openPage, sharedView, wholeView, worldOf, type View } from './views';
import type { World } from './worlds';
import { noonMs } from '../store/laptop';
import { StoreError, type UseStore } from '$lib/store/database';
import { onKept } from '$lib/store/kept-changes';
import { openSessionIndex, orderOfSessions } from '$lib/store/session-index';
import { readTrainings } from '$lib/store/trainings';

export interface RequestFigures {
	verbs: number;
	/** Steps of them that failed, each in a run of its own. */
	faults: number;
	failures: string[];
}

/** What a try came to. */
interface Outcome {
	/** `open`: nothing was answered. */
	status: 'done' | 'refused' | 'open';
	/** Of one that was done what it answered, of one that was refused why. */
	answer: unknown;
	/** Whoever shows kept things was told of some. */
	isTold: boolean;
}

/** Lets each step of each verb fail in each way once, in a run of its own. */
export async function failEveryRequest(verbs: readonly Verb[]): Promise<RequestFigures> {
	const figures: RequestFigures = { verbs: verbs.length, faults: 0, failures: [] };
	vi.useFakeTimers({ toFake: ['Date'], now: noonMs });
	try {
		for (const verb of verbs) await failEach(verb, figures);
	} finally {
		arm();
		vi.useRealTimers();
	}
	return figures;
}

async function failEach(verb: Verb, figures: RequestFigures): Promise<void> {
	const before = await verb.world();
	const first = await untouched(verb, before);
	const second = await untouched(verb, first.world);
	const known = { before, first, second };
	for (const kind of faultKinds)
		for (let step = 1; ; step++) {
			const found = await playFault(verb, { kind, step }, known);
			if (!found) break;
			figures.faults++;
			for (const what of found) figures.failures.push(`${verb.name}, ${kind} at step ${step}: ${what}`);
		}
}

interface Untouched {
	world: World;
	view: View;
	outcome: Outcome;
}

async function untouched(verb: Verb, world: World): Promise<Untouched> {
	const page = await openPage(world);
	const outcome = await settled(await verb.open(page), page.store);
	const after = worldOf(page);
	return { world: after, view: await viewOf(verb, after), outcome };
}

const viewOf = (verb: Verb, world: World): View | Promise<View> =>
	verb.isManyFold ? sharedView(world) : wholeView(world);

/** What is wrong after a fault; undefined where the run was over before its step. */
async function playFault(
	verb: Verb,
	fault: Fault,
	{ before, first, second }: { before: World; first: Untouched; second: Untouched }
): Promise<string[] | undefined> {
	let page = await openPage(before);
	let press = await verb.open(page);
	arm(fault);
	const outcome = await settled(press, page.store);
	const wasPlayed = isPlayed();
	arm();
	if (!wasPlayed) return undefined;
	const left = worldOf(page);

	// A page that is never answered is closed by somebody, and opened again.
	if (fault.kind === 'silence') {
		page = await openPage(left);
		press = await verb.open(page);
	}
	const again = await settled(press, page.store);
	const mended = worldOf(page);

	const found: string[] = [];
	const view = await viewOf(verb, left);
	const isBefore = differing(view, await viewOf(verb, before)).length === 0;
	const isAfter = differing(view, first.view).length === 0;
	if (verb.isManyFold) found.push(...lost(left, before, first.world));
	else if (!isBefore && !isAfter) found.push('neither all nor nothing was written');
	if (outcome.status === 'done') {
		if (!isAfter) found.push('it said done, and was not');
		if (textOf(outcome.answer) !== textOf(first.outcome.answer)) found.push('it answered something else');
	}
	if (outcome.status === 'refused' && !(outcome.answer instanceof StoreError))
		found.push(`it ended with ${String(outcome.answer)}`);
	if (outcome.status === 'open' && fault.kind !== 'silence') found.push('it never ended');
	if (outcome.status !== 'open' && !verb.isManyFold) {
		if (outcome.isTold && isBefore) found.push('others were told of what was not written');
		if (!outcome.isTold && first.outcome.isTold && isAfter && !isBefore)
			found.push('nobody was told of what was written');
	}

	const expected = isBefore || verb.isManyFold ? first : second;
	if (again.status !== expected.outcome.status) found.push(`the next try came to ${String(again.answer)}`);
	const others = differing(await viewOf(verb, mended), expected.view);
	if (others.length > 0) found.push(`the next try left something else at ${others.join(', ')}`);
	for (const world of [left, mended]) found.push(...(await untrueCaches(world)));
	return found;
}

/** So many turns in a row without a step asked for: nothing comes any more. */
const idleTurns = 12;
/** Work outside the database, a checksum say, may take many turns. */
const mostTurns = 5000;

async function settled(press: () => Promise<unknown>, store: UseStore): Promise<Outcome> {
	const outcome: Outcome = { status: 'open', answer: undefined, isTold: false };
	const stop = onKept(store, () => (outcome.isTold = true));
	void press().then(
		(answer) => Object.assign(outcome, { status: 'done', answer }),
		(answer: unknown) => Object.assign(outcome, { status: 'refused', answer })
	);
	let [seen, idle] = [0, 0];
	for (let turn = 0; outcome.status === 'open' && turn < mostTurns; turn++) {
		await nextTurn();
		idle = seen === stepsSeen() ? idle + 1 : 0;
		seen = stepsSeen();
		if (isSilenced() && idle > idleTurns) break;
	}
	// What it left to come by itself, an event say, comes before the next press.
	for (let turn = 0; turn < 3; turn++) await nextTurn();
	stop();
	return outcome;
}

const nextTurn = () => new Promise<void>((resolve) => setTimeout(resolve));

/** What lists say from their caches, where that is another thing than without them. */
async function untrueCaches(world: World): Promise<string[]> {
	const all = textOf(world.disk);
	if (soundDisks.has(all)) return [];
	const bare: Disk = new Map([['corner-minute', new Map(entriesOf(world))]]);
	if ((await listedFrom(world.disk)) !== (await listedFrom(bare))) return ['a cache is untrue'];
	soundDisks.add(all);
	return [];
}

/** Most faults leave one of two disks. */
const soundDisks = new Set<string>();

async function listedFrom(disk: Disk): Promise<string> {
	const store = await pageOver(disk);
	const trainings = await readTrainings(store, new Date(0), new Date(noonMs * 2));
	return textOf([trainings, (await orderOfSessions(store, openSessionIndex())).ids]);
}
