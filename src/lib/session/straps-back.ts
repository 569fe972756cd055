import { wornBy } from '$lib/record/corner-so-far';
import type { Strap } from '$lib/gatt/strap';
import type { Clock } from '$lib/time/clock';
import type { Recorder } from './recorder';

/**
 * Asks the browser for the straps of corners that wait for theirs, as after a reload, without a chooser. A strap is
 * known by its name alone, so it is taken only where one corner wore one of that name last and the browser permits one
 * device of that name; everybody else pairs by hand. `take` is told each strap, not yet connected, and whose it is.
 */
export async function askStrapsBack(
	recorder: Recorder,
	clock: Clock,
	take: (corner: number, strap: Strap) => Promise<void>
): Promise<void> {
	const awaited = awaitedBy(recorder);
	if (awaited.size === 0) return;
	const { permittedStraps } = await import('$lib/gatt/pair-strap');
	const straps = await permittedStraps({ names: [...awaited.keys()], clock });
	await Promise.all(straps.map((strap) => take(awaited.get(strap.name)!, strap)));
}

/** The corners that wait for a real strap, by its name; without those of which several wore one of the same name. */
function awaitedBy(recorder: Recorder): Map<string, number> {
	const awaited = new Map<string, number>();
	const shared = new Set<string>();
	for (const corner of recorder.straps.wearing) {
		const { strapName, practice } = wornBy(recorder.cornerOf(corner)!);
		if (practice || strapName === undefined) continue;
		if (awaited.has(strapName)) shared.add(strapName);
		awaited.set(strapName, corner);
	}
	for (const name of shared) awaited.delete(name);
	return awaited;
}
