// Puts small faults into the rooms whose sums somebody trusts, one at a time, counts how many their tests notice, and
// writes the counts into DEVELOPERS.md. `npm run mutants -- gatt` does one room, `-- physiology/grid.ts` one file; what
// was found before and hangs on nothing that has changed is not asked again.
import { Stryker } from '@stryker-mutator/core';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const rooms = ['gatt', 'rounds', 'physiology', 'record', 'review'];
const leastPercent = 90;

/** These remember what they have made for as long as the process lasts: each of their mutants has one of its own. */
const remembering = ['physiology/rest-curves.ts', 'record/columns.ts', 'review/day-words.ts'];

/** @param {string} room */
const reportOf = (room) => `test-results/mutants/${room}.json`;

/** @param {string} room */
const filesOf = (room) =>
	readdirSync(`src/lib/${room}`, { recursive: true, encoding: 'utf8' })
		.filter((name) => name.endsWith('.ts'))
		.map((name) => `${room}/${name}`);

/** @param {string} room @param {string[]} files @param {boolean} isAfresh a process for each mutant */
async function breakFiles(room, files, isAfresh) {
	if (files.length === 0) return;
	// Read by `vitest.config.ts`, in a process that the runner starts.
	process.env.MUTANTS_ROOM = room;
	if (isAfresh) process.env.MUTANTS_AFRESH = 'yes';
	else delete process.env.MUTANTS_AFRESH;
	await new Stryker({
		mutate: files.map((name) => `src/lib/${name}`),
		testRunner: 'vitest',
		vitest: { configFile: 'tests/mutants/vitest.config.ts', related: false },
		coverageAnalysis: 'perTest',
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
}

/** What was found in a room, in however many of its files faults were tried. @param {string} room */
function rowOf(room) {
	/** @type {Record<string, { mutants: { status: string }[] }>} */
	const tried = existsSync(reportOf(room)) ? JSON.parse(readFileSync(reportOf(room), 'utf8')).files : {};
	const statuses = Object.values(tried).flatMap(({ mutants }) => mutants.map(({ status }) => status));
	/** @param {string[]} those */
	const count = (...those) => statuses.filter((status) => those.includes(status)).length;
	const noticed = count('Killed', 'Timeout');
	const all = noticed + count('Survived', 'NoCoverage');
	const percent = (100 * noticed) / all;
	return [
		room,
		`${Object.keys(tried).length} of ${filesOf(room).length}`,
		`${all}`,
		`${noticed}`,
		all > 0 ? `${percent.toFixed(1)} %` : 'not tried',
		percent >= leastPercent ? 'yes' : 'no',
		`${count('Ignored')}`
	];
}

process.chdir(join(import.meta.dirname, '../..'));
mkdirSync('test-results/mutants', { recursive: true });
const asked = process.argv.slice(2);
for (const room of rooms) {
	const files = filesOf(room).filter(
		(name) => asked.length === 0 || asked.includes(room) || asked.includes(name)
	);
	await breakFiles(
		room,
		files.filter((name) => !remembering.includes(name)),
		false
	);
	await breakFiles(
		room,
		files.filter((name) => remembering.includes(name)),
		true
	);
}

const titles = ['room', 'files', 'faults', 'noticed', 'share', `at least ${leastPercent} %`, 'left out'];
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
