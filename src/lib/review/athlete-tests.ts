import type { PlanKind } from '$lib/rounds/plan';
import { measurementsOf, type Measurement } from './progress-pictures';
import { countedDrop, type KeptSession } from './progress';
import { beats } from './beats';

/** One guided measurement that was made. */
export interface TestRow {
	id: string;
	startedAt: string;
	/** Such as "threshold 162"; none where nothing could be measured. */
	results: string[];
	/** Why something is missing. */
	reasons: string[];
}

/** One kind of test with what an athlete did of it. */
export interface TestsOfKind {
	kind: PlanKind;
	title: string;
	/** What it measures, and when it is worth it. */
	words: string;
	/** What is drawn of it. */
	drawn: Measurement;
	/** Newest first. */
	rows: TestRow[];
}

const tests = [
	{
		kind: 'threshold run',
		title: 'Threshold run',
		words: 'Twenty minutes with rising pace.',
		drawn: 'threshold'
	},
	{ kind: 'resting', title: 'Resting rate', words: 'Five quiet minutes.', drawn: 'resting rate' },
	{
		kind: 'recovery check',
		title: 'Recovery check',
		words: 'The same rounds every time, then three minutes still.',
		drawn: 'drop at 60'
	}
] as const;

const told = (name: string, value: number | undefined, unit = '') =>
	value === undefined ? [] : `${name} ${beats(value)}${unit}`;

function resultsOf(session: KeptSession): string[] {
	const { guided, meanDrop60 } = session.summary ?? {};
	if (!guided) return [];
	if (guided.kind === 'threshold run')
		return [told('threshold', guided.thresholdBpm), told('20-minute mean', guided.meanBpm)].flat();
	if (guided.kind === 'resting')
		return [
			told(guided.posture ?? 'resting', guided.restBpm),
			told('beat-to-beat change', guided.rmssdMs, ' ms')
		].flat();
	return [
		told('1-minute drop', countedDrop(session)?.value ?? meanDrop60),
		told('recovery speed', guided.tauS, ' s')
	].flat();
}

/**
 * The tests of one athlete, kind by kind.
 *
 * @param sessions those that count, oldest first
 */
export function testsOf(sessions: readonly KeptSession[]): TestsOfKind[] {
	return tests.map(({ drawn, ...test }) => {
		const own = sessions.filter(({ head }) => head.plan.kind === test.kind);
		const measurement = measurementsOf(own).find(({ measure }) => measure === drawn)!;
		return {
			...test,
			drawn: measurement,
			rows: own.toReversed().map((session) => ({
				id: session.head.id,
				startedAt: session.head.startedAt,
				results: resultsOf(session),
				reasons: session.summary?.guided?.reasons ?? []
			}))
		};
	});
}
