import { describe, expect, it } from 'vitest';
import type { TablePhase } from '$lib/review/csv-import';
import { roundsOfTable } from '$lib/review/formats/rounds-of-table';

const phase = (kind: TablePhase['kind'], startMs: number, others: Partial<TablePhase> = {}): TablePhase => ({
	...{ kind, startMs, pauses: [] },
	...others
});
const boxed = [
	phase('get ready', 0),
	phase('work', 10_000),
	phase('rest', 190_000),
	phase('work', 250_000),
	phase('closing', 430_000),
	phase('cool-down', 490_000)
];
const plan = {
	name: 'Rounds, from a table',
	activity: 'bag',
	roundCount: 2,
	roundS: 180,
	restS: 60,
	warmUpS: 0,
	getReadyS: 0,
	coolDownS: 0,
	endWarningS: 0,
	startWarningS: 0,
	followsGymBell: true
};

describe('the rounds of a table', () => {
	it('begin and end as where somebody follows the gym’s own bell', () => {
		expect(roundsOfTable(boxed, 500_000, 'bag')).toStrictEqual({
			plan,
			amendments: [
				{ kind: 'next', atMs: 10_000 },
				{ kind: 'next', atMs: 190_000 },
				{ kind: 'next', atMs: 250_000 },
				{ kind: 'finish', atMs: 430_000 }
			],
			endedMs: 501_000
		});
	});

	it('end with the second of the last row where a round was not over', () => {
		expect(roundsOfTable(boxed.slice(0, 2), 60_000, 'bag')).toStrictEqual({
			plan: { ...plan, roundCount: 1 },
			amendments: [{ kind: 'next', atMs: 10_000 }],
			endedMs: 61_000
		});
	});

	it('may follow each other without a rest', () => {
		const { amendments } = roundsOfTable([phase('work', 0), phase('work', 180_000)], 300_000, 'bag');
		expect(amendments).toEqual([
			{ kind: 'next', atMs: 0 },
			{ kind: 'next', atMs: 180_000 },
			{ kind: 'next', atMs: 180_000 }
		]);
	});
});

describe('the minute after the last bell of a table', () => {
	const ended = (lastMs: number, ...after: TablePhase[]) => {
		const { amendments, endedMs } = roundsOfTable([phase('work', 0), ...after], lastMs, 'bag');
		return [amendments.at(-1), endedMs];
	};

	it('runs to its end, also where the rows stop in it', () => {
		expect(ended(190_000, phase('closing', 180_000))).toEqual([{ kind: 'finish', atMs: 180_000 }, 240_000]);
		expect(ended(239_500, phase('closing', 180_000))).toEqual([{ kind: 'finish', atMs: 180_000 }, 240_500]);
	});

	it('is kept as a rest where it lasted for longer than a minute and the second of a row', () => {
		const cooled = (startMs: number) =>
			ended(300_000, phase('closing', 180_000), phase('cool-down', startMs));
		expect(cooled(241_000)[0]).toEqual({ kind: 'finish', atMs: 180_000 });
		expect(cooled(241_001)).toEqual([{ kind: 'next', atMs: 180_000 }, 301_000]);
		// The rows of the three still minutes of a recovery check.
		expect(ended(359_000, phase('closing', 180_000))).toEqual([{ kind: 'next', atMs: 180_000 }, 360_000]);
	});

	it('may have lasted for longer with a pause in it', () => {
		const paused = phase('closing', 180_000, { pauses: [{ fromMs: 200_000, toMs: 260_000 }] });
		const { amendments, endedMs } = roundsOfTable([phase('work', 0), paused], 300_000, 'bag');
		expect(amendments).toEqual([
			{ kind: 'next', atMs: 0 },
			{ kind: 'finish', atMs: 180_000 },
			{ kind: 'pause', atMs: 200_000 },
			{ kind: 'resume', atMs: 260_000 }
		]);
		expect(endedMs).toBe(301_000);
	});

	it('is none where a rest came last', () => {
		expect(ended(190_000, phase('rest', 180_000))).toEqual([{ kind: 'next', atMs: 180_000 }, 191_000]);
	});
});

describe('the pauses of a table', () => {
	const pausedIn = (at: number, fromMs: number, toMs: number, lastMs = 500_000) =>
		roundsOfTable(
			boxed.map((one, i) => (i === at ? { ...one, pauses: [{ fromMs, toMs }] } : one)),
			lastMs,
			'bag'
		).amendments.map(({ kind, atMs }) => `${kind} ${atMs / 1000}`);

	it('lie where the table has them, before the first round too', () => {
		expect(pausedIn(0, 2000, 5000)).toEqual([
			...['pause 2', 'resume 5'],
			...['next 10', 'next 190', 'next 250', 'finish 430']
		]);
	});

	it('end with their phase, before the bell that ends it, or with the last row', () => {
		expect(pausedIn(1, 100_000, Infinity)).toEqual([
			...['next 10', 'pause 100', 'resume 190'],
			...['next 190', 'next 250', 'finish 430']
		]);
		expect(pausedIn(5, 495_000, Infinity).slice(-2)).toEqual(['pause 495', 'resume 501']);
	});

	it('that begin with a phase come after its bell', () => {
		expect(pausedIn(2, 190_000, 200_000)).toEqual([
			...['next 10', 'next 190', 'pause 190', 'resume 200'],
			...['next 250', 'finish 430']
		]);
		expect(pausedIn(4, 430_000, 440_000).slice(-3)).toEqual(['finish 430', 'pause 430', 'resume 440']);
	});

	it('without any length are none', () => {
		const none = ['next 10', 'next 190', 'next 250', 'finish 430'];
		expect(pausedIn(1, 190_000, Infinity)).toEqual(none);
		expect(pausedIn(1, 50_000, 50_000)).toEqual(none);
	});
});

describe('the blocks of a table', () => {
	const planOf = (...done: TablePhase['activity'][]) =>
		roundsOfTable(
			done.map((activity, i) => phase('work', i * 180_000, { activity })),
			done.length * 180_000,
			'bag'
		).plan;
	const later = { roundS: 180, restS: 60, pauseS: 60 };

	it('are the rounds in a row in which one thing was done, or what is told where the table says nothing', () => {
		expect(planOf('pads', 'pads', undefined, 'bag', 'pads')).toStrictEqual({
			...plan,
			activity: 'pads',
			roundCount: 2,
			blocks: [
				{ activity: 'bag', roundCount: 2, ...later },
				{ activity: 'pads', roundCount: 1, ...later }
			]
		});
	});

	it('are sixty at the most: what comes after is counted with the last', () => {
		const { blocks } = planOf(
			...Array.from({ length: 62 }, (_, i) => (i % 2 === 0 ? ('pads' as const) : ('bag' as const)))
		);
		expect(blocks).toHaveLength(59);
		expect(blocks!.at(-2)).toEqual({ activity: 'pads', roundCount: 1, ...later });
		expect(blocks!.at(-1)).toEqual({ activity: 'bag', roundCount: 3, ...later });
	});
});
