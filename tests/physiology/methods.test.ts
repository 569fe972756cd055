import { describe, expect, it } from 'vitest';
import { allMethods } from '$lib/physiology/all-methods';
import { regressionKJPerMin } from '$lib/physiology/energy-regression';
import checkedAgainst from '$lib/physiology/checked-against.json';
import { checksOf } from '$lib/review/outside-checks';
import { youthExpenditureKcal } from '$lib/physiology/youth-energy';
import { alphaOfAutoregression, logSlope } from './scaling-noise';

const modules = import.meta.glob<Record<string, unknown>>('/src/lib/physiology/*.ts', { eager: true });
const screens = import.meta.glob<string>('/src/**/*.svelte', {
	eager: true,
	query: '?raw',
	import: 'default'
});

/** Exported functions that measure nothing, and why they have no entry. */
const helpers: Record<string, string> = {
	adviceFor: 'turns a verdict into a line for the corner',
	headingAdvice: 'turns a forecast into a line for the corner',
	headingWords: 'turns a forecast into words',
	changeSentence: 'turns a change into a sentence',
	differenceSentence: 'turns a difference into a sentence',
	bodyOf: 'checks that mass and age are given and possible',
	reaches: 'compares two steps by their place in a list',
	earlierStep: 'takes the earlier of two steps',
	firstIndex: 'looks for a place in a list',
	quantileOf: 'reads a place between two values of a sorted list',
	sumOf: 'adds ranges end by end'
};

/** The anchors of the Methods screen: links to them are out in the world, so none changes or goes. */
const anchors = [
	...[
		'bell-rate',
		'peak',
		'drop-60',
		'typical-error',
		'band',
		'fade',
		'usual',
		'change',
		'unusual',
		'recovery-curve',
		'forecast'
	],
	...['drop-from-rr', 'threshold-run', 'over-threshold', 'alpha-1', 'second-opinion'],
	...['intensity', 'time-in-aim', 'maximum', 'higher-maximum', 'reserve', 'reference-bands', 'way-back'],
	...['energy', 'energy-regression', 'met', 'resting-expenditure', 'load', 'session-rating', 'week', 'taper'],
	...['energy-budget', 'energy-availability', 'fat-free-mass', 'youth-needs'],
	...['weight-goal', 'weight-median'],
	...['resting-rate', 'rmssd', 'sdnn', 'mean-rate', 'grid', 'artefacts']
];

const ids = allMethods.map(({ id }) => id);
const entry = (id: string) => allMethods.find((each) => each.id === id)!;
const fuelIds = allMethods.filter(({ theme }) => theme === 'fuel and weight').map(({ id }) => id);
const numbersOf = (text: string) => text.match(/-?\d+(\.\d+)?/g)!.map(Number);
/** The value of a printed sum such as "-2.5 + 0.3 mass". */
const workedOut = (terms: string, quantities: Record<string, number>) =>
	[...terms.matchAll(/([+-]?) ?([\d.]+) ?([A-Za-z]\w*)?/g)].reduce(
		(sum, [, sign, number, name]) =>
			sum + (sign === '-' ? -1 : 1) * Number(number) * (name ? quantities[name]! : 1),
		0
	);

describe('the entries and the measures', () => {
	const exported = Object.values(modules).flatMap((module) =>
		Object.keys(module).filter((name) => typeof module[name] === 'function')
	);
	const named = new Set(allMethods.flatMap(({ measures }) => measures));

	it('explain every exported function and class, but for named helpers', () => {
		expect(exported.length).toBeGreaterThan(50);
		expect(exported.filter((name) => !named.has(name) && !(name in helpers))).toEqual([]);
	});

	it('name nothing that does not exist, and no helper that has an entry after all', () => {
		expect([...named, ...Object.keys(helpers)].filter((name) => !exported.includes(name))).toEqual([]);
		expect(Object.keys(helpers).filter((name) => named.has(name))).toEqual([]);
		expect(allMethods.filter(({ measures }) => measures.length === 0)).toEqual([]);
	});

	it('keep their anchors, each once', () => {
		expect(new Set(ids).size).toBe(ids.length);
		expect(ids.toSorted()).toEqual(anchors.toSorted());
	});

	it('exist wherever a screen links to one', () => {
		const linked = Object.values(screens).flatMap((text) =>
			[...text.matchAll(/<HowMade of="([^"]*)"|\/methods\/#([\w-]+)/g)].map(([, of, anchor]) => of ?? anchor)
		);
		expect(linked.length).toBeGreaterThan(5);
		expect(linked.filter((id) => !ids.includes(id!))).toEqual([]);
	});

	it('stand together by theme', () => {
		const themes = allMethods.map(({ theme }) => theme);
		const changes = themes.filter((theme, i) => theme !== themes[i - 1]);
		expect(changes).toEqual([...new Set(themes)]);
	});
});

