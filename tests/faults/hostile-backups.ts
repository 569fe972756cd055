import { readFileSync } from 'node:fs';
import { chanceOf } from './chance';
import { textOf, contentsOf, fullStore, storeOf, type Contents } from './full-store';
import { mutatedJson } from './hostile-json';
import { unclear } from './plain-sentence';
import { makeRecord } from '../store/builders';
import { wholeBackup } from '../store/whole-backup';
import { parseSessionJson, sessionJson } from '$lib/store/export';
import { planRestore, restore, type RestorePlan } from '$lib/store/backup/restore';
import { listSessions, readSession } from '$lib/store/sessions';

export interface FileFigures {
	files: number;
	refused: number;
	accepted: number;
	/** Errors that were thrown where an answer was due, and prototypes that were tampered with. */
	uncaught: number;
	/** Files after which something in the store was another than before, or could not be read. */
	changed: number;
	/** Refusals without a clear message. */
	unclear: number;
	faults: string[];
}

export const noFigures = (): FileFigures => ({
	files: 0,
	refused: 0,
	accepted: 0,
	uncaught: 0,
	changed: 0,
	unclear: 0,
	faults: []
});

/** Notes a refusal that came in these words, and what is not clear in them. */
export function takeRefusal(figures: FileFigures, words: string, fault: (what: string) => unknown): void {
	figures.refused++;
	const problem = unclear(words);
	if (!problem) return;
	figures.unclear++;
	fault(problem);
}

/** What every import must leave alone: the prototype that all objects share. */
export function isPolluted(): boolean {
	return Object.keys(Object.prototype).length > 0 || Object.hasOwn(Object.prototype, 'polluted');
}

/**
 * Holds mutated backups against a full store: a preview and a refusal must leave it as it is. What is
 * accepted is restored into a copy, where no session, unfinished one or athlete may be lost or changed by it.
 */
export async function restoreHostile(files: number, seed: number): Promise<FileFigures> {
	const chance = chanceOf(seed);
	const figures = noFigures();
	const texts = [
		readFileSync('tests/fixtures/backup-1.json', 'utf8'),
		(await wholeBackup(await fullStore(), new Date('2026-03-05T20:00:00.000Z'))).text,
		(await wholeBackup(await fullStore('Another strap'), new Date('2026-03-05T20:00:00.000Z'))).text
	];
	const store = await fullStore();
	const contents = await contentsOf(store);
	const before = textOf(contents);
	for (let i = 0; i < files; i++) {
		figures.files++;
		const text = mutatedJson(chance.pick(texts), chance);
		const fault = (what: string) => figures.faults.push(`Backup ${i} of seed ${seed}: ${what}`);
		try {
			const answer = await planRestore(store, text);
			if (answer.status === 'refused') {
				takeRefusal(figures, answer.problem, fault);
			} else {
				figures.accepted++;
				const harm = await harmOf(answer, contents);
				if (harm) fault(harm);
				if (harm) figures.changed++;
			}
			if (isPolluted()) throw new Error('Object.prototype was tampered with.');
		} catch (error) {
			figures.uncaught++;
			fault(String(error));
		}
		if (before === textOf(await contentsOf(store))) continue;
		figures.changed++;
		fault('the store is not as it was');
	}
	return figures;
}

const untouchable = ['head/', 'body/', 'journal/'];

async function harmOf(plan: RestorePlan, contents: Contents): Promise<string | undefined> {
	if (plan.isIdle) return undefined;
	const copy = await storeOf(contents);
	const { status } = await restore(copy, plan);
	if (status !== 'restored') return 'the plan that was shown was not carried out';
	const after = await contentsOf(copy);
	for (const [key, value] of contents) {
		if (key.startsWith('athlete/') && !after.has(key)) return `${key} is gone`;
		if (untouchable.some((kind) => key.startsWith(kind)) && textOf(after.get(key)) !== textOf(value))
			return `${key} was changed`;
	}
	const { sessions, unreadable } = await listSessions(copy);
	if (unreadable.length > 0) return `${unreadable[0]!.key} cannot be read: ${unreadable[0]!.problem}`;
	for (const { head } of sessions) {
		const reading = await readSession(copy, head.id);
		if (reading.status !== 'found') return `session ${head.id}: ${reading.problem}`;
	}
	return undefined;
}

/** The same for files of one session, which are read and never written by the reading. */
export function readHostileSessions(files: number, seed: number): FileFigures {
	const chance = chanceOf(seed);
	const figures = noFigures();
	const texts = [
		readFileSync('tests/fixtures/record-1.json', 'utf8'),
		sessionJson(makeRecord(), { title: 'Pads with the left', effort: 7 })
	];
	for (let i = 0; i < files; i++) {
		figures.files++;
		const fault = (what: string) => figures.faults.push(`Session file ${i} of seed ${seed}: ${what}`);
		try {
			const answer = parseSessionJson(mutatedJson(chance.pick(texts), chance));
			if (answer.status === 'refused') takeRefusal(figures, answer.problem, fault);
			else figures.accepted++;
			if (isPolluted()) throw new Error('Object.prototype was tampered with.');
		} catch (error) {
			figures.uncaught++;
			fault(String(error));
		}
	}
	return figures;
}
