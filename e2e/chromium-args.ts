/**
 * What Chromium is to leave out. Given twice the last list holds, so Playwright's own is in it: without some of it a
 * story would not be repeatable. What is ours is the last row: for every window, and each story has one, Chromium draws
 * ahead the lists that would open under its address bar, two pages that nobody here ever sees.
 */
const leftOut = [
	...['AvoidUnnecessaryBeforeUnloadCheckSync', 'DestroyProfileOnBrowserClose', 'HttpsUpgrades'],
	...['HttpsFirstBalancedModeAutoEnable', 'LensOverlay', 'MediaRouter', 'PaintHolding'],
	...['ThirdPartyStoragePartitioning', 'AvoidCorsURLLoaderRestartOnRedirect', 'OptimizationHints'],
	...['NetworkTimeServiceQuerying', 'AimEnabled', 'PreconnectToSearch'],
	...['WebUIOmniboxPopup', 'WebUIOmniboxAimPopup', 'WebUIOmniboxFullPopup']
];

/** What every Chromium of the stories is started with, by whichever driver. */
export const chromiumArgs = [
	// Root, as in a container, cannot have Chromium's sandbox.
	'--no-sandbox',
	// Linux keeps it off by default.
	'--enable-features=WebBluetooth',
	`--disable-features=${leftOut.join()}`,
	'--disable-background-networking',
	'--disable-component-update',
	'--disable-sync',
	'--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE localhost'
];
