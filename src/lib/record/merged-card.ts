import type { Athlete } from './athlete';
import { type Blow } from './blow';
import { heldTo, strictest, strictestLock, withStop } from './blow-changes';
import type { Lock } from './lock';
import { isStopOfBlows } from './way-back';

const groups = [
	['thresholdBpm', 'thresholdDate', 'thresholdSource', 'thresholdBasis'],
	['restBpm', 'restDate', 'restPosture']
] as const satisfies readonly (readonly (keyof Athlete)[])[];

/**
 * One card of two that are one person's: what `kept` says stays, what it does not say comes from `other`. A
 * value comes with its day and source or not at all; earlier thresholds and weights are put together; a caution
 * on either card stands, and so do every blow to the head, with its reason or as a bare lock, and the later end of a
 * stop on sparring.
 *
 * @example mergedCard({ id: 'a', name: 'Nerea' }, { id: 'b', name: 'N.', restBpm: 52 })
 * // { id: 'a', name: 'Nerea', restBpm: 52 }
 */
export function mergedCard(kept: Athlete, other: Athlete): Athlete {
	const fill = { ...other };
	for (const [main, ...more] of groups)
		if (kept[main] !== undefined) for (const member of [main, ...more]) delete fill[member];
	const card: Athlete = { ...fill, ...kept };
	const thresholds = [...(kept.olderThresholds ?? []), ...(other.olderThresholds ?? [])];
	if (kept.thresholdBpm !== undefined && other.thresholdBpm !== undefined && !isSame(kept, other))
		thresholds.push({
			bpm: other.thresholdBpm,
			...(other.thresholdDate && { date: other.thresholdDate }),
			...(other.thresholdSource && { source: other.thresholdSource }),
			...(other.thresholdBasis && { basis: other.thresholdBasis })
		});
	if (thresholds.length > 0)
		card.olderThresholds = thresholds.toSorted((one, two) => ((one.date ?? '') < (two.date ?? '') ? -1 : 1));
	const weights = new Map(
		[...(other.weights ?? []), ...(kept.weights ?? [])].map((weight) => [weight.date, weight])
	);
	if (weights.size > 0)
		card.weights = [...weights.values()].sort((one, two) => (one.date < two.date ? -1 : 1));
	const blows = new Map<string, Blow>();
	for (const blow of [...(kept.blows ?? []), ...(other.blows ?? [])]) {
		const same = blows.get(blow.day);
		blows.set(blow.day, same ? strictest([same, blow]) : blow);
	}
	const locks = new Map<string, Lock>();
	for (const lock of [...(kept.locks ?? []), ...(other.locks ?? [])]) {
		const [blow, same] = [blows.get(lock.day), locks.get(lock.day)];
		if (blow) blows.set(lock.day, heldTo(blow, lock));
		else locks.set(lock.day, same ? strictestLock([same, lock]) : lock);
	}
	delete card.locks;
	if (locks.size > 0) card.locks = [...locks.values()].sort((one, two) => (one.day < two.day ? -1 : 1));
	if (blows.size > 0) card.blows = [...blows.values()].sort((one, two) => (one.day < two.day ? -1 : 1));
	const bouts = new Map([...(other.bouts ?? []), ...(kept.bouts ?? [])].map((bout) => [bout.id, bout]));
	if (bouts.size > 0) card.bouts = [...bouts.values()].sort((one, two) => (one.day < two.day ? -1 : 1));
	const stops = [kept, other].flatMap((one) => (isStopOfBlows(one) ? [] : (one.noSparringUntil ?? [])));
	if (stops.length > 0) card.noSparringUntil = stops.sort().at(-1)!;
	const notes = [kept.notes, other.notes].filter((text) => text);
	if (notes.length > 0) card.notes = notes.join('\n\n');
	return withStop(card);
}

const isSame = (one: Athlete, other: Athlete) =>
	one.thresholdBpm === other.thresholdBpm && one.thresholdDate === other.thresholdDate;
