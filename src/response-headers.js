// What a meta tag cannot carry: `frame-ancestors` and the whole Permissions-Policy count only as headers.
// The rest of the content policy stands in each built page, where the hashes of its scripts are known.

const allowed = ['bluetooth', 'fullscreen', 'screen-wake-lock', 'web-share', 'window-management'];
const denied = [
	'accelerometer',
	'browsing-topics',
	'camera',
	'clipboard-read',
	'compute-pressure',
	'display-capture',
	'encrypted-media',
	'gamepad',
	'geolocation',
	'gyroscope',
	'hid',
	'identity-credentials-get',
	'idle-detection',
	'local-fonts',
	'local-network-access',
	'magnetometer',
	'microphone',
	'midi',
	'otp-credentials',
	'payment',
	'picture-in-picture',
	'publickey-credentials-create',
	'publickey-credentials-get',
	'serial',
	'storage-access',
	'sync-xhr',
	'usb',
	'xr-spatial-tracking'
];

/** @type {Readonly<Record<string, string>>} */
export const securityHeaders = {
	'Content-Security-Policy': "frame-ancestors 'none'",
	'Permissions-Policy': [
		...allowed.map((feature) => `${feature}=(self)`),
		...denied.map((feature) => `${feature}=()`)
	].join(', '),
	'X-Content-Type-Options': 'nosniff',
	'Referrer-Policy': 'no-referrer',
	'Cross-Origin-Opener-Policy': 'same-origin',
	'Cross-Origin-Resource-Policy': 'same-origin'
};

/**
 * Names under /_app/immutable/ carry a hash of their content. Everything else keeps its name from version to
 * version, the service worker above all, and is asked for again each time.
 *
 * @param {string} pathname
 */
export function cacheControlOf(pathname) {
	return pathname.startsWith('/_app/immutable/') ? 'public, max-age=31536000, immutable' : 'no-cache';
}
