/** What of a browser decides whether it may reach a strap. */
export interface BrowserSigns {
	userAgent: string;
	/** The page came by https or from this machine itself. */
	isSecure: boolean;
}

/** Why this browser reaches no strap, and what to do about it. */
export interface NoBluetooth {
	title: string;
	toDo: string;
}

/**
 * Why there is no `navigator.bluetooth`, by what the browser tells of itself. It is a guess: a browser that
 * calls itself another is told what that one would be told.
 *
 * Which browsers have Web Bluetooth, and that it wants a secure context: Web Bluetooth Community Group, "Implementation
 * Status" and the specification, section 4.
 */
export function whyNoBluetooth({ userAgent, isSecure }: BrowserSigns): NoBluetooth {
	if (!isSecure)
		return {
			title: 'This address is not secure enough for a strap',
			toDo: 'Browsers allow Bluetooth to pages from https:// or from localhost alone. Open the page by such an address.'
		};
	if (/iPhone|iPad|iPod/.test(userAgent))
		return {
			title: 'No browser on this phone or tablet reaches a strap',
			toDo: 'Open the page on a laptop or an Android phone, in Chrome, Edge or another Chromium browser.'
		};
	if (/Chrom(e|ium)\//.test(userAgent))
		return /Linux/.test(userAgent) && !/Android/.test(userAgent)
			? {
					title: 'Bluetooth is switched off in this browser',
					toDo: 'On Linux, start the browser with --enable-features=WebBluetooth, then open the page again.'
				}
			: {
					title: 'Bluetooth is switched off in this browser',
					toDo: 'Whoever looks after this machine, or a setting of the browser, keeps Bluetooth from pages. Allow it there, then open the page again.'
				};
	return {
		title: 'This browser cannot reach a strap',
		toDo: 'Open the page in Chrome, Edge or another Chromium browser on Windows, macOS, ChromeOS, Android or Linux.'
	};
}
