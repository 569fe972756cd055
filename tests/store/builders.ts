import { packReadings, type Reading } from '$lib/record/columns';
import { recordVersion } from '$lib/record/check';
import type { RecordHead } from '$lib/record/head';
import type { SessionRecord } from '$lib/record/body';
import type { JournalEntry, ReadingEntry, SessionStart } from '$lib/record/journal';
import type { Plan } from '$lib/rounds/plan';

/** Invented athletes and sessions with fixed values; each override is what a test is about. */

export const padsPlan: Plan = {
	name: 'Six on the pads',
	activity: 'pads',
	roundCount: 6,
	roundS: 180,
	restS: 60,
	warmUpS: 0,
	getReadyS: 10,
	coolDownS: 120,
	endWarningS: 10,
	startWarningS: 10
};

export function makeHead(overrides: Partial<RecordHead> = {}): RecordHead {
	return {
		version: recordVersion,
		id: 'rec-1',
		groupId: 'ses-1',
		startedAt: '2026-03-02T18:30:00.000Z',
		zone: 'Europe/Lisbon',
		endedMs: 1_480_000,
		plan: padsPlan,
		amendments: [
			{ kind: 'pause', atMs: 200_000 },
			{ kind: 'resume', atMs: 215_500 }
		],
		athlete: { athleteId: 'ath-1', name: 'Nerea', thresholdBpm: 171.5, ageYears: 27 },
		strapName: 'Strap 14C2',
		practice: false,
		events: [{ kind: 'signal lost', ms: 400_250 }],
		...overrides
	};
}

export function makeReading(overrides: Partial<Reading> = {}): Reading {
	return { ms: 0, bpm: 150, contact: 'contact', rrMs: [400.390625], ...overrides };
}

export function makeRecord(overrides: Partial<RecordHead> = {}): SessionRecord {
	const readings = [-2000, -1000, 0, 1003, 1998].map((ms, i) => makeReading({ ms, bpm: 148 + i }));
	return { head: makeHead(overrides), body: packReadings(readings) };
}

export function makeStart(overrides: Partial<SessionStart> = {}): SessionStart {
	const { startedAt, zone, plan, athlete } = makeHead();
	return {
		sessionId: 'ses-1',
		startedAt,
		zone,
		plan,
		corners: [{ recordId: 'rec-1', athlete, strapName: 'Strap 14C2', practice: false }],
		...overrides
	};
}

export const startEntry: JournalEntry = { kind: 'start', start: makeStart() };

export function readingEntry(overrides: Partial<ReadingEntry> = {}): ReadingEntry {
	return { kind: 'reading', corner: 0, ...makeReading(), ...overrides };
}
