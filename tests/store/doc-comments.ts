import { readFileSync } from 'node:fs';
import ts from 'typescript';

/** A part of a JSON Schema, as far as comments are written into it. */
export interface Json {
	[keyword: string]: unknown;
	description?: string;
	properties?: Record<string, Json>;
	items?: Json | false;
}

/** What the source says of schemas: the doc comment of a member is what the published form says of it. */
export class DocComments {
	readonly #declared = new Map<string, ts.Node>();
	readonly #comments = new Map<string, string>();

	constructor(paths: readonly string[]) {
		for (const path of paths) {
			const source = ts.createSourceFile(path, readFileSync(path, 'utf8'), ts.ScriptTarget.Latest, true);
			for (const statement of source.statements) this.#take(statement);
		}
	}

	/** Writes into a form what the source says of the constant or interface of this name and of its members. */
	describe(form: Json, name: string): Json {
		const comment = this.#comments.get(name);
		if (comment) form.description ??= comment;
		const node = this.#declared.get(name);
		if (!node) throw new Error(`Nothing is declared as ${name}.`);
		this.#describeMembers(form, node);
		return form;
	}

	/** The same of one member of a constant, as of a kind in the list of kinds. */
	describeMember(form: Json, value: Json, name: string, member: string): void {
		const literal = this.#literalIn(this.#declared.get(name));
		const found = literal && membersOf(literal).find((one) => nameOf(one) === member);
		if (!found) throw new Error(`${name} has no member ${member}.`);
		this.#describeMember(form, value, found);
	}

	#take(statement: ts.Statement): void {
		const comment = commentOf(statement);
		if (ts.isInterfaceDeclaration(statement)) this.#declare(statement.name.text, statement, comment);
		if (ts.isTypeAliasDeclaration(statement)) {
			const of = /<typeof (\w+)>/.exec(statement.type.getText())?.[1];
			if (of && comment) this.#comments.set(of, comment);
		}
		if (ts.isVariableStatement(statement))
			for (const { name, initializer } of statement.declarationList.declarations)
				if (initializer) this.#declare(name.getText(), initializer, comment);
	}

	#declare(name: string, node: ts.Node, comment: string): void {
		this.#declared.set(name, node);
		if (comment) this.#comments.set(name, comment);
	}

	#describeMembers(form: Json, node: ts.Node): void {
		const literal = this.#literalIn(node);
		for (const member of literal ? membersOf(literal) : []) {
			if (ts.isSpreadAssignment(member)) this.#describeMembers(form, member.expression);
			const property = form.properties?.[nameOf(member)];
			if (property) this.#describeMember(property, property, member);
		}
	}

	#describeMember(form: Json, value: Json, member: ts.Node): void {
		const comment = commentOf(member);
		if (comment) form.description ??= comment;
		const inner = value.items || value;
		if (inner.properties && ts.isPropertyAssignment(member)) this.#describeMembers(inner, member.initializer);
	}

	/** The members that stand in an expression, or behind a name in it. */
	#literalIn(node: ts.Node | undefined): ts.ObjectLiteralExpression | ts.InterfaceDeclaration | undefined {
		if (!node) return undefined;
		if (ts.isObjectLiteralExpression(node) || ts.isInterfaceDeclaration(node)) return node;
		if (ts.isIdentifier(node)) return this.#literalIn(this.#declared.get(node.text));
		// What is called is no part of what it is called with.
		const called = ts.isCallExpression(node) ? node.expression : undefined;
		return ts.forEachChild(node, (child) => (child === called ? undefined : this.#literalIn(child)));
	}
}

const membersOf = (node: ts.ObjectLiteralExpression | ts.InterfaceDeclaration): readonly ts.Node[] =>
	ts.isInterfaceDeclaration(node) ? node.members : node.properties;

function nameOf(member: ts.Node): string {
	const { name } = member as ts.PropertyAssignment;
	return name && (ts.isIdentifier(name) || ts.isStringLiteral(name)) ? name.text : '';
}

function commentOf(node: ts.Node): string {
	const comments = ts.getJSDocCommentsAndTags(node).filter((one) => ts.isJSDoc(one));
	const text = ts.getTextOfJSDocComment(comments.at(-1)?.comment) ?? '';
	return text.replace(/\s+/g, ' ').trim();
}
