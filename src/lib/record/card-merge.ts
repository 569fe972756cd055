import { athleteSchema, type Athlete } from './athlete';
import { cardOf, isBlowRegister, looksAlike, shownOf, strapRegister, valuesOf } from './card-registers';
import {
	cardStateSchema,
	joined,
	latest,
	latestAt,
	mostBefore,
	type CardState,
	type Said
} from './card-state';
import { check, type Checked } from './check';
import { isSame, textOf } from './same';
import { after, type Stamp } from './stamp';

/** The state of a card that was kept without stamps: all of it was said at the card's last change, as far as is known. */
export function unstamped(card: Athlete, stamp: Stamp = { at: card.changedAt ?? '', by: '' }): CardState {
	return Object.fromEntries(
		Array.from(valuesOf(card), ([register, value]) => [register, [{ value, ...stamp }]])
	);
}

/**
 * A change by hand: what differs between the two cards is said now, in knowledge of what `before` shows. What somebody
 * else said of the same register meanwhile stays beside it.
 *
 * @param wanted the moment by this machine's clock; a later one is taken where something later is known of the card
 */
export function changedBy(
	state: CardState,
	before: Athlete | undefined,
	changed: Athlete,
	wanted: { ms: number; by: string }
): CardState {
	const [was, is] = [before ? valuesOf(before) : new Map<string, unknown>(), valuesOf(changed)];
	const at = after(latestAt(state), wanted.ms);
	const next: CardState = { ...state };
	for (const register of new Set([...was.keys(), ...is.keys()])) {
		const value = is.get(register);
		const known = state[register] ?? [];
		// What a card shows besides its registers (a threshold found elsewhere) is said by whoever keeps it there.
		if (isSame(was.get(register), value) && (known.length > 0 || value === undefined)) continue;
		// Where a screen shows something else than is known by now, it knew what that was written in knowledge of.
		const isUpToDate = !known[0] || !before || isSame(shownOf(register, known), was.get(register));
		const knew: Record<string, string> = {};
		for (const said of known) {
			const seen = { ...said.knew, ...(isUpToDate && { [said.by]: said.at }) };
			for (const [by, moment] of Object.entries(seen)) if (moment >= (knew[by] ?? '')) knew[by] = moment;
		}
		const earlier = [was.get(register), ...(known[0]?.was ?? [])].filter((one) => one !== undefined);
		const said: Said = {
			at,
			by: wanted.by,
			...(value !== undefined && { value }),
			...(Object.keys(knew).length > 0 && { knew }),
			...(earlier.length > 0 && keepsEarlier(register) && { was: earlier.slice(0, mostBefore) })
		};
		next[register] = latest([...known, said]);
	}
	return next;
}

/** Entries of lists have a register for each that ever held; a blow has one for all that was ever said of it. */
const keepsEarlier = (register: string) => !register.includes('/') || isBlowRegister(register);

/**
 * What a card says that was written by a page without stamps. It hands on whatever it holds: of that only what was
 * changed there counts as said, as far as that can be told. What it lacks is not told, and never taken away.
 *
 * @param earlier the card that the same machine wrote before, if it is known
 */
export function saidWithoutStamps(
	state: CardState,
	card: Athlete,
	stamp: Stamp,
	earlier?: { card: Athlete; at: string }
): CardState {
	const before = earlier && valuesOf(earlier.card);
	const said: CardState = {};
	for (const [register, value] of valuesOf(card)) {
		const known = state[register] ?? [];
		if (known.some((one) => isSame(one.value, value))) continue;
		if (
			before
				? isSame(before.get(register), value)
				: known.some(({ was }) => was?.some((one) => isSame(one, value)))
		)
			continue;
		const knew: Record<string, string> = earlier ? { [stamp.by]: earlier.at } : {};
		for (const one of known)
			if (before && isSame(before.get(register), one.value))
				Object.assign(knew, one.knew, { [one.by]: one.at });
		said[register] = [{ value, ...stamp, ...(Object.keys(knew).length > 0 && { knew }) }];
	}
	return said;
}

/** A card as it is kept, with all that is known of who said what of it; undefined where there is no sound one. */
export function keptCard(
	storedCard: unknown,
	storedState: unknown
): { card: Athlete; state: CardState } | undefined {
	const { value: card } = check(athleteSchema, storedCard);
	if (!card) return undefined;
	const { value: state } = check(cardStateSchema, storedState);
	if (!state) return { card, state: unstamped(card) };
	const shown = cardOf(card.id, state).value;
	// A window with an older version of this page writes the card alone.
	const isElsewhere = !shown || textOf([...valuesOf(shown)]) !== textOf([...valuesOf(card)]);
	const ms = Date.parse(card.changedAt ?? new Date(0).toISOString());
	return { card, state: isElsewhere ? changedBy(state, shown, card, { ms, by: '' }) : state };
}

/**
 * A card with what is said of it elsewhere. `isNews`: it looks different for it; who changed it last is no part of its look.
 *
 * @param saidOf what is said, given what is known here
 */
export function joinedCard(
	id: string,
	kept: { card: Athlete; state: CardState } | undefined,
	saidOf: (state: CardState) => CardState,
	changedAt: string | undefined
): { state: CardState; card: Checked<Athlete>; isNews: boolean } {
	const known = kept?.state ?? {};
	const state = joined(known, saidOf(known));
	const card = cardOf(id, state, laterChange(kept?.card.changedAt, changedAt));
	return { state, card, isNews: !kept || !looksAlike(kept.card, card.value) };
}

/** The later of two moments of change; absent where neither is known. */
export function laterChange(one: string | undefined, other: string | undefined): string | undefined {
	return (one ?? '') > (other ?? '') ? one : other;
}

/** Something said of a card that is not shown, because somebody unaware of it said something else later. */
export interface Beside extends Stamp {
	register: string;
	value?: unknown;
}

/** What stands beside the card's values. Thresholds are among those that held before, and not here. */
export function besideOf(state: CardState): Beside[] {
	return Object.entries(state).flatMap(([register, [shown, ...others]]) =>
		register === 'threshold' || register === strapRegister
			? []
			: others
					.filter(({ value }) => !isSame(value, shown?.value))
					.map(({ at, by, value }) => ({ register, at, by, ...(value !== undefined && { value }) }))
	);
}
