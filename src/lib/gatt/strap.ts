import type { HeartRateMeasurement } from './heart-rate-measurement';

/**
 * What a strap is doing, told apart by what the screen should say:
 * - `idle`: not connected and not trying.
 * - `looking`: the first connection is being made.
 * - `connected`: packets are expected; no packet yet is still `connected`.
 * - `lost`: the connection broke at `sinceMs` (the clock's time); reconnection goes on by itself. Where the
 *   browser can tell that Bluetooth itself is gone, `isAdapterOff` says so; many cannot tell one without power.
 * - `closed`: given back for good.
 */
export type StrapState =
	| { kind: 'idle' }
	| { kind: 'looking' }
	| { kind: 'connected' }
	| { kind: 'lost'; sinceMs: number; isAdapterOff?: true }
	| { kind: 'closed' };

/** One packet as it arrived. `ms` is the clock's time in the event handler. */
export interface StrapReading {
	ms: number;
	measurement: HeartRateMeasurement;
}

export interface StrapDetails {
	/** Battery Level (0x2A19), 0 to 100, where the strap offers it. */
	batteryPercent?: number;
	/** Body Sensor Location (0x2A38) in words, where the strap offers it. */
	location?: 'other' | 'chest' | 'wrist' | 'finger' | 'hand' | 'ear lobe' | 'foot';
}

/** A heart-rate sensor: a real one over Web Bluetooth or the practice strap. Both pass one contract suite. */
export interface Strap {
	/** The advertised name. */
	readonly name: string;
	/** True for the simulated athlete; its records are marked. */
	readonly practice: boolean;
	readonly state: StrapState;
	readonly details: StrapDetails;
	/** Packets that could not be decoded so far. The connection goes on after one. */
	readonly malformedCount: number;
	/** Connects and keeps reconnecting until `close`. Rejects with `StrapError` if the first connection fails. */
	connect(): Promise<void>;
	/**
	 * When the next packet is due, ms of the clock: gone by where nobody was woken for it. Infinity for a sensor, whose
	 * packets arrive by themselves.
	 */
	readonly nextDueMs: number;
	/** Sends what is due by now. Whoever is woken and is about to judge the present asks for it first. */
	catchUp(): void;
	/** Each listener is called synchronously in the packet's event handler. The answer unsubscribes. */
	onReading(listener: (reading: StrapReading) => void): () => void;
	/** Called after every change of `state`, `details` or `malformedCount`. The answer unsubscribes. */
	onChange(listener: () => void): () => void;
	/** Disconnects, stops reconnecting and drops every listener. */
	close(): void;
}

/**
 * Why a strap could not be had. The screen does, by code:
 * - `no bluetooth`: this browser has no Web Bluetooth; offer the practice strap and name browsers that can.
 * - `adapter off`: ask to switch Bluetooth on.
 * - `cancelled`: the chooser was dismissed; say nothing.
 * - `unreachable`: out of range, flat or taken by another program; name all three, offer to try again.
 * - `not a heart-rate strap`: it connects but offers no Heart Rate Measurement.
 * - `worn already`: another strap of this page is the same device; say who wears it.
 */
export type StrapErrorCode =
	'no bluetooth' | 'adapter off' | 'cancelled' | 'unreachable' | 'not a heart-rate strap' | 'worn already';

export class StrapError extends Error {
	override readonly name = 'StrapError';
	/** The strap that has the device, where it is `worn already`. */
	readonly holder: Strap | undefined;

	constructor(
		readonly code: StrapErrorCode,
		{ holder, ...options }: ErrorOptions & { holder?: Strap } = {}
	) {
		super(code, options);
		this.holder = holder;
	}
}
