import { blowSchema, lockOf, type Blow } from './blow';
import { heldTo, strictest, strictestLock } from './blow-changes';
import { check } from './check';
import { lockSchema, type Lock } from './lock';
import { latest, type Registers, type Said } from './registers';

/**
 * A blow to the head has one register under its day. What is said of it leaves a laptop with the reason or without: then
 * as `locks/<day>`, word for word with the same stamps, so that either way the same words take the place of which.
 */
const blows = 'blows/';
const locks = 'locks/';
export const blowRegister = (day: string) => blows + day;
export const isBlowRegister = (register: string) => register.startsWith(blows);

const blowIn = (value: unknown): Blow | undefined => check(blowSchema, value).value;
const lockIn = (value: unknown): Lock | undefined =>
	blowIn(value) ? undefined : check(lockSchema, value).value;
export const isBareLock = (value: unknown): value is Lock => lockIn(value) !== undefined;

/** The state with every word on a blow in the one register. One that came both ways is known with its reason. */
export function withLocks(state: Registers): Registers {
	return movedTo(blows, state, (told, bare) => {
		const isTold = ({ at, by }: Said) => told.some((one) => one.at === at && one.by === by);
		return latest([...told, ...bare.filter((one) => !isTold(one))]);
	});
}

/** The same with the bare locks in registers of their own, as it is kept and sent: older pages know none among blows. */
export function locksApart(state: Registers): Registers {
	const apart: Registers = {};
	for (const [register, said] of Object.entries(state)) {
		const isApart = ({ value }: Said) => isBlowRegister(register) && isBareLock(value);
		const [bare, others] = [said.filter(isApart), said.filter((one) => !isApart(one))];
		if (bare.length > 0) apart[locks + register.slice(blows.length)] = bare;
		if (others.length > 0) apart[register] = others;
	}
	return apart;
}

/** What may be told of a card where nobody agreed that the reason goes along: of each blow the bare lock. */
export function withoutReasons(state: Registers): Registers {
	return movedTo(locks, withLocks(state), (_, words, day) =>
		words.map(({ value, was: _, ...said }) =>
			value === undefined ? said : { ...said, value: bareOf(value, day) }
		)
	);
}

// What is neither blow nor lock is damaged: it goes as the lock that opens least.
function bareOf(value: unknown, day: string): Lock {
	const blow = blowIn(value);
	if (blow) return lockOf(blow);
	return strictestLock([lockIn(value) ?? { day, step: '1' }]);
}

/** What a register of a blow shows: of words that were said unaware of each other the strictest. */
export function shownOfBlow(said: readonly Said[]): unknown {
	const [blow, ...blows] = said.flatMap(({ value }) => blowIn(value) ?? []);
	const [lock, ...locks] = said.flatMap(({ value }) => lockIn(value) ?? []);
	if (blow) {
		const told = strictest([blow, ...blows]);
		return lock ? heldTo(told, strictestLock([lock, ...locks])) : told;
	}
	// What is no blow at all is shown as it is, for the check to say so.
	return lock ? strictestLock([lock, ...locks]) : said.find(({ value }) => value !== undefined)?.value;
}

/** The state with what stands under the other of the two names brought under this one. */
function movedTo(
	name: string,
	state: Registers,
	words: (there: readonly Said[], moved: readonly Said[], day: string) => Said[]
): Registers {
	const other = name === blows ? locks : blows;
	const next = { ...state };
	for (const [register, moved] of Object.entries(state)) {
		if (!register.startsWith(other)) continue;
		const day = register.slice(other.length);
		delete next[register];
		next[name + day] = words(state[name + day] ?? [], moved, day);
	}
	return next;
}
