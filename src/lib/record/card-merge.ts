import * as v from 'valibot';
import { athleteSchema, type Athlete } from './athlete';
import { blowSchema, strictest } from './blow';
import { check, type Checked } from './check';
import { after, isLater, type Stamp } from './stamp';
import { isStopOfBlows, withStop } from './way-back';

/**
 * How one card that is changed on several laptops becomes one again. A card is taken apart into *registers*, each of
 * them a member (or members that mean something only together, or one entry of a list), and each register holds every
 * value that no other value of it was written in knowledge of. Joining two states is commutative, associative and
 * idempotent whatever the clocks say: the latest stamp is shown, the others stay beside it until somebody who sees them
 * writes again.
 */
export interface Said extends Stamp {
	/** Absent where it was taken away. */
	value?: unknown;
	/** The latest moment of each machine whose word on this register was known to who wrote this one. */
	knew?: Record<string, string>;
	/** Values that stood here before, newest first: a page that knows no stamps hands them on as if they were new. */
	was?: unknown[];
}

/** What is known of one card, by register. Of each register the latest word stands first. */
export type CardState = Record<string, Said[]>;

const mostBeside = 8;
const mostBefore = 8;

const instant = v.pipe(v.string(), v.regex(/^(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z)?$/));
const machine = v.pipe(v.string(), v.maxLength(32));
const saidSchema = v.object({
	value: v.optional(v.unknown()),
	at: instant,
	by: machine,
	knew: v.optional(v.record(machine, instant)),
	was: v.optional(v.pipe(v.array(v.unknown()), v.maxLength(mostBefore)))
});
export const cardStateSchema = v.record(
	v.pipe(v.string(), v.maxLength(120)),
	v.pipe(v.array(saidSchema), v.minLength(1), v.maxLength(mostBeside))
) as v.GenericSchema<unknown, CardState>;

/** A value comes with its day and source or not at all. */
const together: Record<string, readonly string[]> = {
	threshold: ['thresholdBpm', 'thresholdDate', 'thresholdSource', 'thresholdBasis'],
	resting: ['restBpm', 'restDate', 'restPosture']
};
const registerOf = new Map(
	Object.entries(together).flatMap(([register, members]) => members.map((member) => [member, register]))
);

/** Members that are no registers: they say which card it is, or come of the registers. */
const notSaid = new Set(['id', 'changedAt', 'weights', 'olderThresholds', 'blows', 'bouts']);
/** The day without sparring. */
const stop = 'noSparringUntil';
/** Of weights by day the last is what somebody weighs now, whichever was entered last. */
const lastWeight = 'the last weight';
const weights = 'weights/';
const thresholds = 'olderThresholds/';
const blows = 'blows/';
const bouts = 'bouts/';
/** What the page notes by itself. */
export const strapRegister = 'strapName';

type Loose = Record<string, unknown>;
interface OlderThreshold {
	bpm: number;
	date?: string;
}

const thresholdKey = ({ bpm, date = '' }: OlderThreshold) => `${thresholds}${date}/${bpm}`;

/** A card's values by register. What it does not say has none. */
export function valuesOf(card: Athlete): Map<string, unknown> {
	const values = new Map<string, unknown>();
	for (const [member, value] of Object.entries(card)) {
		if (notSaid.has(member) || value === undefined || (member === stop && isStopOfBlows(card))) continue;
		const register = registerOf.get(member);
		if (!register) values.set(member, value);
		else values.set(register, { ...(values.get(register) as Loose | undefined), [member]: value });
	}
	if (card.weightKg !== undefined && card.weightKg === card.weights?.at(-1)?.kg)
		values.set('weightKg', lastWeight);
	for (const weight of card.weights ?? []) values.set(weights + weight.date, weight);
	for (const threshold of card.olderThresholds ?? []) values.set(thresholdKey(threshold), threshold);
	for (const blow of card.blows ?? []) values.set(blows + blow.day, blow);
	for (const bout of card.bouts ?? []) values.set(bouts + bout.id, bout);
	return values;
}

/**
 * The value that a register shows: the latest word. What keeps somebody from being hit is held against a later word that
 * was said unaware of it, also against one that takes it away.
 */
function shownOf(register: string, said: readonly Said[] | undefined): unknown {
	if (said && register.startsWith(blows)) {
		const [first, ...others] = said.flatMap(({ value }) => (v.is(blowSchema, value) ? value : []));
		// What is no blow at all is shown as it is, for the check to say so.
		return first ? strictest([first, ...others]) : said.find(({ value }) => value !== undefined)?.value;
	}
	if (said && register === stop)
		return said
			.flatMap(({ value }) => (typeof value === 'string' ? value : []))
			.sort()
			.at(-1);
	return said?.[0]?.value;
}

/** JSON with the members of every object in one order, so that equal values are equal texts. */
export function textOf(value: unknown): string {
	return (
		JSON.stringify(value, (_, member: unknown) =>
			typeof member === 'object' && member !== null && !Array.isArray(member)
				? Object.fromEntries(Object.entries(member).sort(([one], [other]) => (one < other ? -1 : 1)))
				: member
		) ?? ''
	);
}

