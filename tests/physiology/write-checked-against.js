// Writes src/lib/physiology/checked-against.json from the runs of the tests that hold measures against outside truths.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { format, resolveConfig } from 'prettier';

const root = join(import.meta.dirname, '../..');
const target = join(root, 'src/lib/physiology/checked-against.json');

if (!existsSync(join(root, '../shared/data'))) {
	console.error('The openly licensed recordings are not in ../shared/data, so some checks would be missing.');
	process.exit(1);
}
const folder = mkdtempSync(join(tmpdir(), 'checked-against-'));
const file = join(folder, 'rows');
const tests = readdirSync(join(root, 'tests'), { recursive: true, encoding: 'utf8' })
	.filter((name) => name.endsWith('.test.ts'))
	.map((name) => join(root, 'tests', name))
	.filter((path) => /from '[./]+(physiology\/)?outside'/.test(readFileSync(path, 'utf8')));
const { status } = spawnSync('npx', ['vitest', 'run', '--maxWorkers=1', ...tests], {
	cwd: root,
	stdio: 'inherit',
	env: { ...process.env, CHECKED_AGAINST_FILE: file }
});
if (status === 0) {
	const rows = readFileSync(file, 'utf8')
		.trim()
		.split('\n')
		.map((line) => JSON.parse(line));
	rows.sort((a, b) => (a.entryId + a.against < b.entryId + b.against ? -1 : 1));
	const options = { ...(await resolveConfig(target)), filepath: target };
	writeFileSync(target, await format(JSON.stringify(rows), options));
	console.log(`${rows.length} checks written.`);
}
rmSync(folder, { recursive: true });
process.exit(status ?? 1);
