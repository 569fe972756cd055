// Finds the Chromium for the browser stories; run by itself (before the stories) it also installs what is missing where
// it may. A machine without one ends the run with a sentence: the stories are never skipped.
import { execFileSync } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';
import process from 'node:process';
import { pathToFileURL } from 'node:url';
import { chromium } from '@playwright/test';

const commands = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];
/** Debian's package and command of it: Chromium as Playwright starts it without a window, made of the same source. */
const shell = 'chromium-headless-shell';

/** @param {string} path */
function canRun(path) {
	try {
		accessSync(path, constants.X_OK);
		return true;
	} catch {
		return false;
	}
}

/** @param {string} command */
function onPath(command) {
	const folders = [...(process.env.PATH ?? '').split(delimiter), '/usr/bin'];
	return folders.map((folder) => join(folder, command)).find(canRun);
}

/**
 * The path of a Chromium on this machine: the one that CHROMIUM names (and then no other), else the system's,
 * else Playwright's own download, else undefined.
 *
 * @returns {string | undefined}
 */
export function findChromium() {
	const named = process.env.CHROMIUM;
	if (named) return canRun(named) ? named : undefined;
	return [...commands.map(onPath), chromium.executablePath()].find((path) => path && canRun(path));
}

/**
 * The path of what most stories are told in: Chromium without its windows where there is one, since nobody looks at them
 * and drawing them is a sixth of a story's processor time; else, or where CHROMIUM names one, that of `findChromium`.
 *
 * @returns {string | undefined}
 */
export function findStoryBrowser() {
	return (process.env.CHROMIUM ? undefined : onPath(shell)) ?? findChromium();
}

function installDebianChromium() {
	/** @type {import('node:child_process').ExecFileSyncOptions} */
	const apt = {
		stdio: 'inherit',
		env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
	};
	// Without a network an answer is not waited for.
	execFileSync('apt-get', ['-o', 'Acquire::http::Timeout=10', '-o', 'Acquire::Retries=1', 'update'], apt);
	/** @param {string[]} packages */
	const install = (...packages) =>
		execFileSync('apt-get', ['install', '-y', '--no-install-recommends', ...packages], apt);
	try {
		install('chromium', shell);
	} catch {
		// An older Debian has no such package.
		install('chromium');
	}
}

function main() {
	if (process.env.CHROMIUM) {
		if (findChromium()) return undefined;
		return `CHROMIUM names ${process.env.CHROMIUM}, which cannot be run: correct it or leave it unset.`;
	}
	const found = findChromium();
	const isComplete = found !== undefined && (found !== onPath('chromium') || onPath(shell) !== undefined);
	if (!isComplete && process.getuid?.() === 0 && onPath('apt-get')) {
		try {
			installDebianChromium();
		} catch {
			if (found) console.warn(`Without ${shell} the stories run in ${found}, and take longer.`);
			else
				return 'Installing chromium with apt-get failed (see above): install Chromium by hand, or set CHROMIUM to the path of one.';
		}
	}
	if (findChromium()) return undefined;
	return 'No Chromium found: install it (Debian: sudo apt-get install chromium), or set CHROMIUM to the path of one.';
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
	const complaint = main();
	if (complaint) {
		console.error(complaint);
		process.exitCode = 1;
	}
}
