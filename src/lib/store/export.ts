import * as v from 'valibot';
import { unpackReadings } from '$lib/record/columns';
import { recordVersion, check } from '$lib/record/check';
import { recordBodySchema, type RecordBody, type SessionRecord } from '$lib/record/body';
import { recordEditSchema } from '$lib/record/edit';
import { recordHeadSchema, type RecordHead } from '$lib/record/head';
import { migrated, type Form, type Migration } from '$lib/record/migrations';
import type { FoldedEdit } from '$lib/record/edit';

export const sessionFormat = 'corner-minute session';

// Far above any real session (a day with four packets a second) and far below what would hang the page.
const mostCharacters = 16_000_000;
const mostReadings = 400_000;
const mostIntervals = 2_000_000;

/**
 * A session as JSON text for other programs and for coming back: plain arrays, described by the JSON Schema
 * in static/session.schema.json.
 */
export function sessionJson({ head, body }: SessionRecord, edit: FoldedEdit = {}): string {
	const { version, ...headMembers } = head;
	const columns = Object.fromEntries(columnNames.map((name) => [name, Array.from(body[name])]));
	return JSON.stringify({
		format: sessionFormat,
		version,
		head: headMembers,
		readings: { firstMs: body.firstMs, ...columns },
		edit
	});
}

/** The columns of a file: the highest whole number that each may hold, and how many. */
export const fileColumns = {
	stepMs: [0xffff_ffff, mostReadings],
	bpm: [0xffff, mostReadings],
	flags: [0xff, mostReadings],
	rrCount: [0xff, mostReadings],
	rr1024: [0xffff, mostIntervals],
	energyKJ: [0xffff, mostReadings]
} as const;

const columnNames = Object.keys(fileColumns) as (keyof typeof fileColumns)[];

export type SessionImport =
	{ status: 'read'; record: SessionRecord; edit: FoldedEdit } | { status: 'refused'; problem: string };

/**
 * The session in a text that `sessionJson` wrote. Anything else is refused with a plain sentence; never
 * throws, and takes over nothing but the members it knows. A text of over 16 million characters is not
 * even parsed. What an older version wrote is led to today's form by the steps that lead what lies in the store.
 */
export function parseSessionJson(text: string, migrations?: readonly Migration[]): SessionImport {
	if (text.length > mostCharacters)
		return refused('This file is larger than any session can be, so it was not read.');
	let content: unknown;
	try {
		content = JSON.parse(text);
	} catch {
		return refused('This file is not JSON, or it was cut short. Nothing of it was read.');
	}
	if (!isObject(content) || content.format !== sessionFormat)
		return refused('This file is not a session of Corner Minute. Nothing of it was read.');
	const envelope = check(envelopeSchema, content);
	if (envelope.problem !== undefined) return refused(envelope.problem);
	const { version, head: headMembers, readings: columns, edit: editMembers } = envelope.value;
	const newHead = migrated('head', { ...headMembers, version }, migrations);
	if (newHead.problem !== undefined) return refused(newHead.problem);
	const head = check(recordHeadSchema, newHead.value);
	if (head.problem !== undefined) return refused(head.problem);
	const newBody = migrated('body', { ...typed(columns), version }, migrations);
	if (newBody.problem !== undefined) return refused(newBody.problem);
	const readings = check(v.object({ readings: readingsSchema }), { readings: listed(newBody.value) });
	if (readings.problem !== undefined) return refused(readings.problem);
	const body = check(recordBodySchema, bodyOf(readings.value.readings));
	if (body.problem !== undefined) return refused(body.problem);
	// A correction's time matters only among several; a file holds them folded into one.
	const edit = check(recordEditSchema, { ...editMembers, at: head.value.startedAt });
	if (edit.problem !== undefined) return refused(edit.problem);
	const { at, ...folded } = edit.value;
	return { status: 'read', record: { head: head.value, body: body.value }, edit: folded };
}

function refused(problem: string): SessionImport {
	return { status: 'refused', problem };
}

const column = (most: number, mostEntries: number) =>
	v.custom<number[]>(
		(value) =>
			Array.isArray(value) &&
			value.length <= mostEntries &&
			value.every((entry) => Number.isInteger(entry) && entry >= 0 && entry <= most),
		`a column holds at most ${mostEntries} whole numbers from 0 to ${most}`
	);

const readingsSchema = v.object({
	firstMs: v.pipe(v.number(), v.safeInteger()),
	stepMs: column(...fileColumns.stepMs),
	bpm: column(...fileColumns.bpm),
	flags: column(...fileColumns.flags),
	rrCount: column(...fileColumns.rrCount),
	rr1024: column(...fileColumns.rr1024),
	energyKJ: column(...fileColumns.energyKJ)
});

const objectSchema = v.custom<object>(isObject, 'this is not an object');

const envelopeSchema = v.object({
	version: v.pipe(v.number(), v.safeInteger()),
	head: objectSchema,
	readings: objectSchema,
	edit: objectSchema
});

