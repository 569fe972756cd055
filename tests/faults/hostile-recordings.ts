import { chanceOf, type Chance } from './chance';
import { textOf, contentsOf, fullStore, storeOf } from './full-store';
import { isPolluted, noFigures, takeRefusal, type FileFigures } from './hostile-backups';
import { mutatedText } from './hostile-json';
import type { ImportedTrace } from '$lib/review/csv-import';
import { readRecording } from '$lib/review/formats/read-recording';
import { sessionColumns } from '$lib/review/formats/session-csv';
import { recordOfImport, type ImportedAs } from '$lib/review/imported';
import { measured } from '$lib/review/summary';
import { openJournal } from '$lib/store/journal';
import { readSession } from '$lib/store/sessions';
import type { UseStore } from '$lib/store/database';

const clock = (s: number) => `${Math.floor(s / 60)}:${String(s % 60).padStart(2, '0')}`;
const rate = (s: number) => 130 + Math.round(30 * Math.sin(s / 90));

const bases = [
	['time,hr', (s: number) => `${s},${rate(s)}`],
	['Zeit;Puls', (s: number) => `${s},5;${rate(s)},0`],
	['lap\telapsed\tHeart rate', (s: number) => `1\t${clock(s)}\t${rate(s)}`],
	[
		'"timestamp","note","heart rate"',
		(s: number) => `"${new Date(1.77e12 + s * 1000).toISOString().slice(0, 19)}Z","a, b",${rate(s)}`
	],
	[
		sessionColumns.join(),
		(s: number) =>
			s < 20
				? `${s},get ready,1,${rate(s)},contact,,${s},false,pads,,false`
				: `${s},work,1,${rate(s)},contact,400.4,${s - 20},${s % 99 === 0},pads,,false`
	],
	['# simulated', (s: number) => (s % 50 === 49 ? '# gap' : `${(60_000 / rate(s)).toFixed(1)}`)]
] as const;

const cells = [
	'',
	'-1',
	'0',
	'300',
	'301',
	'99999999999',
	'9'.repeat(400),
	'1e400',
	'0x1F',
	'NaN',
	'=1+1',
	'"',
	'""',
	'12:61',
	'1:2:3:4'
].concat([
	'2026-13-45T25:61:61Z',
	'9999-12-31T23:59:59Z',
	'0000-01-01T00:00:00Z',
	'31.12.2026 23:59',
	'١٢٣',
	'__proto__',
	'<b>1</b>',
	' ',
	'1,2,3'
]);

/**
 * Mutated recordings through the import: each is refused with a clear message, or becomes a record that can be
 * measured, kept and read again. Nothing that was kept before changes.
 */
export async function bringInHostile(files: number, seed: number): Promise<FileFigures> {
	const chance = chanceOf(seed);
	const figures = noFigures();
	const contents = await contentsOf(await fullStore());
	let store = await storeOf(contents);
	const before = textOf(contents);
	for (let i = 0; i < files; i++) {
		figures.files++;
		const fault = (what: string) => figures.faults.push(`Recording ${i} of seed ${seed}: ${what}`);
		try {
			const answer = readRecording(hostileCsv(chance));
			if (isPolluted()) throw new Error('Object.prototype was tampered with.');
			if (answer.status !== 'read') {
				takeRefusal(figures, answer.problem, fault);
			} else {
				figures.accepted++;
				await keep(answer.trace, store);
			}
		} catch (error) {
			figures.uncaught++;
			fault(String(error));
		}
		const after = await contentsOf(store);
		const isNew = ['head/new', 'body/new', 'here-stale/new'].filter((key) => after.delete(key)).length > 0;
		if (isNew) store = await storeOf(contents);
		if (before === textOf(after)) continue;
		figures.changed++;
		fault('something that was kept before is another');
		store = await storeOf(contents);
	}
	return figures;
}

const asIn = ({ rounds, recognised }: ImportedTrace): ImportedAs =>
	rounds
		? { kind: 'rounds', activity: 'bag' }
		: recognised.form
			? { kind: 'resting', fromS: 0, posture: 'sitting' }
			: { kind: 'threshold run', fromS: 0 };

async function keep(trace: ImportedTrace, store: UseStore): Promise<void> {
	const about = {
		id: 'new',
		startedAt: trace.startedAt ?? '2026-03-02T18:30:00.000Z',
		zone: 'UTC',
		fileName: 'run.csv'
	};
	const record = measured(recordOfImport(trace, asIn(trace), { athleteId: 'ath-1', name: 'Nerea' }, about));
	await openJournal(store, 'new').finish([record]);
	const reading = await readSession(store, 'new');
	if (reading.status !== 'found') throw new Error(reading.problem);
}

function hostileCsv(chance: Chance): string {
	const [header, row] = chance.pick(bases);
	const lines = [header, ...Array.from({ length: chance.pick([2, 30, 1300]) }, (_, s) => row(s))];
	for (let count = chance.below(3); count > 0; count--) {
		const at = chance.below(lines.length);
		const parts = lines[at]!.split(/([,;\t])/);
		parts[2 * chance.below(Math.ceil(parts.length / 2))] = chance.pick(cells);
		lines[at] = parts.join('');
	}
	const text = lines.join('\n');
	return chance.uniform() < 0.6 ? mutatedText(text, chance) : text;
}
