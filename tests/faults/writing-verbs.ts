import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, resolve } from 'node:path';
import ts from 'typescript';

const room = 'src/lib/store';

/** A function at the top of a file. */
interface Found {
	/** Functions of this room that it names, by file and name. */
	names: Set<string>;
	/** It is exported, and the first that it is given is a store. */
	isVerb: boolean;
}

/** The exported functions of the store that come to `write`, its one door to the disk, by whatever way, by name and in order. */
export function writingVerbs(): string[] {
	const files = readdirSync(room, { recursive: true, encoding: 'utf8' }).filter((name) =>
		name.endsWith('.ts')
	);
	const all = new Map(files.flatMap((file) => functionsIn(file)));
	const writing = new Set(['database#write']);
	for (let before = 0; before < writing.size;) {
		before = writing.size;
		for (const [key, { names }] of all) if ([...names].some((name) => writing.has(name))) writing.add(key);
	}
	writing.delete('database#write');
	return [...writing].flatMap((key) => (all.get(key)?.isVerb ? key.split('#')[1]! : [])).sort();
}

function functionsIn(file: string): [string, Found][] {
	const source = ts.createSourceFile(
		file,
		readFileSync(join(room, file), 'utf8'),
		ts.ScriptTarget.Latest,
		true
	);
	const own = file.replace(/\.ts$/, '');
	const imported = new Map<string, string>();
	const found: [string, Found][] = [];
	const take = (name: string, of: ts.SignatureDeclaration, isExported: boolean) => {
		const names = new Set<string>();
		const look = (node: ts.Node): void => {
			if (ts.isIdentifier(node)) names.add(imported.get(node.text) ?? `${own}#${node.text}`);
			ts.forEachChild(node, look);
		};
		look(of);
		found.push([
			`${own}#${name}`,
			{ names, isVerb: isExported && of.parameters[0]?.type?.getText() === 'UseStore' }
		]);
	};
	for (const statement of source.statements) {
		const isExported = ts.canHaveModifiers(statement) && /^export\b/.test(statement.getText());
		if (ts.isImportDeclaration(statement)) {
			const from = (statement.moduleSpecifier as ts.StringLiteral).text;
			const path = from.startsWith('.') ? relative(room, resolve(room, file, '..', from)) : undefined;
			const bindings = statement.importClause?.namedBindings;
			if (path === undefined || !bindings || !ts.isNamedImports(bindings)) continue;
			for (const { name, propertyName } of bindings.elements)
				imported.set(name.text, `${path}#${(propertyName ?? name).text}`);
		}
		if (ts.isFunctionDeclaration(statement) && statement.name)
			take(statement.name.text, statement, isExported);
		if (ts.isVariableStatement(statement))
			for (const { name, initializer } of statement.declarationList.declarations)
				if (initializer && ts.isArrowFunction(initializer)) take(name.getText(), initializer, isExported);
	}
	return found;
}