function isObject(value: unknown): value is Record<string, unknown> {
	return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** The columns of a file in the form in which they lie in the store, which is the one that migrations know. */
function typed(columns: object): Form {
	return Object.fromEntries(Object.entries(columns).map(([name, entries]) => [name, typedColumn(entries)]));
}

function typedColumn(entries: unknown): unknown {
	if (!v.is(column(0xffff_ffff, mostIntervals), entries)) return entries;
	const most = entries.reduce((highest, entry) => Math.max(highest, entry), 0);
	return (most > 0xffff ? Uint32Array : most > 0xff ? Uint16Array : Uint8Array).from(entries);
}

/** And back, so that each column can be checked and given the width that it has today. */
function listed(body: unknown): Form {
	return Object.fromEntries(
		Object.entries(body as Form).map(([name, entries]) => [
			name,
			ArrayBuffer.isView(entries) ? Array.from(entries as Uint32Array) : entries
		])
	);
}

function bodyOf(readings: v.InferOutput<typeof readingsSchema>): RecordBody {
	const { firstMs, stepMs, bpm, flags, rrCount, rr1024, energyKJ } = readings;
	return {
		version: recordVersion,
		firstMs,
		stepMs: stepMs.some((step) => step > 0xffff) ? Uint32Array.from(stepMs) : Uint16Array.from(stepMs),
		bpm: bpm.some((rate) => rate > 0xff) ? Uint16Array.from(bpm) : Uint8Array.from(bpm),
		flags: Uint8Array.from(flags),
		rrCount: Uint8Array.from(rrCount),
		rr1024: Uint16Array.from(rr1024),
		energyKJ: Uint16Array.from(energyKJ)
	};
}

/** A stretch of the session as the timeline gives it. */
export interface NamedPhase {
	kind: string;
	round?: number;
	startMs: number;
	endMs: number;
}

const longestNamePart = 30;

/**
 * What the file of an exported session is called: `corner-minute-2026-03-02-18-30-Nerea-1x8fk2a.csv`, by day and time
 * here. The sign at its end is the record's own: two corners of a minute may bear the same name.
 *
 * @param name of the athlete by now; that of the day where it is not given
 */
export function exportName(
	{ id, startedAt, athlete }: Pick<RecordHead, 'id' | 'startedAt' | 'athlete'>,
	ending: 'csv' | 'json',
	name = athlete.name
): string {
	const at = new Date(startedAt);
	const here = new Date(at.getTime() - at.getTimezoneOffset() * 60_000).toISOString().slice(0, 16);
	// Letters and figures alone, whole ones: whatever else a name holds, some file system may refuse.
	const letters = Array.from(name.normalize('NFC').replace(/[^\p{L}\p{M}\p{N}]+/gu, '-'));
	const who =
		letters
			.slice(0, longestNamePart)
			.join('')
			.replace(/^-+|-+$/g, '') || 'unknown';
	return `corner-minute-${here.replace(/[:T]/g, '-')}-${who}-${signOf(id)}.${ending}`;
}

/** A short sign of an id: FNV-1a, 32 bits (draft-eastlake-fnv), in base 36. */
function signOf(id: string): string {
	let hash = 0x811c9dc5;
	for (let i = 0; i < id.length; i++) hash = Math.imul(hash ^ id.charCodeAt(i), 0x01000193);
	return (hash >>> 0).toString(36).padStart(7, '0');
}

/**
 * A session's readings as CSV (RFC 4180, header row, CRLF), one row a packet in order of arrival: elapsed
 * seconds, phase, round, bpm, contact, RR intervals in ms one after another. Rows outside every phase, such
 * as readings from before Start, leave phase and round empty.
 *
 * @param phases the session's timeline, in order
 */
export function sessionCsv({ body }: SessionRecord, phases: readonly NamedPhase[]): string {
	let current = 0;
	const rows = unpackReadings(body).map(({ ms, bpm, contact, rrMs }) => {
		while (current < phases.length && phases[current]!.endMs <= ms) current++;
		const phase = phases[current];
		const inPhase = phase && phase.startMs <= ms ? phase : undefined;
		const rr = rrMs.map((interval) => interval.toFixed(1)).join(' ');
		return [ms / 1000, inPhase?.kind, inPhase?.round, bpm, contact, rr];
	});
	return csvText([['elapsed_s', 'phase', 'round', 'bpm', 'contact', 'rr_ms'], ...rows]);
}

// What a spreadsheet may take for the beginning of a formula (OWASP, "CSV Injection", from memory): the signs, their
// full-width forms, and the blanks that are skipped before them.
const formulaStart = /^[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]/;

/**
 * Rows as CSV text after RFC 4180. Text that a spreadsheet would take for a formula is made harmless with a
 * leading apostrophe; numbers, negative ones too, stay numbers. Semicolons and tabs are quoted as commas are,
 * because a spreadsheet set to those would find a cell of its own behind them.
 */
export function csvText(rows: readonly (readonly (string | number | undefined)[])[]): string {
	return rows.map((row) => `${row.map(csvCell).join(',')}\r\n`).join('');
}

function csvCell(value: string | number | undefined): string {
	if (value === undefined) return '';
	if (typeof value === 'number') return String(value);
	const harmless = formulaStart.test(value) ? `'${value}` : value;
	return /[",;\t\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
}