const isSame = (one: unknown, other: unknown) => textOf(one) === textOf(other);

/** The state of a card that was kept without stamps: all of it was said at the card's last change, as far as is known. */
export function unstamped(card: Athlete, stamp: Stamp = { at: card.changedAt ?? '', by: '' }): CardState {
	return Object.fromEntries(
		Array.from(valuesOf(card), ([register, value]) => [register, [{ value, ...stamp }]])
	);
}

/** Everything that is known on either side. */
export function joined(one: CardState, other: CardState): CardState {
	const names = [...new Set([...Object.keys(one), ...Object.keys(other)])].sort();
	return Object.fromEntries(
		names.map((name) => [name, latest([...(one[name] ?? []), ...(other[name] ?? [])])])
	);
}

function latest(all: readonly Said[]): Said[] {
	const isKnownTo = (said: Said, { knew }: Said) =>
		(knew?.[said.by] ?? '') >= said.at && knew?.[said.by] !== undefined;
	const sorted = all
		.filter((said) => !all.some((other) => isKnownTo(said, other)))
		.map((said) => [said, textOf(said)] as const)
		.sort(([one, oneText], [other, otherText]) =>
			isLater(one, other) ? -1 : isLater(other, one) ? 1 : oneText > otherText ? -1 : 1
		);
	// A machine says one thing at a moment; where a profile was copied and two sign with one id, the order of texts decides.
	const kept = sorted.filter(
		([said], i) => !sorted.slice(0, i).some(([before]) => before.at === said.at && before.by === said.by)
	);
	return kept.slice(0, mostBeside).map(([said]) => said);
}

/** The latest moment of everything said of a card. */
export function latestAt(state: CardState, isCounted: (register: string) => boolean = () => true): string {
	let at = '';
	for (const [register, said] of Object.entries(state))
		if (isCounted(register)) for (const one of said) if (one.at > at) at = one.at;
	return at;
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
const keepsEarlier = (register: string) => !register.includes('/') || register.startsWith(blows);

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

/** The card that a state shows, or why it shows none. Values come from files, so the whole is checked. */
export function cardOf(id: string, state: CardState, changedAt?: string): Checked<Athlete> {
	const card: Loose = { id };
	const lists: Record<'weights' | 'olderThresholds' | 'blows' | 'bouts', Loose[]> = {
		weights: [],
		olderThresholds: [],
		blows: [],
		bouts: []
	};
	for (const register of Object.keys(state).sort()) {
		const value = shownOf(register, state[register]);
		if (value === undefined) continue;
		if (register.startsWith(weights)) lists.weights.push(value as Loose);
		else if (register.startsWith(thresholds)) lists.olderThresholds.push(value as Loose);
		else if (register.startsWith(blows)) lists.blows.push(value as Loose);
		else if (register.startsWith(bouts)) lists.bouts.push(value as Loose);
		else if (register in together) Object.assign(card, value);
		else card[register] = value;
	}
	takeThresholdsBeside(state, lists.olderThresholds);
	for (const [name, list] of Object.entries(lists))
		if (list.length > 0) card[name] = list.sort((one, other) => (dateIn(one) < dateIn(other) ? -1 : 1));
	if (card.weightKg === lastWeight) {
		if (lists.weights.length > 0) card.weightKg = lists.weights.at(-1)!.kg;
		else delete card.weightKg;
	}
	if (changedAt !== undefined) card.changedAt = changedAt;
	const checked = check(athleteSchema, card);
	return checked.value ? { value: withStop(checked.value) } : checked;
}

const dateIn = ({ date, day }: Loose) => String(date ?? day ?? '');

/** A threshold that another laptop found at the same time is one that held, too. */
function takeThresholdsBeside(state: CardState, older: Loose[]): void {
	const [shown, ...beside] = state.threshold ?? [];
	const known = new Set(older.map((one) => thresholdKey(one as unknown as OlderThreshold)));
	const entryOf = (value: unknown) => {
		const {
			thresholdBpm: bpm,
			thresholdDate: date,
			thresholdSource: source,
			thresholdBasis: basis
		} = value as Loose;
		return {
			bpm,
			...(date !== undefined && { date }),
			...(source !== undefined && { source }),
			...(basis !== undefined && { basis })
		};
	};
	const own = shown?.value && thresholdKey(entryOf(shown.value) as OlderThreshold);
	for (const { value } of beside) {
		if (typeof value !== 'object' || value === null) continue;
		const entry = entryOf(value);
		const key = thresholdKey(entry as OlderThreshold);
		if (key === own || known.has(key)) continue;
		known.add(key);
		older.push(entry);
	}
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

/** Whether two cards say the same; who changed them when is no part of that. */
export function looksAlike(one: Athlete, other: Athlete | undefined): boolean {
	return textOf({ ...one, changedAt: 0 }) === textOf({ ...other, changedAt: 0 });
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
