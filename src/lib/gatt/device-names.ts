const keyOf = ({ id }: BluetoothDevice) => `strap-name/${id}`;

/**
 * Notes the name of a device that was picked in this tab, by the id that the browser has for it on this page alone. After
 * a reload Chromium tells permitted devices without their names, and knows them by the same ids. The note ends with the
 * tab and stands in no record.
 */
export function noteName(device: BluetoothDevice): void {
	try {
		if (device.name) sessionStorage.setItem(keyOf(device), device.name);
	} catch {
		// A browser without storage: after a reload the strap is paired by hand.
	}
}

/** The name by which the strap is known; some devices have none. */
export const nameOf = (device: BluetoothDevice): string =>
	device.name || notedName(device) || 'unnamed strap';

function notedName(device: BluetoothDevice): string | null {
	try {
		return sessionStorage.getItem(keyOf(device));
	} catch {
		return null;
	}
}
