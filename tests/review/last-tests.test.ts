import { describe, expect, it } from 'vitest';
import { lastTestsOf } from '$lib/review/last-tests';
import type { KeptSession } from '$lib/review/progress';
import type { PlanKind } from '$lib/rounds/plan';
import type { Summary } from '$lib/record/summary';
import { makeHead, padsPlan } from '../store/builders';
import { makeSummary } from './session-builders';

const tested = (
	kind: PlanKind,
	startedAt: string,
	more: Partial<Summary>,
	head: Partial<KeptSession['head']> = {}
): KeptSession => ({
	head: makeHead({ id: startedAt, startedAt, zone: 'UTC', plan: { ...padsPlan, kind }, ...head }),
	edit: {},
	summary: makeSummary(more)
});
const run = (startedAt: string, meanBpm?: number) =>
	tested('threshold run', startedAt, { guided: { kind: 'threshold run', meanBpm, reasons: [] } });

describe('the last tests of an athlete', () => {
	it('are the newest of each kind of which something could be told', () => {
		const check = tested('recovery check', '2020-03-03T10:00:00Z', {
			rounds: [
				{
					...{ round: 3, attempt: 1, startMs: 0, endMs: 0 },
					rest: {
						...{ kind: 'closing', startMs: 0, endMs: 180_000, drop60: 41.4 },
						...{ verdict: 'not judged', nearEdge: false }
					}
				}
			]
		});
		const sessions = [
			run('2020-03-04T10:00:00Z'),
			check,
			run('2020-03-02T10:00:00Z', 170.6),
			run('2020-02-02T10:00:00Z', 165)
		];
		expect(lastTestsOf(sessions)).toEqual({
			'threshold run': '20-minute mean 171, Mon 2 Mar 2020',
			'recovery check': 'drop of 41 in the last rest, Tue 3 Mar 2020'
		});
	});

	it('take the posture that was put right, and leave simulated hearts out', () => {
		const guided: Summary['guided'] = { kind: 'resting', posture: 'lying', restBpm: 52.2, reasons: [] };
		const resting = tested('resting', '2020-03-02T10:00:00Z', { guided });
		const simulated = tested('resting', '2020-03-05T10:00:00Z', { guided }, { practice: true });
		expect(lastTestsOf([simulated, { ...resting, edit: { posture: 'sitting' } }])).toEqual({
			resting: '52, sitting, Mon 2 Mar 2020'
		});
	});
});

describe('the last measurement at rest', () => {
	const quiet = (startedAt: string, restBpm?: number, posture?: 'lying') =>
		tested('resting', startedAt, { guided: { kind: 'resting', restBpm, posture, reasons: [] } });

	it('is the newest that gave a rate, with its posture as it was put right', () => {
		const [failed, lying] = [quiet('2020-03-04T10:00:00Z'), quiet('2020-03-02T10:00:00Z', 51.4, 'lying')];
		expect(lastTestsOf([failed, lying])).toEqual({ resting: '51, lying, Mon 2 Mar 2020' });
		expect(lastTestsOf([{ ...lying, edit: { posture: 'sitting' } }])).toEqual({
			resting: '51, sitting, Mon 2 Mar 2020'
		});
		expect(lastTestsOf([quiet('2020-03-02T10:00:00Z', 51.4)])).toEqual({
			resting: '51, posture not noted, Mon 2 Mar 2020'
		});
		expect(lastTestsOf([failed])).toEqual({});
	});
});
