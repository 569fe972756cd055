/** Not a constant of the module: prerendering reads this file where there is no navigator. */
export function browserBluetooth(): Bluetooth | undefined {
	return (globalThis.navigator as Partial<Navigator> | undefined)?.bluetooth;
}

/** Whether a strap can be paired here and now. Needs no gesture and opens nothing. */
export async function canPair(
	bluetooth: Bluetooth | undefined = browserBluetooth()
): Promise<'yes' | 'no bluetooth' | 'adapter off'> {
	if (!bluetooth) return 'no bluetooth';
	return (await isAdapterOff(bluetooth)) ? 'adapter off' : 'yes';
}

/** False also where the browser cannot say. */
export async function isAdapterOff(bluetooth: Bluetooth): Promise<boolean> {
	try {
		return !(await bluetooth.getAvailability());
	} catch {
		// A browser that cannot say may still pair; the chooser will tell.
		return false;
	}
}
