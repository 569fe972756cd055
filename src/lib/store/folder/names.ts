import type { Stamp } from '$lib/record/stamp';

/**
 * What a file in the shared folder is says its name, so that a folder of many thousands is understood without
 * opening one. Each file is written once, by one machine, and never changed:
 *
 *     <session>.session.json                              the record
 *     <session>.<at>.<machine>.edit.json                  a later correction
 *     <session>.<at>.<machine>.session-deleted.json       a tombstone, and what takes it back
 *     <session>.<at>.<machine>.session-restored.json
 *     <athlete>.<at>.<machine>.athlete.json               a card as it was then
 *     <athlete>.<at>.<machine>.athlete-deleted.json, athlete-restored.json
 *     <athlete>.<at>.<machine>.<YYYY-MM>.days.json        what was trained in a month, as far as that machine knew then
 *     <plan>.<at>.<machine>.plan.json                     a plan of one's own, or that it was removed, as far as it knew then
 *
 * `at` is the instant in UTC without the signs that a file system forbids: 20260302T183000000Z.
 */
export type SharedName = SessionName | StampedName | DaysName;

export interface SessionName {
	kind: 'session';
	id: string;
}

export interface StampedName extends Stamp {
	kind: StampedKind;
	id: string;
}

export interface DaysName extends Stamp {
	kind: 'days';
	/** Of the athlete. */
	id: string;
	/** YYYY-MM. */
	month: string;
}

export type FateKind = 'session-deleted' | 'session-restored' | 'athlete-deleted' | 'athlete-restored';
export type StampedKind = 'edit' | 'athlete' | 'plan' | FateKind;

const session = /^([\w-]{1,64})\.session\.json$/;
const stamped =
	/^([\w-]{1,64})\.(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d)(\d\d)(\d{3})Z\.([a-z\d]{1,32})\.(edit|athlete|plan|(?:session|athlete)-(?:deleted|restored)|\d{4}-(?:0[1-9]|1[0-2])\.days)\.json$/;

/** The name of a file, as `parsedName` reads it. */
export function fileName(name: SharedName): string {
	if (name.kind === 'session') return `${name.id}.session.json`;
	const kind = name.kind === 'days' ? `${name.month}.days` : name.kind;
	return `${name.id}.${name.at.replaceAll(/[-:.]/g, '')}.${name.by}.${kind}.json`;
}

/** What a file of this name holds; undefined where this page never gives such a name. */
export function parsedName(text: string): SharedName | undefined {
	const whole = session.exec(text);
	if (whole) return { kind: 'session', id: whole[1]! };
	const parts = stamped.exec(text);
	if (!parts) return undefined;
	const [, id = '', year, month, day, hour, minute, second, ms, by = '', kind = ''] = parts;
	const at = `${year}-${month}-${day}T${hour}:${minute}:${second}.${ms}Z`;
	const instant = new Date(at);
	// The 30th of February and its like.
	if (Number.isNaN(instant.getTime()) || instant.toISOString() !== at) return undefined;
	const ofDays = /^(.+)\.days$/.exec(kind);
	return ofDays ? { kind: 'days', id, month: ofDays[1]!, at, by } : { kind: kind as StampedKind, id, at, by };
}
