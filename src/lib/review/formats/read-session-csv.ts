import { mostAmendments } from '$lib/rounds/amendment';
import { activities } from '$lib/rounds/plan';
import type { PhaseKind } from '$lib/rounds/timeline';
import { longestMeasuredMs } from '$lib/record/limits';
import {
	cellsOf,
	linesOf,
	refused,
	separators,
	short,
	type CsvAnswer,
	type TablePhase,
	type TracePoint
} from '../csv-import';
import { readNumber } from '../csv-times';
import { sessionColumns, type SessionColumn } from './session-csv';

const needed: readonly SessionColumn[] = ['elapsed_s', 'phase', 'round', 'bpm', 'contact', 'rr_ms'];
const kinds: readonly string[] = [
	'warm-up',
	'get ready',
	'work',
	'rest',
	'closing',
	'cool-down'
] satisfies PhaseKind[];
const contacts: readonly string[] = [
	'not supported',
	'no contact',
	'contact'
] satisfies TracePoint['contact'][];

const mostRows = 400_000;
const mostIntervalsInRow = 255;
const mostIn16Bits = 0xffff;
const roundedByMs = 2000;
// What 16 bits hold in 1/1024 s.
const longestRrMs = 63_999;

type Row = (column: SessionColumn) => string;

/**
 * Reads a table that `sessionCsv` wrote, or an older page, or a spreadsheet that has saved one of them in its own way:
 * known by its columns, in whatever order. Its times come back to the millisecond and its intervals to the 1/1024 s. A
 * line that cannot be read refuses the whole.
 *
 * @returns undefined where it is another table
 */
export function readSessionCsv(text: string): CsvAnswer | undefined {
	const header = /^\uFEFF?[^\r\n]{0,4000}/.exec(text)?.[0].replace(/^\uFEFF/, '') ?? '';
	const sign = separators.map(([one]) => one).find((one) => header.includes(one));
	const names = sign ? cellsOf(header, sign) : [];
	if (!sign || !needed.every((name) => names.includes(name))) return undefined;
	const lines = linesOf(text, mostRows + 1);
	if (!lines)
		return refused(`The file has over ${mostRows.toLocaleString('en')} rows, more than any session has.`);
	const places = new Map(sessionColumns.map((name) => [name, names.indexOf(name)]));
	const table = new SessionTable();
	for (const { line, number } of lines.slice(1)) {
		const cells = cellsOf(line, sign);
		const problem = table.take((column) => cells[places.get(column)!] ?? '');
		if (problem) return refused(`Line ${number}: ${problem}`);
	}
	return table.answer();
}

/** A table row by row. */
class SessionTable {
	readonly #points: (TracePoint & { ms: number })[] = [];
	readonly #phases: TablePhase[] = [];
	#open: TablePhase | undefined;
	/** Phases begun and pauses: each is kept as two changes to the plan at most. */
	#changes = 0;
	/** Undefined where no row says. */
	#isSimulated: boolean | undefined;

