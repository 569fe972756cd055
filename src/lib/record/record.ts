import type { ThresholdBasis } from '$lib/physiology/threshold';
import type { Amendment } from '$lib/rounds/amendment';
import type { Activity, Plan, Posture } from '$lib/rounds/plan';

/** Raised with every change of the stored form; migrations lead from each older number to this one. */
export const recordVersion = 1;

/** The athlete's numbers as they were on the day, so that later changes never rewrite an old session. */
export interface AthleteSnapshot {
	athleteId: string;
	name: string;
	thresholdBpm?: number;
	/** Which reading of a threshold run it is; absent where it was typed or nobody noted it. */
	thresholdBasis?: ThresholdBasis;
	/** A measured maximum, never an estimate. */
	measuredMaxBpm?: number;
	/** This year less the year of birth: true to within a year. */
	ageYears?: number;
	/** Takes medicine that slows the heart, so no verdict is given. */
	slowingMedicine?: true;
	/** Which of the published formulas are used; absent where the athlete prefers not to say. */
	sex?: 'male' | 'female';
	heightCm?: number;
	weightKg?: number;
	restBpm?: number;
	/** Measured, ml/kg/min. */
	vo2max?: number;
}

/** Numbers of an athlete that nobody had noted on the day of a session, as they were then. */
export type ToldLater = Omit<AthleteSnapshot, 'athleteId' | 'name'>;

/** Something that happened to one corner, at `ms` of elapsed time. */
export interface CornerEvent {
	/** `slept`: the computer slept from this moment on; the session paused itself there. */
	kind: 'signal lost' | 'signal back' | 'malformed packet' | 'marker' | 'slept';
	ms: number;
}

/** From `ms` of elapsed time on another strap answered for the corner. */
export interface StrapChange {
	ms: number;
	strapName: string;
	practice: boolean;
	/** It was worn by this athlete all along and answered for another: what came before is another's heart. */
	swapped?: true;
}

/**
 * What lists need of a kept session: everything but the readings. Times are elapsed milliseconds since
 * Start was pressed, pauses included; the wall clock stands only in `startedAt`.
 */
export interface RecordHead {
	version: typeof recordVersion;
	id: string;
	/** Shared by the records of all corners of one session. */
	groupId: string;
	/** ISO 8601 in UTC. */
	startedAt: string;
	/** IANA name of the zone the session took place in. */
	zone: string;
	endedMs: number;
	plan: Plan;
	amendments: Amendment[];
	athlete: AthleteSnapshot;
	/** The strap at the beginning. */
	strapName: string;
	/** Made by the practice strap, if only in part: marked, and kept out of progress. */
	practice: boolean;
	events: CornerEvent[];
	/** The athlete joined in mid-session, at this elapsed ms; absent where they were there at Start. */
	joinedMs?: number;
	/** The athlete left in mid-session, at `endedMs`. */
	left?: true;
	/** The straps that answered after the first, in order; absent where it stayed the same one. */
	strapChanges?: StrapChange[];
	/** Ids of the records of all corners, in the order of the corners; absent where there was one corner. */
	group?: string[];
	/** Invented, with the example gym: shown in progress although the practice strap made it. */
	example?: true;
}

/**
 * The readings as columns, one entry a packet, in order of arrival. RR intervals of all packets follow one
 * another in `rr1024`; `rrCount` says how many belong to each. An hour with every RR interval stays under
 * 40 kB.
 */
export interface RecordBody {
	version: typeof recordVersion;
	/** Elapsed ms of the first packet; negative where it came before Start. */
	firstMs: number;
	/** Whole ms from each packet to the next (the first entry is 0). */
	stepMs: Uint16Array | Uint32Array;
	bpm: Uint8Array | Uint16Array;
	/** Contact in bits 0-1 (1 not supported, 2 no contact, 3 contact), bit 2 set where energy was sent. */
	flags: Uint8Array;
	rrCount: Uint8Array;
	/** In 1/1024 s, as the strap sends them. */
	rr1024: Uint16Array;
	/** The energy values of the packets that had one, kJ since the strap's reset. */
	energyKJ: Uint16Array;
}

export interface SessionRecord {
	head: RecordHead;
	body: RecordBody;
}

/**
 * A small later entry beside a record, which itself never changes. Entries are folded in order of `at`;
 * the last writer of a field wins.
 */
export interface RecordEdit {
	/** ISO 8601 in UTC. */
	at: string;
	title?: string;
	note?: string;
	/** How hard it felt, 0 to 10. */
	effort?: number;
	/** How a threshold run ended. */
	feeling?: 'emptied' | 'something left' | 'far too easy';
	/** How far a threshold run was, warm-up left out, km. */
	distanceKm?: number;
	/** How the rests were spent. */
	posture?: Posture;
	/** How hard single rounds felt, 0 to 10, by their number. */
	roundEfforts?: Record<string, number>;
	/** Weight of a glove, ounces. */
	gloveOz?: number;
	partner?: string;
	heat?: 'cool' | 'warm' | 'hot';
	/** Put right: who it was, what was done, by which plan. The record keeps what was noted on the day. */
	athlete?: { id: string; name: string };
	activity?: Activity;
	planName?: string;
	/** Told afterwards, for that day; a later entry replaces all of it. Never in place of what was noted then. */
	told?: ToldLater;
	/** Rests left out of progress, each with its reason; the whole list is replaced by a later one. */
	restsSetAside?: { round: number; reason: string }[];
}
