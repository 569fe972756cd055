import type { Laptop } from './laptop';
import { baseName } from './file-sharer';
import { parsedName } from '$lib/store/folder/names';

/**
 * What the first laptop and another show differently, in words.
 *
 * @param isOf whose things are compared; absent where everybody's are
 */
export async function differencesOf(
	laptops: readonly Laptop[],
	isOf?: (athleteId: string) => boolean
): Promise<string[]> {
	const [first, ...others] = laptops as [Laptop, ...Laptop[]];
	const [shown, all] = [await first.shown(isOf), await first.shown()];
	const different: string[] = [];
	for (const laptop of others) {
		const [theirs, allTheirs] = [await laptop.shown(isOf), await laptop.shown()];
		for (const what of new Set([...shown.keys(), ...theirs.keys()])) {
			const [one, other] = [shown.get(what), theirs.get(what)];
			// Whose it is may have been put right where that may not be told yet.
			const isApart = all.get(what) !== one || allTheirs.get(what) !== other;
			if (one !== other && !isApart)
				different.push(`${what} on ${first.number} and ${laptop.number}:\n${one}\n${other}`);
		}
	}
	return different;
}

/**
 * What a laptop wrote, since its folder held `before`, of somebody who did not agree there, and the reasons of whoever did not
 * agree to those.
 */
export async function toldUnasked(laptop: Laptop, before: ReadonlyMap<string, string>): Promise<string[]> {
	const agreed = await laptop.agreed();
	const toReasons = new Set((await laptop.keys('folder/reason/')).map((key) => key.split('/')[2] ?? ''));
	const told: string[] = [];
	for (const [file, { text }] of laptop.replica.folder.files) {
		const name = parsedName(baseName(file));
		if (!name || before.get(file) === text) continue;
		const { head } = JSON.parse(text) as { head?: { practice: boolean; athlete: { athleteId: string } } };
		const of = head?.athlete.athleteId ?? (name.kind === 'athlete' || name.kind === 'days' ? name.id : '');
		if (head?.practice || (of && !agreed.has(of))) told.push(`${file} of ${of}`);
		if (text.includes('"blows') && !toReasons.has(of)) told.push(`the reason in ${file}`);
	}
	return told;
}
