import { vi } from 'vitest';
import type { RequestFigures } from './every-request';
import { callFaults, FaultyFolder, type CallFault } from './faulty-folder';
import { differing, lost, openPage, sharedView, worldOf, type View } from './views';
import type { World } from './worlds';
import { noonMs } from '../store/laptop';
import { answerWithinMs } from '$lib/record/journal';
import { SharedFolder } from '$lib/store/folder/shared-folder.svelte';

const hourMs = 3_600_000;

/** Lets each call of a visit to a shared folder fail in each way once, or only these calls. */
export async function failEveryFileCall(
	world: World,
	calls: readonly number[] = Array.from({ length: 10_000 }, (_, i) => i + 1)
): Promise<RequestFigures> {
	const figures: RequestFigures = { verbs: 1, faults: 0, failures: [] };
	vi.useFakeTimers({ toFake: ['Date', 'setInterval', 'clearInterval', 'performance'], now: noonMs });
	try {
		const whole = await untouched(world);
		for (const kind of callFaults)
			for (const call of calls) {
				const found = await playFault(world, { kind, call }, whole);
				if (!found) break;
				figures.faults++;
				figures.failures.push(...found.map((what) => `visit, ${kind} at call ${call}, ${what}`));
			}
	} finally {
		vi.useRealTimers();
	}
	return figures;
}

interface Whole {
	world: World;
	view: View;
}

async function openFolder(world: World) {
	const { store } = await openPage(world);
	const folder = FaultyFolder.over(world.folder);
	const shared = new SharedFolder(store, {
		isFree: () => true,
		nowMs: () => noonMs + 3 * hourMs,
		door: {
			pick: async () => folder.handle,
			mayUse: async () => true,
			ask: async () => true
		}
	});
	await shared.load();
	return { store, folder, shared };
}

async function untouched(world: World): Promise<Whole> {
	const page = await openFolder(world);
	await page.shared.choose();
	const after = worldOf(page);
	return { world: after, view: await sharedView(after) };
}

/** What is wrong after a fault; undefined where the visit was over before that call. */
async function playFault(
	before: World,
	fault: { kind: CallFault; call: number },
	whole: Whole
): Promise<string[] | undefined> {
	let page = await openFolder(before);
	page.folder.fault = fault;
	const visit = page.shared.choose();
	const isOver = await Promise.race([visit.then(() => true), page.folder.hung().then(() => false)]);
	const { played } = page.folder;
	if (!played) return undefined;
	if (!isOver) vi.advanceTimersByTime(2 * answerWithinMs);
	const isNoted =
		page.shared.problem !== '' || page.shared.access === 'ask' || page.shared.report!.problems.length > 0;
	const left = worldOf(page);

	page.folder.fault = undefined;
	if (!isOver) page = await openFolder(left);
	if (!isOver) await page.shared.choose();
	else if (page.shared.access === 'ask') await page.shared.allow();
	else await page.shared.visit();
	const { problem, report } = page.shared;
	const mended = worldOf(page);

	const found = lost(left, before, whole.world);
	const isWhole = differing(await sharedView(left), whole.view).length === 0;
	// A file that another laptop has removed meanwhile is none that is missed.
	const isElsewhere = fault.kind === 'NotFoundError' && /^(getFileHandle|getFile|text)\b/.test(played);
	if (!isWhole && !isNoted && !isElsewhere) found.push('nothing was said');
	if (!isOver && fault.kind !== 'silence') found.push('it never ended');
	if (problem) found.push(`the next visit says: ${problem}`);
	if (report?.problems.length) found.push(`the next visit names ${report.problems[0]!.name}`);
	const others = differing(await sharedView(mended), whole.view);
	if (others.length > 0) found.push(`the next visit left something else at ${others.join(', ')}`);
	return found.map((what) => `${played}: ${what}`);
}
