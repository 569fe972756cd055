// Finds the Chromium for the browser stories; run by itself (before the stories) it also installs one where it
// may. A machine without one ends the run with a sentence: the stories are never skipped.
import { execFileSync } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';
import process from 'node:process';
import { pathToFileURL } from 'node:url';
import { chromium } from '@playwright/test';

const commands = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];

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

function installDebianChromium() {
	const apt = {
		stdio: /** @type {const} */ ('inherit'),
		env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
	};
	execFileSync('apt-get', ['update'], apt);
	execFileSync('apt-get', ['install', '-y', '--no-install-recommends', 'chromium'], apt);
}

function main() {
	if (process.env.CHROMIUM && !findChromium()) {
		return `CHROMIUM names ${process.env.CHROMIUM}, which cannot be run: correct it or leave it unset.`;
	}
	if (findChromium()) return undefined;
	if (process.getuid?.() === 0 && onPath('apt-get')) {
		try {
			installDebianChromium();
		} catch {
			return 'Installing chromium with apt-get failed (see above): install Chromium by hand, or set CHROMIUM to the path of one.';
		}
		if (findChromium()) return undefined;
	}
	return 'No Chromium found: install it (Debian: sudo apt-get install chromium), or set CHROMIUM to the path of one.';
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
	const complaint = main();
	if (complaint) {
		console.error(complaint);
		process.exitCode = 1;
	}
}
