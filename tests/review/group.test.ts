import { describe, expect, it } from 'vitest';
import { groupTableOf, type GroupMember } from '$lib/review/group';
import type { RoundSummary } from '$lib/record/summary';

function round(round: number, drop60?: number, attempt = 1): RoundSummary {
	const rest = {
		kind: 'rest' as const,
		startMs: 0,
		endMs: 60_000,
		verdict: 'in the band' as const,
		nearEdge: false
	};
	return { round, attempt, startMs: 0, endMs: 1, rest: { ...rest, bellBpm: 170, drop60 } };
}
const member = (name: string, rounds: RoundSummary[]): GroupMember => ({
	head: { id: `record-${name}`, athlete: { athleteId: name, name } },
	name,
	summary: { rounds, drop60Count: 0 }
});

describe('the corners of one session', () => {
	it('stand in one table by round, with a hole where somebody was not there', () => {
		const { rounds, rows } = groupTableOf([
			member('Red', [round(1, 41), round(2, 38)]),
			member('Gold', [round(2, 52), round(3)])
		]);
		expect(rounds.map(({ round }) => round)).toEqual([1, 2, 3]);
		expect(rows.map(({ id, cells }) => [id, ...cells.map((cell) => cell?.drop60)])).toEqual([
			['record-Red', 41, 38, undefined],
			['record-Gold', undefined, 52, undefined]
		]);
		expect(rows[0]!.cells[2]).toBeUndefined();
		expect(rows[1]!.cells[2]).toMatchObject({ bellBpm: 170 });
	});

	it('keep a round that was boxed again apart from its first try', () => {
		const { rounds } = groupTableOf([member('Red', [round(1, 30), round(1, 44, 2), round(2, 40)])]);
		expect(rounds).toEqual([
			{ round: 1, attempt: 1 },
			{ round: 1, attempt: 2 },
			{ round: 2, attempt: 1 }
		]);
	});
});

describe('a round that a corner has nothing of', () => {
	const change = { ms: 1000, strapName: 'Strap 2', practice: false };
	const unmeasured = (strapChanges?: GroupMember['head']['strapChanges']) => {
		const red = member('Red', [round(1)]);
		return groupTableOf([{ ...red, head: { ...red.head, strapChanges } }]).rows[0]!.unmeasured;
	};

	it('was boxed without a strap where one changed hands, and else the athlete was not there', () => {
		expect(unmeasured()).toBe('not there');
		expect(unmeasured([change])).toBe('not there');
		expect(unmeasured([change, { ...change, handOver: 'given away' }])).toBe('no strap');
	});
});
