import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { expect, it } from 'vitest';

const src = join(import.meta.dirname, '../../src');
const files = readdirSync(src, { recursive: true, encoding: 'utf8' }).filter((name) =>
	/\.(ts|svelte)$/.test(name)
);

/** The files that a file imports, for their types too. */
function importsOf(file: string): string[] {
	const text = readFileSync(join(src, file), 'utf8');
	return [...text.matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].flatMap(([, named = '']) => {
		const at = named.startsWith('$lib/') ? join('lib', named.slice(5)) : join(dirname(file), named);
		return files.find((one) => one === at || one === `${at}.ts`) ?? [];
	});
}

/** The circles of imports that are met on the way through all files, each from a file back to itself. */
function circlesIn(graph: ReadonlyMap<string, readonly string[]>): string[] {
	const circles: string[] = [];
	const done = new Set<string>();
	const visit = (file: string, way: readonly string[]) => {
		const since = way.indexOf(file);
		if (since !== -1) return void circles.push([...way.slice(since), file].join(' > '));
		if (done.has(file)) return;
		for (const next of graph.get(file) ?? []) visit(next, [...way, file]);
		done.add(file);
	};
	for (const file of graph.keys()) visit(file, []);
	return circles;
}

it('no file stands on itself by way of others, not for a type either', () => {
	expect(files.length).toBeGreaterThan(300);
	expect(circlesIn(new Map(files.map((file) => [file, importsOf(file)])))).toEqual([]);
});

it('a circle is seen where there is one', () => {
	const graph = new Map([
		['a', ['b']],
		['b', ['c']],
		['c', ['b']]
	]);
	expect(circlesIn(graph)).toEqual(['b > c > b']);
});
