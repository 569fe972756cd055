import { isDeepStrictEqual } from 'node:util';
import type { LiveRound } from '$lib/session/counted';
import type { MeasuredRecord } from '$lib/record/journal';
import type { LiveCorner } from '$lib/session/live-corner';
import type { Recorder } from '$lib/session/recorder';
import type { RestSummary, RoundSummary } from '$lib/record/summary';
import { summaryOf } from '$lib/review/summary';

/** What was seen of one rest, by its corner and its bell, at the moment from which it is final. */
interface Seen {
	over?: LiveRound['over'];
	bellBpm?: number;
	drop30?: number;
	drop60?: number;
	isAt30?: true;
	isAt60?: true;
}

/** What the screen showed at the first look at which it was final. */
export class LiveLooks {
	readonly #seen = new Map<string, Seen>();

	take({ corners }: Recorder): void {
		corners.forEach(({ rounds, restView }, corner) => {
			const last = rounds.at(-1);
			if (!last?.rest || last.rest !== restView) return;
			const { bellMs, atS, measure } = last.rest;
			const key = `${corner} ${bellMs}`;
			const seen = this.#seen.get(key) ?? { over: last.over, bellBpm: measure.bellBpm };
			this.#seen.set(key, seen);
			if (atS >= 30 && !seen.isAt30) Object.assign(seen, { isAt30: true, drop30: measure.drop30 });
			if (atS >= 60 && !seen.isAt60) Object.assign(seen, { isAt60: true, drop60: measure.drop60 });
		});
	}

	forget(): void {
		this.#seen.clear();
	}

	of(corner: number, bellMs: number): Seen | undefined {
		return this.#seen.get(`${corner} ${bellMs}`);
	}
}

/**
 * Where live values are other than the record's: of all rounds and rests that were over, at the moment from which
 * they were final (`looks`; absent where a strap's word on contact was still open then) and at the end.
 *
 * @param endMs elapsed ms at which the session ended
 */
export function differencesOf(
	recorder: Recorder,
	records: readonly MeasuredRecord[],
	looks: LiveLooks | undefined,
	endMs: number
): { compared: number; differences: string[] } {
	const differences: string[] = [];
	let compared = 0;
	const expectSame = (what: string, live: unknown, kept: unknown) => {
		compared++;
		if (!isDeepStrictEqual(live, kept))
			differences.push(`${what}: live ${JSON.stringify(live)}, kept ${JSON.stringify(kept)}`);
	};
	for (const record of records) {
		const { head } = record;
		const corner = recorder.corners.findIndex((one) => one?.athlete.athleteId === head.athlete.athleteId);
		const live = recorder.corners[corner]!;
		const summary = summaryOf(record);
		const isWhole = head.endedMs === endMs && endMs === recorder.session.endMs;
		if (isWhole) expectSame(`${head.id}, rounds`, live.rounds.length, summary.rounds.length);
		summary.rounds.forEach((round, i) => {
			const isOver = round.endMs < head.endedMs || isWhole;
			if (!isOver) return;
			const where = `${head.id}, round ${i + 1}`;
			const shown = live.rounds[i];
			expectSame(`${where}, over`, shown?.over, round.over);
			expectSame(`${where}, time in aim`, shown?.aim, round.aim);
			expectSame(`${where}, block`, shown?.block, round.block);
			compareRest(where, shown, round, head.endedMs);
			compareLooks(where, corner, round, head.strapChanges ?? []);
		});
		if (isWhole) compareCosts(head.id, live, summary);
	}
	return { compared, differences };

	function compareRest(where: string, shown: LiveRound | undefined, { rest }: RoundSummary, endedMs: number) {
		if (!rest) return expectSame(`${where}, a rest`, shown?.rest?.measure, undefined);
		if (rest.endMs < endedMs || rest.endMs === recorder.session.endMs)
			expectSame(`${where}, rest`, shown?.rest?.measure, measureIn(rest));
	}

	function compareLooks(
		where: string,
		corner: number,
		{ over, rest }: RoundSummary,
		changes: readonly { ms: number }[]
	) {
		const seen = rest && looks?.of(corner, rest.startMs);
		// What is seen of a rest before its strap is changed is taken back then.
		if (!seen || changes.some(({ ms }) => ms >= rest.startMs && ms < rest.endMs)) return;
		expectSame(`${where}, over at the bell`, seen.over, over);
		expectSame(`${where}, bell rate at the bell`, seen.bellBpm, rest.bellBpm);
		if (seen.isAt30) expectSame(`${where}, drop at 30 s`, seen.drop30, rest.drop30);
		if (seen.isAt60) expectSame(`${where}, drop at 60 s`, seen.drop60, rest.drop60);
	}

	function compareCosts(id: string, { bands, guided }: LiveCorner, summary: ReturnType<typeof summaryOf>) {
		expectSame(`${id}, bands`, bands, summary.costs.bands);
		const { kind, restBpm, meanBpm } = summary.guided ?? {};
		const view = guided?.viewAt(undefined, endMs);
		if (kind === 'resting' && restBpm !== undefined)
			expectSame(`${id}, lowest minute`, view?.lowestBpm, restBpm);
		if (kind === 'threshold run' && meanBpm !== undefined)
			expectSame(`${id}, mean of the run`, view?.meanBpm, meanBpm);
	}
}

function measureIn({ kind, startMs, endMs, dropFromRr60, recovery, ...measure }: RestSummary) {
	return measure;
}
