import { athleteSchema, type Athlete } from './athlete';
import { cardOf, looksAlike, shownOf, strapRegister, valuesOf } from './card-registers';
import { check, type Checked } from './check';
import { isBareLock, isBlowRegister, locksApart, withLocks } from './lock-registers';
import { changedRegisters, joined, own, registersSchema, type Registers } from './registers';
import { isSame, textOf } from './same';
import type { Stamp } from './stamp';

/** The state of a card that was kept without stamps: all of it was said at the card's last change, as far as is known. */
export function unstamped(card: Athlete, stamp: Stamp = { at: card.changedAt ?? '', by: '' }): Registers {
	return locksApart(
		Object.fromEntries(Array.from(valuesOf(card), ([register, value]) => [register, [{ value, ...stamp }]]))
	);
}

/** A change by hand, from the card that it was made to: `changedRegisters`. */
export function changedBy(
	state: Registers,
	before: Athlete | undefined,
	changed: Athlete,
	wanted: { ms: number; by: string }
): Registers {
	const said = changedRegisters(withLocks(state), before && valuesOf(before), valuesOf(changed), wanted, {
		shownOf,
		// Entries of lists have a register for each that ever held; a blow has one for all that was ever said of it.
		keepsEarlier: (register) => !register.includes('/') || isBlowRegister(register)
	});
	return locksApart(said);
}

/**
 * What a card says that was written by a page without stamps. It hands on whatever it holds: of that only what was
 * changed there counts as said, as far as that can be told. What it lacks is not told, and never taken away.
 *
 * @param earlier the card that the same machine wrote before, if it is known
 */
export function saidWithoutStamps(
	state: Registers,
	card: Athlete,
	stamp: Stamp,
	earlier?: { card: Athlete; at: string }
): Registers {
	const before = earlier && valuesOf(earlier.card);
	const all = withLocks(state);
	const said: Registers = {};
	for (const [register, value] of valuesOf(card)) {
		const known = own(all, register) ?? [];
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
	return locksApart(said);
}

/** A card as it is kept, with all that is known of who said what of it; undefined where there is no sound one. */
export function keptCard(
	storedCard: unknown,
	storedState: unknown
): { card: Athlete; state: Registers } | undefined {
	const { value: card } = check(athleteSchema, storedCard);
	if (!card) return undefined;
	const { value: state } = check(registersSchema, storedState);
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
	kept: { card: Athlete; state: Registers } | undefined,
	saidOf: (state: Registers) => Registers,
	changedAt: string | undefined
): { state: Registers; card: Checked<Athlete>; isNews: boolean } {
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

/**
 * What stands beside the card's values. Thresholds are among those that held before, and not here; of a bare lock there is
 * nothing to put right here.
 */
export function besideOf(state: Registers): Beside[] {
	return Object.entries(withLocks(state)).flatMap(([register, said]) => {
		if (register === 'threshold' || register === strapRegister || isBareLock(shownOf(register, said)))
			return [];
		const [shown, ...others] = said;
		return others
			.filter(({ value }) => !isSame(value, shown?.value))
			.map(({ at, by, value }) => ({ register, at, by, ...(value !== undefined && { value }) }));
	});
}
