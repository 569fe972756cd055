import { describe, expect, it } from 'vitest';
import { whyNoBluetooth } from '$lib/components/train/no-bluetooth';

// User agents as the browsers send them; the form is that of RFC 9110, section 10.1.5.
const agents = {
	gecko: 'Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0',
	phone:
		'Mozilla/5.0 (iPhone; CPU iPhone OS 18_5 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) CriOS/140.0.0.0 Mobile/15E148 Safari/604.1',
	linux:
		'Mozilla/5.0 (X11; Linux x86_64) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/140.0.0.0 Safari/537.36',
	android:
		'Mozilla/5.0 (Linux; Android 10; K) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/140.0.0.0 Mobile Safari/537.36'
};
const why = (userAgent: string, isSecure = true) => whyNoBluetooth({ userAgent, isSecure });

describe('a browser without Bluetooth', () => {
	it('of another make is told which browsers reach a strap', () => {
		expect(why(agents.gecko).title).toBe('This browser cannot reach a strap');
		expect(why(agents.gecko).toDo).toContain('Chrome, Edge or another Chromium browser');
	});

	it('of the right make on Linux is told the switch, and elsewhere that somebody keeps it off', () => {
		expect(why(agents.linux).toDo).toContain('--enable-features=WebBluetooth');
		expect(why(agents.android).toDo).toContain('Allow it there');
	});

	it('on a phone where no browser may is sent to another machine, whatever it calls itself', () => {
		expect(why(agents.phone).toDo).toContain('a laptop or an Android phone');
	});

	it('that was given an address without https is told so before anything else', () => {
		expect(why(agents.linux, false).title).toBe('This address is not secure enough for a strap');
	});
});