describe('the words of each entry', () => {
	it.each(allMethods)('$id says everything, and its example runs', (method) => {
		const { given, steps, result } = method.example();
		const texts = [method.title, method.plain, method.formula, method.validRange, method.error];
		for (const text of [...texts, given, result]) expect(text).not.toBe('');
		for (const text of [...texts, method.limits, given, steps, result]) {
			expect(text ?? '').not.toMatch(/NaN|undefined|Infinity|\[object|-0\b(?!\.)/);
		}
	});

	it.each(allMethods)('$id names a source, or says that there is none', ({ sources }) => {
		expect(sources.length).toBeGreaterThan(0);
		const texts = sources.map((source) => (typeof source === 'string' ? source : source.text));
		expect(new Set(texts).size).toBe(texts.length);
		const phrases = ['Common practice, no source', 'Own rule'];
		for (const source of sources) {
			if (typeof source === 'string') expect(phrases).toContain(source);
			else {
				// Who, where, a year and a volume or number; and how far it was read.
				expect(source.text).toMatch(/^[^,\d]+,.*\b(19|20)\d\d\b.*\d/);
				expect(['read in full', 'abstract', 'from memory']).toContain(source.seen);
				expect(source.text).not.toContain('(from memory)');
			}
		}
	});

	it('call common practice what has no source: the 40 to 60 band and the 5 % off the run', () => {
		const common = allMethods.filter(({ sources }) => sources.includes('Common practice, no source'));
		expect(common.map(({ id }) => id)).toEqual(['band', 'threshold-run']);
		const others = allMethods.filter(({ id }) => id !== 'band' && id !== 'threshold-run');
		expect(others.filter(({ sources }) => /common practice/i.test(JSON.stringify(sources)))).toEqual([]);
	});

	it('own up to the rules of our own', () => {
		const owned = ['bell-rate', 'band', 'forecast', 'fade', 'over-threshold', 'intensity', 'energy', 'grid'];
		owned.push(...fuelIds);
		expect(owned.filter((id) => !entry(id).sources.includes('Own rule'))).toEqual([]);
	});

	it('warn of medicine, youth and the limits of the page where it matters', () => {
		const medicine = ['drop-60', 'band', 'maximum', 'reserve', 'energy', 'energy-regression', 'load'];
		for (const id of [...medicine, 'resting-rate']) {
			expect(entry(id).limits).toMatch(/medicine that slows the heart/i);
		}
		for (const id of ['drop-60', 'band', 'unusual', 'resting-rate']) {
			expect(entry(id).limits).toContain('not a medical device');
		}
		for (const id of ['energy', 'resting-expenditure']) expect(entry(id).limits).toMatch(/under 18/i);
	});

	it('warn everywhere in fuel and weight those who must not eat by a figure, and against drying out', () => {
		expect(fuelIds).toHaveLength(6);
		for (const id of fuelIds) {
			for (const words of [/under 18/i, /pregnan/, /eating disorder/, /doctor or dietitian/]) {
				expect(entry(id).limits, id).toMatch(words);
			}
		}
		expect(entry('weight-goal').limits).toMatch(/plans no loss of water/);
		expect(entry('youth-needs').limits).toMatch(/drinking less/);
	});
});

describe('what was checked against something outside', () => {
	const tests = import.meta.glob<string>('/tests/**/*.test.ts', {
		eager: true,
		query: '?raw',
		import: 'default'
	});

	it('belongs to an entry, each truth once', () => {
		expect(checkedAgainst.filter(({ entryId }) => !ids.includes(entryId))).toEqual([]);
		const truths = checkedAgainst.map(({ entryId, against }) => `${entryId}: ${against}`);
		expect(new Set(truths).size).toBe(truths.length);
	});

	it('is still looked for by a test, so that no line outlives its check', () => {
		const asked = Object.values(tests).join('').replaceAll("\\'", "'");
		expect(checkedAgainst.filter(({ against }) => !asked.includes(against))).toEqual([]);
	});

	it('stands beside its entry, and beside no other', () => {
		const shown = allMethods.flatMap(({ id }) => checksOf(id).map((check) => [id, check]));
		expect(shown.toSorted()).toEqual(checkedAgainst.map((check) => [check.entryId, check]).toSorted());
		expect(checksOf('band')).toEqual([]);
	});
});

describe('the worked examples', () => {
	const published: [id: string, ...values: string[]][] = [
		// Keytel et al., J Sports Sci 2005;23:289-297, its printed coefficients worked by hand: a man of 75 kg and a
		// woman of 60 kg, both 30 years, at 150 bpm.
		['energy-regression', '60.4991 kJ/min', '41.3198 kJ/min'],
		// The same: half of (0.65 + 1.0) x 60 min x 60.4991 kJ/min; less 1730 kcal x 4.184 / 24.
		['energy', '2995 kJ', '2693 kJ'],
		// Herrmann et al., J Sport Health Sci 2024;13:6-12, code 15125: 9.3 MET; 9.3 x 4.184 x 75 x 9 / 60.
		['met', '438 kJ'],
		// Mifflin et al., Am J Clin Nutr 1990;51:241-7, worked by hand for the same two, 180 and 165 cm tall.
		['resting-expenditure', '1730 kcal', '1320.25 kcal'],
		// Morton, Fitz-Clarke, Banister, J Appl Physiol 1990;69:1171-7: 60 x 0.6923 x 0.64 exp(1.92 x 0.6923).
		['load', '100.44'],
		// Foster et al., J Strength Cond Res 2001;15:109-115: rating x minutes.
		['session-rating', '420'],
		// Foster, Med Sci Sports Exerc 1998;30:1164-8, worked by hand: mean 200, squares 260000 / 6, SD 208.2.
		['week', '1400', '0.96', '1345'],
		// Mean less 5 %: common practice, no source; 0.95 x 170.
		['threshold-run', '161.5 bpm'],
		// Task Force, Circulation 1996;93:1043-65, its definitions worked by hand: root of (100 + 25 + 4225) / 3,
		// root of 2668.75 / 3, one pair over 50 ms; 60000 / 750.
		['rmssd', '38.08 ms'],
		['sdnn', '29.83 ms', 'NN50 1'],
		['mean-rate', '80 bpm'],
		// 120 + 60 exp(-1) = 142.07, worked by hand; Pierpont, Stolpman, Gornick, J Auton Nerv Syst 2000;80:169-174
		// for the three minutes.
		['recovery-curve', '142.07 bpm at 60 s', 'tau 60.0 s'],
		// Bosquet, Gamelin, Berthoin, Int J Sports Med 2008;29:238-43: 20 %; 2.8 x 9.5 = 26.6 and 2.8 x 8.5 = 23.8.
		['typical-error', '50 ± 10', '40 and 55 do not differ', '30 and 55 differ'],
		// Tanaka 2001, Fox 1971, Gellish 2007 and Gulati 2010 at 30 years, worked by hand.
		['maximum', '187.0', '190.0', '186.8', '179.6', '168 to 202 bpm'],
		// Worked example in print (PMC9830234, table 3): maximum 190, rest 70.
		['reserve', '118 and 141 bpm'],
		['reference-bands', '118 to 141 bpm by the reserve', '122 to 144 bpm by the maximum'],
		// Lipponen & Tarvainen, J Med Eng Technol 2019;43:173-181, its two repairs by hand: 1610 / 2 and 200 + 602.
		[
			'artefacts',
			'1610 (missed), 200 (extra)',
			'15 %',
			'800, 810, 805, 805, 805, 798, 790, 802, 808, 795, 802, 806, 799 ms'
		],
		// Cole et al., N Engl J Med 1999;341:1351-7: 12 beats or fewer.
		['unusual', '12 beats or fewer'],
		// By hand through (1, 60), (2, 51), (3, 40): slope -20 / 2; 20 % of 50.33 over the root of two and that of 2.
		['fade', '-10.0 ± 5.0'],
		// numpy.quantile of 36 38 39 40 41 42 44 45: places 0.7, 3.5 and 6.3.
		['usual', '40.5, mostly 37.4 to 44.3'],
		// 12 rests: root of 50 + 50 / 12.
		['typical-error', 'mean of 12: ± 7.4'],
		// Mifflin 1990 as above, 1730 kcal; the factor of 1.4 is our own rule: 0.4 x 1730, and 500 - 1.4 x 1730 / 24.
		['energy-budget', 'Resting 1730 kcal', 'life 692 kcal', '399 kcal net', '2821 kcal (2316 to 3361)'],
		// Loucks & Thuma, J Clin Endocrinol Metab 2003;88:297-311, the definition worked by hand: 1600 / 50, 1600 / 52
		// and 1800 / 48.
		['energy-availability', '32.0 kcal/kg/day: under the floor', '30.8 to 37.5', '2 days'],
		// Deurenberg, Weststrate, Seidell, Br J Nutr 1991;65:105-114, worked by hand: 30 + 6.9 - 10.8 - 5.4, and
		// 81 x 0.793, 0.752 and 0.834.
		['fat-free-mass', '20.7 %', '68.0 kg (66.4 to 69.6)', '64.2 kg (60.9 to 67.6)'],
		// Dietary Reference Intakes for Energy, 2023, table 5-8: 2099; tables 5-5 and 5-6 worked by hand for the boy of
		// 14: 2783 + 20, 2519 + 20 - 259 and 3088 + 20 + 259.
		['youth-needs', '2099 kcal', '2803 kcal a day (2280 to 3367)'],
		// 7700 kcal/kg (Wishnofsky, Am J Clin Nutr 1958;6:542-6): 0.375 x 1100. By hand: 35 x 0.82 x 84; the
		// rest 22.771 x 67.2 + 484.264 = 2014.5, times 1.6 less that; 1.6 x 2014.5 - 412.5; room at 81 kg 1.6 x 1959.8 -
		// 2410.8 = 724.9, so 3 x 7700 / 724.9 = 31.9 days.
		['weight-goal', '2410.8', '812.4', '0.375 kg', '412.5 kcal', '2810.7 kcal', 'earliest 32 days'],
		// The median by its definition: 79, 80, 81, 90.
		['weight-median', '80.5 kg']
	];
	it.each(published)('%s gives %s', (id, ...values) => {
		const { steps = '', result } = entry(id).example();
		for (const value of values) expect(`${steps} ${result}`).toContain(value);
	});

	it('the drop from the beats is that of the curve that they were made with', () => {
		// The mean of 120 + 60 exp(-t / 60) over seconds 55 to 59 is 120 + 60 x 60 / 5 x (exp(-55 / 60) - exp(-1)) = 143.02.
		const [drop] = numbersOf(entry('drop-from-rr').example().result);
		expect(Math.abs(drop! - (180 - 143.02))).toBeLessThan(0.2);
	});

	it('alpha-1 of white and Brownian noise is what short boxes are expected to read', () => {
		// Expected F(n) squared: (n^2 - 4) / n and (n^2 - 4)(n^2 + 5) / n, from the covariance of the profile.
		const [white, brownian] = numbersOf(entry('alpha-1').example().result);
		expect(Math.abs(white! - logSlope((n) => Math.sqrt((n ** 2 - 4) / n)))).toBeLessThan(0.02);
		const expected = logSlope((n) => Math.sqrt(((n ** 2 - 4) * (n ** 2 + 5)) / n));
		expect(Math.abs(brownian! - expected)).toBeLessThan(0.02);
	});

	it('the second opinion finds the crossings that its ramp was made with', () => {
		const { given, result } = entry('second-opinion').example();
		const [, aerobicMade, anaerobicMade] = /0\.75 is made to lie at (\d+) and 0\.5 at (\d+)/.exec(given)!;
		const [, aerobic, anaerobic] = /0\.75 at (\d+) bpm, 0\.5 at (\d+) bpm/.exec(result)!;
		// The ramp's autoregression leans by 0.75 at 120 bpm and by 0.018 less for each beat above.
		const alphaAt = (bpm: number) => alphaOfAutoregression(0.75 - 0.018 * (bpm - 120));
		expect(alphaAt(Number(aerobicMade))).toBeCloseTo(0.75, 2);
		expect(alphaAt(Number(anaerobicMade))).toBeCloseTo(0.5, 2);
		// Twice the method's own scatter on simulated ramps.
		expect(Math.abs(Number(aerobic) - Number(aerobicMade))).toBeLessThan(5);
		expect(Math.abs(Number(anaerobic) - Number(anaerobicMade))).toBeLessThan(7);
	});

	it('the forecast holds the drop that the rest turns out to have', () => {
		const { steps, result } = entry('forecast').example();
		const [low, high] = numbersOf(result);
		const drop60 = Number(/as ([\d.]+)\.$/.exec(steps!)![1]);
		expect(drop60).toBeGreaterThanOrEqual(low!);
		expect(drop60).toBeLessThanOrEqual(high!);
	});

	it('the regression on the screen is the one that is computed', () => {
		const body = { weightKg: 64, ageYears: 23 };
		const quantities = { rate: 141, mass: 64, age: 23, VO2max: 52 };
		const lines = entry('energy-regression').formula.split('\n').slice(1);
		expect(lines).toHaveLength(4);
		for (const line of lines) {
			const [who, terms] = line.split(': ');
			const sex = who === 'men' ? 'male' : 'female';
			const vo2Max = terms!.includes('VO2max') ? quantities.VO2max : undefined;
			const kJ = workedOut(terms!, quantities);
			expect(regressionKJPerMin(141, { ...body, sex, vo2Max })).toBeCloseTo(kJ, 9);
		}
	});

	it('the equations for the young on the screen are the ones that are computed', () => {
		const lines = entry('youth-needs').formula.match(/^(boys|girls), .*$/gm)!;
		expect(lines).toHaveLength(6);
		for (const line of lines) {
			const [, who, level, terms] = /^(\w+), ([a-z ]+): (.*)$/.exec(line)!;
			const kcal = youthExpenditureKcal(
				who === 'boys' ? 'male' : 'female',
				13,
				157,
				46,
				level as 'low active' | 'active' | 'very active'
			);
			expect(kcal).toBeCloseTo(workedOut(terms!, { age: 13, height: 157, mass: 46 }), 9);
		}
	});
});
