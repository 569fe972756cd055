import { dayIn, dayPrefix, joinDay, unsentKey, unsentPrefix } from '../days';
import { isDamage, unlessDamaged } from '../damage';
import { isObject, keysUnder, read, valueAt, write } from '../database';
import { machineIn } from '../machine';
import { fatesOf } from './known-fate';
import { daysText } from './text';
import type { DaysName } from './names';
import { resolver, type Travel } from './travel';
import type { FolderVisit } from './visit';
import { dayKey, type StoredDay } from '$lib/record/day';
import { latestAt } from '$lib/record/registers';
import { fileMoment } from '$lib/record/stamp';
import { grouped } from '$lib/record/grouped';

/**
 * Training days in the shared folder: a file an athlete, month and machine, that holds all that the machine knew of the
 * month. Whoever reads one joins it, entry by entry, so the order of files means nothing.
 */

/** Takes in what was entered elsewhere. */
export async function takeDays(visit: FolderVisit): Promise<void> {
	const fates = await read(visit.store, (objects) => fatesOf(objects, 'athlete'));
	const resolve = resolver(fates);
	for (const name of visit.of('days')) {
		// Of a card that was merged they are the other one's, which is said there, however often a file comes again.
		const id = resolve(name.id);
		if (fates.get(id)?.deleted || visit.isSeen(name)) continue;
		const content = await visit.open(name);
		if (content?.kind !== 'days') continue;
		let problem: string | undefined;
		for (const [date, day] of content.days) {
			try {
				const isNews = await write(visit.store, async (objects) => {
					const isNews = await joinDay(objects, dayKey(id, date), day);
					if (isNews && id !== name.id) objects.put(true, unsentKey(id, date));
					return isNews;
				});
				if (isNews) visit.note('days');
			} catch (error) {
				if (!isDamage(error)) throw error;
				problem = error.message;
			}
		}
		if (problem === undefined) visit.took(name);
		else await visit.refuse(name, problem);
	}
}

/** Writes the months of athletes who agreed that hold something new, and takes away older files of this machine. */
export async function giveDays(visit: FolderVisit, travel: Travel): Promise<void> {
	if (travel.consents.size === 0) return;
	const [unsent, me] = await write(visit.store, (objects) =>
		Promise.all([keysUnder(objects, unsentPrefix), machineIn(objects)])
	);
	const isUnsent = new Set(unsent);
	const own = visit.of('days').filter(({ by }) => by === me);
	for (const id of travel.consents) {
		const [keys, card] = await read(visit.store, (objects) =>
			Promise.all([keysUnder(objects, `${dayPrefix}${id}/`), valueAt(objects, `athlete/${id}`)])
		);
		if (!isObject(card) || card.example === true) continue;
		const months = grouped(keys, (key) => unsentKey(id, key.split('/')[2] ?? ''));
		for (const [mark, ofMonth] of months) {
			const month = mark.slice(`${unsentPrefix}${id}/`.length);
			const before = own.filter((name) => name.id === id && name.month === month);
			if (before.length === 0 || isUnsent.has(mark))
				await giveMonth(visit, { id, month, me }, ofMonth, before);
		}
	}
}

async function giveMonth(
	visit: FolderVisit,
	{ id, month, me }: { id: string; month: string; me: string },
	keys: readonly string[],
	before: readonly DaysName[]
): Promise<void> {
	const days = await read(visit.store, async (objects) => {
		const found = new Map<string, StoredDay>();
		for (const key of keys) found.set(key.split('/')[2] ?? '', await unlessDamaged(dayIn(objects, key), {}));
		return found;
	});
	const saidAt = [...days.values()]
		.map((day) => latestAt(day))
		.sort()
		.at(-1);
	if (!saidAt) return;
	const last =
		before
			.map(({ at }) => at)
			.sort()
			.at(-1) ?? '';
	const name: DaysName = { kind: 'days', id, month, at: fileMoment(last, saidAt, [...days]), by: me };
	await visit.write(name, await daysText(name, days));
	visit.report.wentOut.days++;
	for (const older of before) await visit.remove(older);
	// Something may have been entered since the days were read.
	await write(visit.store, async (objects) => {
		const now = await Promise.all(keys.map((key) => unlessDamaged<StoredDay>(dayIn(objects, key), {})));
		const isAsSent = keys.every(
			(key, i) => latestAt(now[i]!) === latestAt(days.get(key.split('/')[2] ?? '')!)
		);
		const count = (await keysUnder(objects, `${dayPrefix}${id}/${month}`)).length;
		if (isAsSent && count === keys.length) objects.delete(unsentPrefix + `${id}/${month}`);
	});
}
