// The rule behind the table of rooms and doors in eslint.config.js.
import { dirname, relative, resolve, sep } from 'node:path';

/**
 * @typedef {{ may: string[], types?: string[], files?: string[], why: string }} Room
 * @typedef {{ packages: RegExp, rooms: string[], why: string }} Door
 */

const sources = resolve(import.meta.dirname, '../../src');

/** The room a file belongs to, its name as `room/file`, or undefined outside src. @param {string} path */
function placeOf(path) {
	const parts = relative(sources, path).split(sep);
	if (parts[0] === 'lib') return { room: parts[1] ?? '', file: parts.slice(1).join('/') };
	// Matchers of addresses belong to the routes.
	if (parts[0] === 'routes' || parts[0] === 'params') return { room: 'routes', file: parts.join('/') };
	return parts[0] === '..' ? undefined : { room: '', file: parts.join('/') };
}

/**
 * Judges every way of naming another module: static, dynamic, re-exported, in a type, as a worker's address.
 *
 * @param {Record<string, Room>} rooms
 * @param {Door[]} doors
 * @returns {import('eslint').Rule.RuleModule}
 */
export const arrowsRule = (rooms, doors) => ({
	meta: { type: 'problem', schema: [] },
	/** @param {import('eslint').Rule.RuleContext} context */
	create(context) {
		const here = placeOf(context.filename) ?? { room: '', file: '' };
		const room = rooms[here.room];

		/** @param {any} node @param {string} message */
		const report = (node, message) => context.report({ node, message });

		/** @param {any} node @param {string} written @param {boolean} typeOnly */
		function judge(node, written, typeOnly) {
			const name = written.split('?')[0] ?? '';
			const inLib = /^\$lib(?:\/|$)/.test(name);
			for (const door of doors) {
				if (door.packages.test(name) && !door.rooms.includes(here.room)) report(node, `${door.why}.`);
			}
			if (/^\/|^(src|lib)\//.test(name)) return report(node, "Write '$lib/<room>/<file>'.");
			if (!inLib && !name.startsWith('.')) return;

			const path = inLib ? resolve(sources, name.slice(1)) : resolve(dirname(context.filename), name);
			const there = placeOf(path);
			if (!there) return report(node, 'src/ imports nothing from outside itself.');
			if (there.room === here.room && !inLib) return;
			if (!inLib && there.room)
				return report(node, "Across rooms write '$lib/<room>/<file>', in plain sight.");
			if (!/^[^/]+\/[^/]/.test(there.file)) return report(node, "No barrels: write '$lib/<room>/<file>'.");
			if (there.room === here.room) return report(node, "Inside a room write './<file>'.");
			if (!room) return report(node, `${here.file} stands outside the rooms and imports none of them.`);
			if (room.may.includes(there.room)) return;
			if (room.files?.includes(there.file.replace(/\.[jt]s$/, ''))) return;
			if (typeOnly && room.types?.includes(there.room)) return;
			report(node, `${here.room} may not import ${there.room}: ${room.why}.`);
		}

		/** @param {any} node */
		function judgeDynamic({ source }) {
			const text = source.type === 'TemplateLiteral' ? source.quasis[0]?.value.cooked : source.value;
			if (typeof text !== 'string' || source.expressions?.length) {
				return report(source, 'Name the file in a plain string, so that the arrow can be seen.');
			}
			judge(source, text, false);
		}

		return {
			/** @param {any} node */
			Program(node) {
				if (here.file && !room && context.filename.startsWith(resolve(sources, 'lib') + sep)) {
					report(node, `src/lib/${here.file} is in no known room: give the room a line in eslint.config.js.`);
				}
				if (/\.svelte\.[jt]s$/.test(here.file) && !['session', 'store'].includes(here.room)) {
					report(
						node,
						'Runes stand in .svelte files and in session/ and store/*.svelte.ts: the other rooms are plain values and functions.'
					);
				}
				if (/(^|\/)index\.[jt]s$/.test(here.file)) report(node, 'No barrels: import each file by its name.');
			},
			/** @param {any} node */
			ImportDeclaration(node) {
				const specifiers = node.specifiers;
				const typeOnly =
					node.importKind === 'type' ||
					(specifiers.length > 0 && specifiers.every((/** @type {any} */ one) => one.importKind === 'type'));
				judge(node.source, node.source.value, typeOnly);
			},
			/** @param {any} node */
			'ExportAllDeclaration, ExportNamedDeclaration[source]'(node) {
				const ownName = node.type === 'ExportNamedDeclaration' && node.source.value.startsWith('./');
				if (!ownName) report(node, 'No barrels: whoever needs it imports it from the file that has it.');
				judge(node.source, node.source.value, node.exportKind === 'type');
			},
			ImportExpression: judgeDynamic,
			/** @param {any} node */
			TSImportType({ source, argument }) {
				const literal = source ?? argument.literal;
				judge(literal, literal.value, true);
			},
			/** @param {any} node */
			"NewExpression[callee.name='URL'][arguments.1.type='MemberExpression'][arguments.1.object.type='MetaProperty']"(
				node
			) {
				judgeDynamic({ source: node.arguments[0] });
			},
			/** @param {any} node */
			"CallExpression[callee.object.type='MetaProperty'][callee.property.name=/^glob/]"(node) {
				report(node, 'import.meta.glob hides arrows: name each file.');
			},
			/** @param {any} node */
			'Identifier[name=/^[$](state|derived|effect|props|bindable|inspect|host)$/]'(node) {
				if (!/\.svelte(\.[jt]s)?$/.test(here.file))
					report(node, 'Runes work only in .svelte and .svelte.ts files.');
			}
		};
	}
});
