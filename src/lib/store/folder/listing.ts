import { isNoFolder, type FolderFiles } from './door';
import type { FolderMemory, YearMemory } from './memory';
import { isYear, pathOf, placeOfYear, yearOf, yearsFolder } from './places';

const dayMs = 86_400_000;
/** How long a year may go unlisted into which nobody writes. */
const weekMs = 7 * dayMs;
/** How long a year is listed at each visit after something came into it. */
const liveMs = 30 * dayMs;
const mostNames = 500_000;

/** What a look into the folder found besides names. */
export interface Look {
	/** Paths of what is none of ours. */
	foreign: string[];
	/** Folders that could not be listed, and why: what lay there when they last were counts. */
	unread: { path: string; error: unknown }[];
	/** Years that were not listed, because that is not due. */
	leftOut: string[];
}

/**
 * Lists the folder itself and the years that are due, into `memory`: those next to this one by the clock of this laptop, those
 * into which something came lately whatever their number (the clock of who writes there may be wrong by many years), those
 * never listed, those not listed for a week; all of them where `everyYear`. Rejects where the folder itself cannot be listed,
 * and then `memory` is as it was.
 */
export async function lookInto(
	files: FolderFiles,
	memory: FolderMemory,
	nowMs: number,
	everyYear: boolean
): Promise<Look> {
	const look: Look = { foreign: [], unread: [], leftOut: [] };
	let count = 0;
	const bound = (more: number) => {
		if ((count += more) > mostNames)
			throw new TooMany(`There are more than ${mostNames} names in this folder.`);
	};
	const namesIn = async (folder?: string) => {
		const names = new Set<string>();
		for await (const name of files.names(folder)) {
			bound(1);
			names.add(name);
		}
		return names;
	};
	const tryToList = async (path: string): Promise<Set<string> | 'no folder' | 'unread'> => {
		const before = count;
		try {
			return await namesIn(path);
		} catch (error) {
			if (error instanceof TooMany) throw error;
			count = before;
			if (isNoFolder(error)) look.foreign.push(path);
			else look.unread.push({ path, error });
			return isNoFolder(error) ? 'no folder' : 'unread';
		}
	};

	const inItself = await namesIn();
	const years = new Map<string, YearMemory>();
	const keep = (year: string, known: YearMemory) => {
		bound(known.names.size);
		years.set(year, known);
	};
	const outer = inItself.delete(yearsFolder) ? await tryToList(yearsFolder) : 'no folder';
	if (outer === 'unread') for (const [year, known] of memory.years) keep(year, known);
	for (const name of outer instanceof Set ? outer : []) {
		const known = memory.years.get(name);
		if (!isYear(name)) look.foreign.push(pathOf(yearsFolder, name));
		else if (known && !everyYear && !isDue(name, known, nowMs)) {
			look.leftOut.push(name);
			keep(name, known);
		} else {
			const names = await tryToList(placeOfYear(name));
			if (names instanceof Set) years.set(name, listedYear(known, names, nowMs, memory.years.size > 0));
			else if (names === 'unread' && known) keep(name, known);
		}
	}
	memory.flat = inItself;
	memory.years = years;
	return look;
}

class TooMany extends Error {}

function isDue(year: string, { listedMs, foundMs }: YearMemory, nowMs: number): boolean {
	// A clock that was put right may have noted a moment that is to come.
	const isWithin = (ms: number | undefined, lengthMs: number) =>
		ms !== undefined && Math.abs(nowMs - ms) < lengthMs;
	const isNear = Math.abs(Number(year) - Number(yearOf(nowMs))) <= 1;
	return isNear || isWithin(foundMs, liveMs) || !isWithin(listedMs, weekMs);
}

function listedYear(
	known: YearMemory | undefined,
	names: Set<string>,
	nowMs: number,
	isVisitedBefore: boolean
): YearMemory {
	const isFound = known ? [...names].some((name) => !known.names.has(name)) : isVisitedBefore;
	const foundMs = isFound ? nowMs : known?.foundMs;
	const isSame = known !== undefined && !isFound && names.size === known.names.size;
	return {
		names,
		listedMs: nowMs,
		...(foundMs !== undefined && { foundMs }),
		isChanged: known?.isChanged === true || !isSame
	};
}
