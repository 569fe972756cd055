// Runs scripts of package.json two at a time: `node tests/house/side-by-side.js lint:rules check:types`. What each says
// comes in one piece as soon as it has ended; the whole fails where one of them does, and names it. Each has threads of
// its own: the five of `npm test` took 450 s of processor time all at once on two cores, 398 s two at a time.
import { spawn } from 'node:child_process';
import process from 'node:process';

/** Programs that read so many files spend less time on collecting what they have dropped, with more room for it. */
const env = { ...process.env, NODE_OPTIONS: `${process.env.NODE_OPTIONS ?? ''} --max-semi-space-size=64` };

/**
 * @param {string} script
 * @returns {Promise<boolean>} whether it went well
 */
function run(script) {
	const child = spawn('npm', ['run', script], { shell: process.platform === 'win32', env });
	/** @type {Buffer[]} */
	const said = [];
	for (const stream of [child.stdout, child.stderr])
		stream.on('data', (/** @type {Buffer} */ part) => said.push(part));
	return new Promise((resolve, reject) => {
		child.once('error', reject);
		child.once('close', (code, signal) => {
			const end = code === 0 ? 'went well' : `FAILED (${signal ?? `code ${code}`})`;
			console.log(`npm run ${script} ${end}:\n${Buffer.concat(said).toString().trimEnd()}\n`);
			resolve(code === 0);
		});
	});
}

const atATime = 2;
const waiting = process.argv.slice(2);
/** @type {string[]} */
const failed = [];

async function runThose() {
	for (let script = waiting.shift(); script; script = waiting.shift())
		if (!(await run(script))) failed.push(script);
}

await Promise.all(Array.from({ length: atATime }, runThose));
if (failed.length > 0) {
	console.error(`Failed: ${failed.join(', ')}`);
	process.exitCode = 1;
}