	/** Takes the next row, or answers what is wrong with it. */
	take(row: Row): string | undefined {
		const elapsed = readNumber(row('elapsed_s'));
		const bpm = readNumber(row('bpm'));
		const contact = contacts.find((one) => one === row('contact')) as TracePoint['contact'];
		const rrMs =
			row('rr_ms') === ''
				? []
				: row('rr_ms')
						.split(' ')
						.map((rr) => readNumber(rr) ?? NaN);
		const energyKJ = row('energy_kj') === '' ? undefined : readNumber(row('energy_kj'));
		const ms = Math.round((elapsed ?? NaN) * 1000) + 0;
		if (!(Math.abs(ms) <= longestMeasuredMs))
			return `"${short(row('elapsed_s'))}" is no time in seconds that a session can have.`;
		if (ms < (this.#points.at(-1)?.ms ?? -Infinity)) return 'the time goes back. Rows must stand in order.';
		if (!isWhole(bpm, mostIn16Bits)) return `"${short(row('bpm'))}" is no heart rate in beats a minute.`;
		if (!contact) return `"${short(row('contact'))}" is none of ${contacts.join(', ')}.`;
		if (rrMs.length > mostIntervalsInRow || !rrMs.every((rr) => rr >= 0 && rr <= longestRrMs))
			return `"${short(row('rr_ms'))}" is no list of RR intervals in milliseconds.`;
		if (row('energy_kj') !== '' && !isWhole(energyKJ, mostIn16Bits))
			return `"${short(row('energy_kj'))}" is no energy in whole kilojoules.`;
		const problem = this.#takePhase(row, ms);
		if (problem) return problem;
		if (this.#changes > mostAmendments / 2)
			return 'there are more phases and pauses than a session can have.';
		const simulated = row('simulated').toLowerCase();
		for (const mark of [simulated, row('paused').toLowerCase()])
			if (!['', 'true', 'false'].includes(mark))
				return `"${short(mark)}" stands where only true or false can.`;
		if (simulated !== '') this.#isSimulated = this.#isSimulated || simulated === 'true';
		this.#points.push({ s: 0, ms, bpm, contact, rrMs, ...(energyKJ !== undefined && { energyKJ }) });
		return undefined;
	}

	#takePhase(row: Row, ms: number): string | undefined {
		const before = this.#open;
		this.#pauseUntil(before, ms, row);
		if (row('phase') === '') {
			this.#open = undefined;
			return undefined;
		}
		const kind = kinds.find((one) => one === row('phase')) as PhaseKind | undefined;
		if (!kind) return `"${short(row('phase'))}" is no phase of a session.`;
		const round = row('round') === '' ? undefined : readNumber(row('round'));
		if (row('round') !== '' && !isWhole(round, mostIn16Bits))
			return `"${short(row('round'))}" is no number of a round.`;
		const activity = activities.find((one) => one === row('activity'));
		if (row('activity') !== '' && !activity)
			return `"${short(row('activity'))}" is no activity that this page knows.`;
		const sinceMs =
			row('phase_s') === '' ? undefined : Math.round((readNumber(row('phase_s')) ?? NaN) * 1000);
		if (sinceMs !== undefined && !(sinceMs >= 0 && sinceMs <= ms))
			return `"${short(row('phase_s'))}" is no time since the phase began.`;
		// A spreadsheet may have rounded its times.
		const startsMs = ms - (sinceMs ?? 0);
		const isSame =
			before?.kind === kind &&
			before.round === round &&
			(sinceMs === undefined || Math.abs(before.startMs - startsMs) < roundedByMs);
		if (isSame) return undefined;
		if (ms < 0) return 'a phase cannot begin before Start.';
		const startMs = Math.max(startsMs, before?.startMs ?? 0);
		this.#open = { kind, round, activity, startMs, pauses: [] };
		this.#phases.push(this.#open);
		this.#changes++;
		this.#pauseUntil(this.#open, ms, row);
		return undefined;
	}

	/** A pause lasts from its first row to the first that is none of it, or to the end of its phase. */
	#pauseUntil(phase: TablePhase | undefined, ms: number, row: Row): void {
		if (!phase) return;
		const last = phase.pauses.at(-1);
		const isOpen = last?.toMs === Infinity;
		const isPaused = row('paused').toLowerCase() === 'true' && row('phase') === phase.kind;
		if (isPaused && !isOpen) {
			phase.pauses.push({ fromMs: ms, toMs: Infinity });
			this.#changes++;
		}
		if (!isPaused && isOpen) last.toMs = ms;
	}

	answer(): CsvAnswer {
		const points = this.#points;
		if (points.length < 2) return refused('The file has fewer than two rows with a heart rate.');
		const firstMs = points[0]!.ms;
		const rounds = this.#phases.some(({ kind }) => kind === 'work')
			? { firstMs, phases: this.#phases }
			: undefined;
		return {
			status: 'read',
			trace: {
				points: points.map(({ ms, ...point }) => ({ ...point, s: (ms - firstMs) / 1000 })),
				...(rounds && { rounds }),
				...(this.#isSimulated !== undefined && { isSimulated: this.#isSimulated }),
				recognised: { form: 'a session of Corner Minute' }
			}
		};
	}
}

const isWhole = (value: number | undefined, most: number): value is number =>
	value !== undefined && Number.isInteger(value) && value >= 0 && value <= most;
