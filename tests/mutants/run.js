// Puts small faults into the rooms whose sums somebody trusts, one at a time, counts how many their tests notice, and
// writes the counts into DEVELOPERS.md. `npm run mutants -- gatt` does one room, `-- physiology/grid.ts` one file,
// `-- --every=8` one fault in eight and `--part=1` another one; what was found before and hangs on nothing that has changed
// is not asked again.
import { Stryker } from '@stryker-mutator/core';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { isInSample } from './sample.js';

process.chdir(join(import.meta.dirname, '../..'));

const rooms = ['gatt', 'rounds', 'physiology', 'record', 'review'];
const leastPercent = 90;

/** These remember what they have made for as long as the process lasts: each of their mutants has one of its own. */
const remembering = ['physiology/rest-curves.ts', 'record/columns.ts', 'review/day-words.ts'];

/** Their own tests take many seconds, and reach half of their room: they are run for these alone. */
const costly = ['physiology/threshold-from-scaling.ts'];

/**
 * How many files hold faults at a time. The form that holds them is some ten times as slow, and tests of physiology play
 * thousands of simulated athletes through it; each few files, on the other hand, want all tests run once before the first
 * fault.
 *
 * @param {string} room
 */
const filesAtOnce = (room) => (room === 'physiology' ? 10 : Infinity);

/** @param {string} room */
const reportOf = (room) => `test-results/mutants/${room}.json`;

/** @param {string} name */
const testOf = (name) => `tests/${name.replace(/\.ts$/, '.test.ts')}`;

/** @param {string} room */
const filesOf = (room) =>
	readdirSync(`src/lib/${room}`, { recursive: true, encoding: 'utf8' })
		.filter((name) => name.endsWith('.ts'))
		.map((name) => `${room}/${name}`);

/** How many faults each file has that could be tried. @type {Record<string, number>} */
const all = existsSync('test-results/mutants/all.json')
	? JSON.parse(readFileSync('test-results/mutants/all.json', 'utf8'))
	: {};

/**
 * Counts all faults, and leaves of what is told of them only those that were tried: the others are tried another time.
 *
 * @param {string} room
 */
function keepTried(room) {
	/** @type {{ files: Record<string, { mutants: (import('./sample.js').Fault & { status: string })[] }> }} */
	const report = JSON.parse(readFileSync(reportOf(room), 'utf8'));
	for (const [name, file] of Object.entries(report.files)) {
		const known = file.mutants.filter(({ status }) => status !== 'Ignored');
		all[name] = Math.max(known.length, all[name] ?? 0);
		file.mutants = file.mutants.filter(
			(fault) =>
				fault.status !== 'CompileError' &&
				(fault.status !== 'NoCoverage' || isInSample(name, fault, every, part))
		);
	}
	writeFileSync(reportOf(room), JSON.stringify(report));
	writeFileSync('test-results/mutants/all.json', JSON.stringify(all));
}

/**
 * @param {string} room
 * @param {string[]} files
 * @param {{ isAfresh?: boolean, isCostly?: boolean }} how a process for each mutant; with the tests that are left out else
 */
async function breakFiles(room, files, { isAfresh, isCostly }) {
	if (files.length === 0) return;
	// Read by `vitest.config.ts`, in a process that the runner starts.
	process.env.MUTANTS_ROOM = room;
	if (isAfresh) process.env.MUTANTS_AFRESH = 'yes';
	else delete process.env.MUTANTS_AFRESH;
	process.env.MUTANTS_WITHOUT = isCostly ? '' : costly.map(testOf).join();
	await new Stryker({
		mutate: files.map((name) => `src/lib/${name}`),
		testRunner: 'vitest',
		vitest: { configFile: 'tests/mutants/vitest.config.ts', related: false },
		coverageAnalysis: 'perTest',
		checkers: every > 1 ? ['sample'] : [],
		plugins: ['@stryker-mutator/*', join(import.meta.dirname, 'sample.js')],
		// What a module makes once, when it is read: each mutant there would cost all tests of the room, in a process afresh.
		ignoreStatic: true,
		incremental: true,
		incrementalFile: reportOf(room),
		tempDirName: `test-results/mutants/${room}`,
		// The compiler's options lie in the first of these, which the runner leaves out by itself.
		ignorePatterns: ['!.svelte-kit', '/build', '/e2e', '/playwright-report', '/test-results'],
		concurrency: 1,
		timeoutMS: 20_000,
		// On a machine at work the first run, of all tests, takes its time.
		dryRunTimeoutMinutes: 30,
		allowConsoleColors: false,
		reporters: ['progress-append-only', 'clear-text'],
		clearTextReporter: { allowColor: false, allowEmojis: false, logTests: false, reportTests: false }
	}).runMutationTest();
	keepTried(room);
}

