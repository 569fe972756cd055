import * as v from 'valibot';
import type { MembersOf } from './check';
import { hashOf, isSame, textOf } from './same';
import { after, isLater, type Stamp } from './stamp';

const mostBeside = 8;
const mostBefore = 8;

const instant = v.pipe(v.string(), v.regex(/^(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z)?$/));
const machine = v.pipe(v.string(), v.maxLength(32));

/**
 * How one thing that is changed on several laptops becomes one again. It is taken apart into *registers* (a member of a
 * card, an entry of a day), and each register holds every value that no other value of it was written in knowledge of.
 * Joining two states is commutative, associative and idempotent whatever the clocks say: the latest stamp is shown, the
 * others stay beside it until somebody who sees them writes again.
 */
export type Said = v.InferOutput<typeof saidSchema>;

const saidSchema = v.object({
	/** Absent where it was taken away. */
	value: v.optional(v.unknown()),
	at: instant,
	by: machine,
	/** The latest moment of each machine whose word on this register was known to who wrote this one. */
	knew: v.optional(v.record(machine, instant)),
	/** Values that stood here before, newest first: a page that knows no stamps hands them on as if they were new. */
	was: v.optional(v.pipe(v.array(v.unknown()), v.maxLength(mostBefore)))
} satisfies MembersOf<Stamp> & v.ObjectEntries);

/** What is known of one thing, by register. Of each register the latest word stands first. */
export type Registers = v.InferOutput<typeof registersSchema>;

export const registersSchema = v.record(
	v.pipe(v.string(), v.maxLength(120)),
	v.pipe(v.array(saidSchema), v.minLength(1), v.maxLength(mostBeside))
);

/** What lies under a name of its own: a file may name a register as something that every object has ("toString"). */
export const own = <T>(of: Readonly<Record<string, T>> | undefined, name: string): T | undefined =>
	of && Object.hasOwn(of, name) ? of[name] : undefined;

/** Everything that is known on either side. */
export function joined(one: Registers, other: Registers): Registers {
	const names = [...new Set([...Object.keys(one), ...Object.keys(other)])].sort();
	return Object.fromEntries(
		names.map((name) => [name, latest([...(own(one, name) ?? []), ...(own(other, name) ?? [])])])
	);
}

/**
 * What is known here, fit to be joined with what comes from elsewhere. A browser whose disk was set back has forgotten some of
 * what it said; where its clock is behind, what it says since would pass for something older that the others know of. Who
 * comes to know more of its words than it does itself tells that: what it says there is signed anew, and stands beside.
 *
 * @param me what this browser signs with
 */
export function signedAnew(known: Registers, coming: Registers, me: string): Registers {
	const lastOfMine = (all: readonly Said[] | undefined) =>
		(all ?? []).reduce((last, { at, by, knew }) => {
			const moments = [last, own(knew, me) ?? '', by === me ? at : ''];
			return moments.sort().at(-1)!;
		}, '');
	return Object.fromEntries(
		Object.entries(known).map(([register, all]) => {
			if (lastOfMine(own(coming, register)) <= lastOfMine(all)) return [register, all];
			const by = `${me.slice(0, 24)}${hashOf(all).toString(36)}`;
			return [register, all.map((said) => (said.by === me ? { ...said, by } : said))];
		})
	);
}

/** Of all that was said of one register what nothing else was said in knowledge of, the latest first. */
export function latest(all: readonly Said[]): Said[] {
	const isKnownTo = (said: Said, { knew }: Said) => {
		const knownAt = own(knew, said.by);
		return knownAt !== undefined && knownAt >= said.at;
	};
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

/** The latest moment of everything said of a thing. */
export function latestAt(state: Registers, isCounted: (register: string) => boolean = () => true): string {
	let at = '';
	for (const [register, said] of Object.entries(state))
		if (isCounted(register)) for (const one of said) if (one.at > at) at = one.at;
	return at;
}

/** How the registers of one kind of thing are read. */
export interface RegisterWays {
	/** The value that a register shows of all that was said of it. */
	shownOf: (register: string, said: readonly Said[] | undefined) => unknown;
	/** Whether a word keeps those that stood there before it, for pages that know no stamps. */
	keepsEarlier: (register: string) => boolean;
}
const commonWays: RegisterWays = {
	shownOf: (_, said) => said?.[0]?.value,
	keepsEarlier: (register) => !register.includes('/')
};

/**
 * A change by hand: what differs between the values by register is said now, in knowledge of what is shown. What somebody
 * else said of the same register meanwhile stays beside it.
 *
 * @param was what the change was made to; absent where the whole is said anew
 * @param wanted the moment by this machine's clock; a later one is taken where something later is known of the thing
 * @param ways how registers of this kind are read, where that is not the common way
 */
export function changedRegisters(
	state: Registers,
	was: ReadonlyMap<string, unknown> | undefined,
	is: ReadonlyMap<string, unknown>,
	wanted: { ms: number; by: string },
	{ shownOf, keepsEarlier }: RegisterWays = commonWays
): Registers {
	// What a card shows besides its registers (a threshold found elsewhere) is said by whoever keeps it there.
	const isSaid = (register: string) =>
		!isSame(was?.get(register), is.get(register)) || (is.has(register) && !own(state, register)?.length);
	const changed = [...new Set([...(was?.keys() ?? []), ...is.keys()])].filter(isSaid);
	const at = after(
		latestAt(state),
		wanted.ms,
		changed.map((register) => [register, is.get(register)])
	);
	const next: Registers = { ...state };
	for (const register of changed) {
		const value = is.get(register);
		const known = own(state, register) ?? [];
		// Where a screen shows something else than is known by now, it knew what that was written in knowledge of.
		const isUpToDate = !known[0] || !was || isSame(shownOf(register, known), was.get(register));
		const knew: Record<string, string> = {};
		for (const said of known) {
			const seen = { ...said.knew, ...(isUpToDate && { [said.by]: said.at }) };
			for (const [by, moment] of Object.entries(seen)) if (moment >= (own(knew, by) ?? '')) knew[by] = moment;
		}
		const earlier = [was?.get(register), ...(known[0]?.was ?? [])].filter((one) => one !== undefined);
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
