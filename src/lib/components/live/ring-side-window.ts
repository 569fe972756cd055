/** A screen as the Window Management API tells of it (W3C Working Draft, `ScreenDetailed`), as far as it is asked. */
interface ScreenPlace {
	availLeft: number;
	availTop: number;
	availWidth: number;
	availHeight: number;
}

/** What the ring-side window takes from the browser. */
export interface ScreenWorld {
	/** More screens than this one; unknown where the browser cannot place windows. */
	isExtended: boolean;
	/** Whether the browser lets this page see the screens already. */
	permission(): Promise<PermissionState>;
	/** Asks for it where it must; refused where that is denied. */
	screens(): Promise<{ screens: readonly ScreenPlace[]; currentScreen: ScreenPlace }>;
	open(features: string): unknown;
}

/** `may ask`: nothing was opened, for the browser would ask the person and the reason must be said first. */
export type RingSide = 'open' | 'blocked' | 'may ask';

interface WindowManagement {
	getScreenDetails?: ScreenWorld['screens'];
}

const browserWorld: ScreenWorld = {
	get isExtended() {
		const { isExtended } = screen as Screen & { isExtended?: boolean };
		return isExtended === true && 'getScreenDetails' in window;
	},
	permission: async () =>
		(await navigator.permissions.query({ name: 'window-management' as PermissionName })).state,
	screens: () => (window as WindowManagement).getScreenDetails!(),
	// One window by this name: a second press brings it up again.
	open: (features) => window.open('/ringside/', 'ringside', features)
};

const anywhere = 'popup,width=1280,height=720';

/**
 * Opens the ring-side window, on the second screen where there is one and the browser can place windows there. To be
 * called in the handler of a press.
 *
 * @param mayAsk the person knows why the browser asks
 */
export async function openRingSide(mayAsk: boolean, world = browserWorld): Promise<RingSide> {
	const isOpen = (features: string) => (world.open(features) ? 'open' : 'blocked');
	if (!world.isExtended) return isOpen(anywhere);
	const permission = await world.permission().catch(() => 'denied' as const);
	if (permission === 'prompt' && !mayAsk) return 'may ask';
	return isOpen(permission === 'denied' ? anywhere : await elsewhere(world));
}

async function elsewhere(world: ScreenWorld): Promise<string> {
	const seen = await world.screens().catch(() => undefined);
	const other = seen?.screens.find((one) => one !== seen.currentScreen);
	if (!other) return anywhere;
	const { availLeft, availTop, availWidth, availHeight } = other;
	return `popup,left=${availLeft},top=${availTop},width=${availWidth},height=${availHeight}`;
}
