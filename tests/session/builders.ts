import type { Strap, StrapReading, StrapState } from '$lib/gatt/strap';
import type { Plan } from '$lib/rounds/plan';
import {
	JournalGone,
	type GroupEntry,
	type JournalEntry,
	type SessionStart,
	type Sink
} from '$lib/record/journal';
import type { AthleteSnapshot } from '$lib/record/head';
import type { SessionRecord } from '$lib/record/body';

export const shortPlan: Plan = {
	name: 'Two short rounds',
	activity: 'pads',
	roundCount: 2,
	roundS: 60,
	restS: 60,
	warmUpS: 0,
	getReadyS: 10,
	coolDownS: 0,
	endWarningS: 10,
	startWarningS: 10
};

export const athlete: AthleteSnapshot = { athleteId: 'athlete-1', name: 'Red corner', thresholdBpm: 165 };

export function makeStart(overrides: Partial<SessionStart> = {}): SessionStart {
	return {
		sessionId: 'session-1',
		startedAt: '2026-03-02T18:00:00.000Z',
		zone: 'Europe/Lisbon',
		plan: shortPlan,
		corners: [{ recordId: 'record-1', athlete, strapName: 'Red strap', practice: false }],
		...overrides
	};
}

/** A strap whose packets a test sends by hand. */
export function makeStrap(name = 'Red strap') {
	const readings = new Set<(reading: StrapReading) => void>();
	const changes = new Set<() => void>();
	const strap = {
		name,
		practice: false,
		state: { kind: 'connected' } as StrapState,
		details: {},
		malformedCount: 0,
		nextDueMs: Infinity,
		catchUp() {},
		connect: () => Promise.resolve(),
		onReading(listener: (reading: StrapReading) => void) {
			readings.add(listener);
			return () => void readings.delete(listener);
		},
		onChange(listener: () => void) {
			changes.add(listener);
			return () => void changes.delete(listener);
		},
		close() {}
	} satisfies Strap;
	return {
		strap: strap as Strap,
		send(ms: number, bpm: number, rest: Partial<StrapReading['measurement']> = {}) {
			const measurement = { bpm, contact: 'not supported' as const, rrMs: [], ...rest };
			for (const listener of readings) listener({ ms, measurement });
		},
		become(state: StrapState) {
			strap.state = state;
			for (const listener of changes) listener();
		},
		malformed() {
			strap.malformedCount++;
			for (const listener of changes) listener();
		}
	};
}

/** A sink in memory that can be told to fail. */
export function makeSink() {
	const sink = {
		entries: [] as JournalEntry[],
		appends: 0,
		kept: undefined as readonly SessionRecord[] | undefined,
		/** Entries of days, beside the records. */
		entered: undefined as readonly GroupEntry[] | undefined,
		discarded: false,
		failing: false,
		tries: 0,
		/** The browser clears everything before the next append. */
		clearNext: false
	};
	const guard = () => {
		sink.tries++;
		if (sink.failing) throw new Error('full');
		if (!sink.clearNext) return;
		Object.assign(sink, { clearNext: false, entries: [] });
		throw new JournalGone('cleared');
	};
	const implementation: Sink = {
		async append(entries) {
			guard();
			sink.appends++;
			sink.entries.push(...entries);
		},
		async finish(records, entered) {
			guard();
			sink.kept = records;
			sink.entered = entered;
		},
		async discard() {
			sink.discarded = true;
		}
	};
	return Object.assign(sink, { sink: implementation });
}

/** 120 + 60 exp(-t/60): 156.39 at 30 s and 142.07 at 60 s (computed). */
export const recoveryBpm = (s: number) => 120 + 60 * Math.exp(-s / 60);