/** What was found in a room, in however many of its files faults were tried. @param {string} room */
function rowOf(room) {
	/** @type {Record<string, { mutants: { status: string }[] }>} */
	const report = existsSync(reportOf(room)) ? JSON.parse(readFileSync(reportOf(room), 'utf8')).files : {};
	const tried = Object.fromEntries(Object.entries(report).filter(([, { mutants }]) => mutants.length > 0));
	const statuses = Object.values(tried).flatMap(({ mutants }) => mutants.map(({ status }) => status));
	/** @param {string[]} those */
	const count = (...those) => statuses.filter((status) => those.includes(status)).length;
	const noticed = count('Killed', 'Timeout');
	const faults = noticed + count('Survived', 'NoCoverage');
	const percent = (100 * noticed) / faults;
	const possible = Object.entries(all).reduce(
		(sum, [name, count]) => sum + (name.startsWith(`src/lib/${room}/`) ? count : 0),
		0
	);
	return [
		room,
		`${Object.keys(tried).length} of ${filesOf(room).length}`,
		`${faults}`,
		`${possible}`,
		`${noticed}`,
		faults > 0 ? `${percent.toFixed(1)} %` : 'not tried',
		percent >= leastPercent ? 'yes' : 'no',
		`${count('Ignored')}`
	];
}

mkdirSync('test-results/mutants', { recursive: true });
const { values, positionals: asked } = parseArgs({
	allowPositionals: true,
	options: { every: { type: 'string', default: '1' }, part: { type: 'string', default: '0' } }
});
const every = Number(values.every);
const part = Number(values.part);
process.env.MUTANTS_EVERY = values.every;
process.env.MUTANTS_PART = values.part;
for (const room of rooms) {
	const files = filesOf(room).filter(
		(name) => asked.length === 0 || asked.includes(room) || asked.includes(name)
	);
	const together = files.filter((name) => ![...remembering, ...costly].includes(name));
	for (let from = 0; from < together.length; from += filesAtOnce(room))
		await breakFiles(room, together.slice(from, from + filesAtOnce(room)), {});
	await breakFiles(
		room,
		files.filter((name) => remembering.includes(name)),
		{ isAfresh: true }
	);
	await breakFiles(
		room,
		files.filter((name) => costly.includes(name)),
		{ isCostly: true }
	);
}

const titles = [
	'room',
	'files',
	'faults tried',
	'of',
	'noticed',
	'share',
	`at least ${leastPercent} %`,
	'left out'
];
const lines = [titles, ...rooms.map(rowOf)];
const widths = titles.map((_, column) => Math.max(...lines.map((line) => line[column]?.length ?? 0)));
const [head, ...rows] = lines.map(
	(line) => `| ${line.map((cell, column) => cell.padEnd(widths[column] ?? 0)).join(' | ')} |`
);
const table = [head, `| ${widths.map((width) => '-'.repeat(width)).join(' | ')} |`, ...rows].join('\n');
console.log(table);
const text = readFileSync('DEVELOPERS.md', 'utf8');
writeFileSync(
	'DEVELOPERS.md',
	text.replace(/(<!-- mutants -->\n)[^]*?(\n<!-- \/mutants -->)/, (_, from, to) => `${from}\n${table}\n${to}`)
);
