// One fault in so many, chosen by what it is and where: what `npm run mutants -- --every=8` tries.
import { createHash } from 'node:crypto';

/**
 * What is known of a fault: what it is, and where.
 *
 * @typedef {{ mutatorName: string, replacement?: string, location: { start: { line: number, column: number } } }} Fault
 */

/**
 * Whether a fault is one of the sample: the same one each time.
 *
 * @param {string} fileName
 * @param {Fault} fault
 * @param {number} every 1 for all
 * @param {number} part which of so many samples, from 0 on
 */
export function isInSample(fileName, { mutatorName, replacement, location }, every, part) {
	const { line, column } = location.start;
	const what = [fileName.replace(/^.*src\/lib\//, ''), mutatorName, replacement, line, column].join(' ');
	return createHash('sha1').update(what).digest().readUInt32BE() % every === part;
}

class SampleChecker {
	async init() {}

	/** All at once: nothing is compiled. @param {{ id: string }[]} faults */
	async group(faults) {
		return [faults.map(({ id }) => id)];
	}

	/** @param {(Fault & { id: string, fileName: string })[]} faults */
	async check(faults) {
		const [every, part] = [Number(process.env.MUTANTS_EVERY), Number(process.env.MUTANTS_PART)];
		return Object.fromEntries(
			faults.map((fault) => [
				fault.id,
				isInSample(fault.fileName, fault, every, part)
					? { status: 'passed' }
					: { status: 'compileError', reason: 'not in the sample' }
			])
		);
	}
}

export const strykerPlugins = [{ kind: 'Checker', name: 'sample', injectableClass: SampleChecker }];
