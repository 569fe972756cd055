import type { Chance } from './chance';

/** Written where JSON itself knows no such value, and put into the text afterwards. */
const raw = '\u0001raw:';
const rawTexts = [
	'1e400',
	'-1e400',
	'9007199254740993',
	'-0',
	'1E+2',
	'NaN',
	'Infinity',
	'undefined',
	'01',
	"'x'"
];
const names = ['__proto__', 'constructor', 'prototype', 'toString', 'hasOwnProperty', 'length', 'then', ''];

/** A value that a program might trip over. */
function hostileValue(chance: Chance): unknown {
	return chance.pick([
		() => chance.pick<unknown>([null, true, false, '', 'x', 0, -1, 0.5, 1e308, -5e-324, 2 ** 53, 2 ** 32]),
		() => chance.pick<unknown>([[], {}, [[]], [null], { length: 1e9 }, { uint8: [256] }, { uint16: 'x' }]),
		() => `${raw}${chance.pick(rawTexts)}`,
		() => 'a'.repeat(chance.pick([1000, 250_000])),
		() =>
			chance.pick(['\ud800', '\u0000', '\u202e', '<img src=x onerror=alert(1)>', '=1+1', '../../x', '🥊']),
		() => nested(chance.pick([5, 20, 3000, 100_000])),
		() => Array.from({ length: chance.pick([300, 30_000]) }, () => chance.below(300)),
		() => `${raw}{"__proto__":{"polluted":true},"constructor":{"prototype":{"polluted":true}}}`
	])();
}

/** Put in as text: what writes JSON would itself be out of its depth. */
function nested(depth: number): string {
	return `${raw}${'[{"a":'.repeat(depth / 2)}1${'}]'.repeat(depth / 2)}`;
}

type Branch = Record<string, unknown> | unknown[];

function branchesOf(value: unknown, found: Branch[] = []): Branch[] {
	if (typeof value !== 'object' || value === null) return found;
	found.push(value as Branch);
	for (const member of Object.values(value)) branchesOf(member, found);
	return found;
}

/** A JSON text with one to three things in it changed: a value, a name, an order, a place, or the text itself. */
export function mutatedJson(text: string, chance: Chance): string {
	let mutated = text;
	if (chance.uniform() < 0.7) {
		const content: unknown = JSON.parse(text);
		for (let count = 1 + chance.below(3); count > 0; count--)
			change(chance.pick(branchesOf(content)), chance);
		mutated = JSON.stringify(content, undefined, chance.pick([undefined, undefined, '\t']));
		mutated = mutated.replace(
			/"\\u0001raw:((?:[^"\\]|\\.)*)"/g,
			(_, inner: string) => JSON.parse(`"${inner}"`) as string
		);
		if (chance.uniform() < 0.8) return mutated;
	}
	return mutatedText(mutated, chance);
}

function change(branch: Branch, chance: Chance): void {
	if (Array.isArray(branch)) return changeList(branch, chance);
	const members = Object.keys(branch);
	const member = members.length > 0 ? chance.pick(members) : 'x';
	const value = branch[member];
	switch (chance.below(5)) {
		case 0:
			delete branch[member];
			return;
		case 1:
			delete branch[member];
			return define(branch, chance.pick(names), value);
		case 2:
			return define(branch, chance.pick(names), hostileValue(chance));
		case 3:
			return define(branch, chance.pick(members.length > 0 ? members : ['x']), value);
		default:
			return define(branch, member, hostileValue(chance));
	}
}

function changeList(list: unknown[], chance: Chance): void {
	const at = chance.below(list.length + 1);
	switch (chance.below(5)) {
		case 0:
			list.splice(at, 1);
			return;
		case 1:
			// The same again: an id that is there twice.
			list.splice(at, 0, structuredClone(list[chance.below(list.length)]));
			return;
		case 2:
			list.reverse();
			return;
		case 3:
			list.splice(at, 0, hostileValue(chance));
			return;
		default:
			list[at] = hostileValue(chance);
	}
}

/** An assignment to `__proto__` would set the prototype instead of a member that JSON.stringify writes. */
function define(branch: Branch, name: string, value: unknown): void {
	Object.defineProperty(branch, name, { value, enumerable: true, configurable: true, writable: true });
}

/** A text of any kind with its characters, lines or ends changed. */
export function mutatedText(text: string, chance: Chance): string {
	const at = chance.below(text.length + 1);
	const to = Math.min(text.length, at + 1 + chance.below(chance.pick([1, 40, 4000])));
	switch (chance.below(9)) {
		case 0:
			return flipped(text, at, chance);
		case 1:
			return text.slice(0, at);
		case 2:
			return text.slice(0, at) + text.slice(to);
		case 3:
			return text.slice(0, to) + text.slice(at);
		case 4:
			return (
				text.slice(0, at) +
				chance.pick(['\ufeff', '\u0000', '\ud800', '"', ',', ';', '\n', '9'.repeat(400), '[', '{']) +
				text.slice(at)
			);
		case 5:
			return `\ufeff${text}`;
		case 6:
			return text.replaceAll('\n', '\r\n');
		case 7:
			return swappedLines(text, chance);
		default:
			return '['.repeat(chance.pick([1, 200_000])) + text;
	}
}

function flipped(text: string, at: number, chance: Chance): string {
	let flipped = text;
	for (let count = 1 + chance.below(4), i = at; count > 0; count--, i = chance.below(text.length)) {
		const code = (text.charCodeAt(i) || 0) ^ (1 << chance.below(chance.pick([7, 16])));
		flipped = flipped.slice(0, i) + String.fromCharCode(code) + flipped.slice(i + 1);
	}
	return flipped;
}

function swappedLines(text: string, chance: Chance): string {
	const lines = text.split('\n');
	const [one, other] = [chance.below(lines.length), chance.below(lines.length)];
	[lines[one], lines[other]] = [lines[other]!, lines[one]!];
	return lines.join('\n');
}
