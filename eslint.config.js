import './tests/house/one-program.js';
import js from '@eslint/js';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import ts from 'typescript-eslint';
import { arrowsRule } from './tests/house/arrows.js';
import svelteConfig from './svelte.config.js';

/**
 * The house. Data flows one way, so each room may import from a few others only. `may` opens whole rooms,
 * `files` single files of a room, `types` rooms whose types alone may come in, because they leave no trace in the
 * running program; `why` is what the message says.
 *
 * @type {Record<string, import('./tests/house/arrows.js').Room>}
 */
const rooms = {
	time: { may: [], why: 'everything else stands on the clock, so the clock stands on nothing' },
	gatt: { may: ['time'], why: 'a strap sends bytes and knows neither rounds nor sessions' },
	rounds: { may: ['time'], why: 'a plan and its timeline are pure, and heard, shown and kept by others' },
	bell: { may: ['time', 'rounds'], why: 'the bell rings a timeline and does not ask what the heart does' },
	physiology: {
		may: [],
		why: 'measures are pure functions of numbers; what they need comes in as arguments, so that anybody can check them alone'
	},
	record: {
		may: ['rounds', 'physiology', 'bell'],
		why: 'the form of what is kept stands by itself, so that whoever reads or writes it goes by the same one'
	},
	review: {
		may: ['record', 'rounds', 'physiology'],
		why: 'what kept records come to is computed of records alone, the same in a page, a worker and a test'
	},
	session: {
		may: ['time', 'gatt', 'rounds', 'bell', 'physiology', 'record', 'review'],
		why: 'a session joins clock, straps and measures; it hands what happened to a Sink and knows neither storage nor screens'
	},
	store: {
		may: ['record', 'review', 'rounds'],
		types: ['physiology'],
		why: 'the store keeps records and asks nobody what happens now'
	},
	charts: { may: ['physiology', 'record', 'review', 'session'], why: 'a picture draws what it is handed' },
	components: {
		may: ['session', 'rounds', 'record', 'review', 'charts'],
		types: ['gatt', 'bell', 'physiology', 'store'],
		why: 'straps, bell and store reach a component as props or context (their types may be imported with import type), measures through the session'
	},
	routes: {
		may: [
			'time',
			'gatt',
			'rounds',
			'bell',
			'physiology',
			'record',
			'review',
			'session',
			'store',
			'charts',
			'components'
		],
		why: 'routes join the rooms'
	}
};

/** Each outside thing has one door. @type {import('./tests/house/arrows.js').Door[]} */
const doors = [
	{
		packages: /^tone(\/|$)/,
		rooms: ['bell'],
		why: 'Tone is imported only in bell/: sound has one owner and one bridge between its clock and the page'
	},
	{
		packages: /^idb-keyval(\/|$)/,
		rooms: ['store'],
		why: 'idb-keyval is imported only in store/: what is kept is validated in one place'
	},
	{
		packages: /^chart\.js(\/|$)/,
		rooms: ['charts'],
		why: 'Chart.js is imported only in charts/: it is wrapped once, one component per picture'
	},
	{
		packages: /^svelte(\/|$)/,
		rooms: ['session', 'store', 'charts', 'components', 'routes'],
		why: 'this room runs without Svelte: its tests, benches and workers need no component'
	},
	{
		packages: /^\$app\//,
		rooms: ['components', 'routes'],
		why: 'navigation and pages belong to routes/ and components/'
	}
];

const noBluetooth = [
	'MemberExpression[property.name="bluetooth"]',
	'MemberExpression > Literal.property[value="bluetooth"]',
	'ObjectPattern > Property[key.name="bluetooth"]',
	'BinaryExpression[operator="in"] > Literal[value="bluetooth"]'
].map((selector) => ({
	selector,
	message: 'navigator.bluetooth is touched only in gatt/: the rest of the house knows the Strap interface.'
}));

const noPicker = ['Identifier[name="showDirectoryPicker"]', 'Literal[value="showDirectoryPicker"]'].map(
	(selector) => ({
		selector,
		message:
			'The File System Access API is touched only in store/folder/door.ts: the rest of the house knows FolderFiles.'
	})
);

/** @param {string} verbs */
const noSkipping = (verbs) => ({
	selector: `CallExpression[callee.property.name=/^(${verbs})$/][callee.object.name=/^(test|it|describe)$/]`,
	message: 'A test runs and can fail, or it is deleted.'
});

/** @param {string} what */
const unpure = (what) =>
	`${what}: physiology is pure. Time, randomness and the page come in as arguments or not at all.`;
