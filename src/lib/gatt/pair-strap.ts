import type { Clock } from '$lib/time/clock';
import { browserBluetooth, isAdapterOff } from './can-pair';
import { nameOf, noteName } from './device-names';
import { StrapError, type Strap } from './strap';
import { holderOf, isNamed, WebBluetoothStrap } from './web-bluetooth-strap';

/**
 * Opens the browser's chooser, so it must be called in a user's gesture, and answers the strap picked there, not
 * yet connected. `instead` names the strap that the answer takes the place of: it may be the same device again.
 *
 * @throws StrapError `no bluetooth`, `adapter off`, `cancelled` or `worn already`.
 */
export async function pairStrap({
	clock,
	instead,
	bluetooth = browserBluetooth()
}: {
	clock: Clock;
	instead?: Strap;
	bluetooth?: Bluetooth;
}): Promise<Strap> {
	if (!bluetooth) throw new StrapError('no bluetooth');
	let device: BluetoothDevice;
	try {
		device = await bluetooth.requestDevice({
			filters: [{ services: ['heart_rate'] }],
			optionalServices: ['battery_service']
		});
	} catch (cause) {
		// NotFoundError stands for a dismissed chooser and for an adapter that is off; anything else is a refusal
		// by policy or settings.
		if (!isNamed(cause, 'NotFoundError')) throw new StrapError('no bluetooth', { cause });
		throw new StrapError((await isAdapterOff(bluetooth)) ? 'adapter off' : 'cancelled', { cause });
	}
	const holder = holderOf(device);
	if (holder && holder !== instead) throw new StrapError('worn already', { holder });
	noteName(device);
	return new WebBluetoothStrap(device, bluetooth, clock);
}

/**
 * The straps of these names that may be connected without a chooser, none of them connected yet. Where the browser
 * does not tell what it permits, which is the rule, there are none; two devices of one name are not told apart, so
 * neither is taken, and a device that is a strap already stays that. Never throws.
 */
export async function permittedStraps({
	names,
	clock,
	bluetooth = browserBluetooth()
}: {
	names: readonly string[];
	clock: Clock;
	bluetooth?: Bluetooth;
}): Promise<Strap[]> {
	if (!bluetooth) return [];
	const devices = await permittedDevices(bluetooth);
	return names.flatMap((name) => {
		const [device, another] = devices.filter((one) => nameOf(one) === name);
		if (!device || another || holderOf(device)) return [];
		return new WebBluetoothStrap(device, bluetooth, clock);
	});
}

/** Chromium has `getDevices` behind a flag, other browsers not at all. */
async function permittedDevices(bluetooth: Partial<Bluetooth>): Promise<BluetoothDevice[]> {
	try {
		return (await bluetooth.getDevices?.()) ?? [];
	} catch {
		// Refused by policy or settings: then the chooser is asked, as everywhere else.
		return [];
	}
}
