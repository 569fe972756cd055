import type { StrapErrorCode } from '$lib/gatt/strap';
import type { SeatView, StrapCheck } from '$lib/session/seat';

/** Why a strap could not be had, and what to do. A dismissed chooser needs no words. */
export const strapErrors: Record<StrapErrorCode, string> = {
	'no bluetooth': 'This browser cannot reach a strap.',
	'adapter off': 'Bluetooth is off on this device. Switch it on, then pair again.',
	cancelled: '',
	unreachable:
		'The strap did not answer. It may be out of range, flat, or taken by another program or watch. Wet it, put it on, and pair again.',
	'not a heart-rate strap': 'That device has no heart-rate service. Choose another one.',
	'worn already': 'That strap is worn by another boxer. Choose another one.'
};

/** With fewer links than these nobody is told that there is a limit to them (own rule). */
const severalLinks = 2;

/**
 * The same with the name of whoever wears the strap, where that is known, and the way to get it; and with the straps
 * that hold a link in this page, where there are several: one more may be refused for that.
 */
export function strapErrorWords(
	code: StrapErrorCode,
	{ wearer, linkCount, isRunning }: { wearer?: string; linkCount: number; isRunning: boolean }
): string {
	if (code === 'unreachable' && linkCount >= severalLinks) return linkLimitWords(linkCount, isRunning);
	if (code !== 'worn already' || wearer === undefined) return strapErrors[code];
	const wayOut = isRunning ? `It is free once ${wearer} leaves.` : `Or disconnect it from ${wearer} first.`;
	return `${wearer} wears that strap. Choose another one. ${wayOut}`;
}

/**
 * Android holds seven links in all (its constant GATT_MAX_PHY_CHANNEL); other systems are alike and name no number. On a
 * live screen there is room for two lines.
 */
const linkLimitWords = (linkCount: number, isRunning: boolean): string =>
	isRunning
		? `No answer: out of range, flat, taken, or one too many. ${linkCount} straps are connected; about seven are possible. A boxer who leaves frees one.`
		: `${strapErrors.unreachable} ${linkCount} straps are connected; phones and laptops hold about seven Bluetooth devices in all. If it fails again, disconnect one.`;

export const strapChecks: Record<StrapCheck, string> = {
	'no packets': 'Wet it, put it on, ten seconds of steady beats.',
	'no contact': 'No skin contact: wet the strap and pull it tighter.',
	'not steady': 'Wait for ten seconds of steady beats.',
	ready: 'Steady for ten seconds: ready.'
};

/** The same in a row among others, where there is room for a word or two. */
export const shortChecks: Record<StrapCheck, string> = {
	'no packets': 'waiting for beats',
	'no contact': 'no skin contact',
	'not steady': 'not steady yet',
	ready: 'ready'
};

export const strapStates: Record<SeatView['state'], string> = {
	idle: 'not connected',
	looking: 'looking',
	connected: 'connected',
	lost: 'signal lost, looking again',
	closed: 'not connected'
};

/** Why the connection may be gone: the browser cannot tell which. */
export const lostWords =
	'The strap is out of range, flat, or taken by another program; or Bluetooth is off here. The page keeps looking.';
export const lostWithoutAdapter =
	'Bluetooth is off or unplugged on this device. Switch it on: the page finds the strap again by itself.';