const unpureGlobals = [
	...[
		'Date',
		'performance',
		'crypto',
		'window',
		'document',
		'navigator',
		'globalThis',
		'self',
		'fetch',
		'console'
	],
	...[
		'localStorage',
		'sessionStorage',
		'indexedDB',
		'setTimeout',
		'setInterval',
		'requestAnimationFrame',
		'queueMicrotask'
	]
];

export default ts.config(
	{ ignores: ['build/', '.svelte-kit/', 'test-results/', 'playwright-report/', 'tests/fixtures/*.js'] },
	{ linterOptions: { reportUnusedDisableDirectives: 'error' } },
	js.configs.recommended,
	ts.configs.recommended,
	svelte.configs.recommended,
	{
		languageOptions: { globals: { ...globals.browser, ...globals.node } },
		rules: {
			// The compiler knows which names exist, types included.
			'no-undef': 'off',
			eqeqeq: 'error',
			'@typescript-eslint/no-unused-vars': ['error', { ignoreRestSiblings: true }],
			'@typescript-eslint/consistent-type-imports': ['error', { disallowTypeAnnotations: false }]
		}
	},
	{
		files: ['**/*.svelte', '**/*.svelte.ts'],
		languageOptions: { parserOptions: { parser: ts.parser, extraFileExtensions: ['.svelte'], svelteConfig } },
		rules: {
			// The page has a port, and so an address, of its own: there is no base path to resolve against.
			'svelte/no-navigation-without-resolve': 'off',
			// State is runes here; to look for stores asks for the type of every name in every component.
			'svelte/require-store-reactive-access': 'off',
			// A Map, Set or Date that stands in a runes file is a plain one on purpose: what reacts is $state.
			'svelte/prefer-svelte-reactivity': 'off'
		}
	},
	{
		// A write is finished when its promise is awaited; a story has looked when its expectation is.
		files: ['src/**/*.ts', 'src/**/*.svelte', 'tests/**/*.ts', 'e2e/**/*.ts'],
		ignores: ['src/service-worker.ts'],
		languageOptions: { parserOptions: { projectService: true, extraFileExtensions: ['.svelte'] } },
		rules: { '@typescript-eslint/no-floating-promises': 'error' }
	},
	{
		files: ['src/**'],
		ignores: ['src/*.js'],
		plugins: { house: { rules: { arrows: arrowsRule(rooms, doors) } } },
		rules: { 'house/arrows': 'error' }
	},
	{
		files: ['src/**'],
		ignores: ['src/lib/gatt/**'],
		rules: { 'no-restricted-syntax': ['error', ...noBluetooth, ...noPicker] }
	},
	{
		files: ['src/lib/**', 'src/routes/**'],
		ignores: ['src/lib/store/visit-hint.ts'],
		rules: {
			'no-restricted-globals': [
				'error',
				{
					name: 'localStorage',
					message:
						'What is kept lies in the database; only visit-hint.ts notes what the first paint must know.'
				}
			]
		}
	},
	{
		files: ['src/lib/store/folder/door.ts'],
		rules: { 'no-restricted-syntax': ['error', ...noBluetooth] }
	},
	{
		files: ['src/lib/gatt/**'],
		rules: { 'no-restricted-syntax': ['error', ...noPicker] }
	},
	{
		files: ['src/lib/physiology/**'],
		rules: {
			'no-restricted-globals': ['error', ...unpureGlobals.map((name) => ({ name, message: unpure(name) }))],
			'no-restricted-properties': [
				'error',
				{ object: 'Math', property: 'random', message: unpure('Math.random') }
			]
		}
	},
	{
		// A check against a tool that this machine may lack, `it.runIf`, is allowed here and says so in its name.
		files: ['tests/**'],
		ignores: ['tests/by-chance.ts'],
		rules: {
			'no-restricted-syntax': ['error', noSkipping('skip|todo|only|fails')],
			'no-restricted-imports': [
				'error',
				{ paths: [{ name: 'fast-check', message: 'From tests/by-chance.ts, which fixes the seed.' }] }
			]
		}
	},
	{
		files: ['e2e/**'],
		rules: {
			'no-restricted-syntax': ['error', noSkipping('skip|skipIf|runIf|todo|fixme|only|fail')],
			'no-restricted-imports': [
				'error',
				{
					patterns: [
						{
							regex: '^\\$lib|/src/',
							message:
								'The stories know the page from outside, as its user does, and check it with numbers of their own.'
						}
					]
				}
			]
		}
	}
);
