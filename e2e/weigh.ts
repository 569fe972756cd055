import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { gzipSync } from 'node:zlib';

export interface Script {
	/** Path in the built page, with a slash in front. */
	path: string;
	/** After gzip at its usual level. */
	bytes: number;
	text: string;
}

/** Every script of a built page but the service worker, which the page does not wait for. */
export function scriptsOf(folder: string): Script[] {
	return readdirSync(folder, { recursive: true, encoding: 'utf8' })
		.filter((name) => name.endsWith('.js') && name !== 'service-worker.js')
		.filter((name) => statSync(join(folder, name)).isFile())
		.map((name) => {
			const text = readFileSync(join(folder, name), 'utf8');
			return { path: `/${name}`, bytes: gzipSync(text).length, text };
		});
}

/** The scripts that a page of the build asks for by itself, with all that these import before they run. */
export function firstScripts(folder: string, page = 'index.html'): Script[] {
	const named = readFileSync(join(folder, page), 'utf8').matchAll(
		/(?:_app\/immutable\/[\w./-]+|first-paint)\.js/g
	);
	return withImports(
		scriptsOf(folder),
		Array.from(named, ([name]) => `/${name}`)
	);
}

/** The scripts of these paths and all that they import before they run. */
export function withImports(scripts: readonly Script[], paths: readonly string[]): Script[] {
	const byPath = new Map(scripts.map((script) => [script.path, script]));
	const found = new Set<Script>();
	const take = (path: string) => {
		const script = byPath.get(path);
		if (!script || found.has(script)) return;
		found.add(script);
		for (const [, name] of script.text.matchAll(/\b(?:import|from)\s*["'](\.[^"']+\.js)["']/g))
			take(join(dirname(path), name!));
	};
	paths.forEach(take);
	return [...found];
}

/** The two libraries that are fetched only when a session or a picture wants them, known by their own words. */
export function libraryOf(script: Script): 'Tone' | 'Chart.js' | undefined {
	if (script.text.includes('toDestination')) return 'Tone';
	return script.text.includes('addControllers') ? 'Chart.js' : undefined;
}

export const bytesOf = (scripts: readonly Script[]) => scripts.reduce((sum, { bytes }) => sum + bytes, 0);
