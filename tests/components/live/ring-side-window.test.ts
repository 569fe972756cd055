import { describe, expect, it } from 'vitest';
import { openRingSide, type ScreenWorld } from '$lib/components/live/ring-side-window';

const laptop = { availLeft: 0, availTop: 0, availWidth: 1366, availHeight: 728 };
const hall = { availLeft: 1366, availTop: -200, availWidth: 1920, availHeight: 1080 };

/** A browser with two screens that notes what it opens. */
function fakeScreens(overrides: Partial<ScreenWorld> = {}) {
	const opened: string[] = [];
	let asked = 0;
	const world: ScreenWorld = {
		isExtended: true,
		permission: () => Promise.resolve('granted'),
		screens: () => {
			asked++;
			return Promise.resolve({ screens: [laptop, hall], currentScreen: laptop });
		},
		open: (features) => opened.push(features),
		...overrides
	};
	return { world, opened, asked: () => asked };
}

describe('the ring-side window', () => {
	it('fills the second screen with one press, where the browser lets the page see the screens', async () => {
		const { world, opened } = fakeScreens();
		expect(await openRingSide(false, world)).toBe('open');
		expect(opened).toEqual(['popup,left=1366,top=-200,width=1920,height=1080']);
	});

	it('opens nothing and asks nothing before the reason has been said', async () => {
		const { world, opened, asked } = fakeScreens({ permission: () => Promise.resolve('prompt') });
		expect(await openRingSide(false, world)).toBe('may ask');
		expect([opened, asked()]).toEqual([[], 0]);
		expect(await openRingSide(true, world)).toBe('open');
		expect(opened[0]).toContain('left=1366');
	});

	it.each([
		['there is one screen', { isExtended: false }],
		['it is denied', { permission: () => Promise.resolve('denied') }],
		['the browser knows no such permission', { permission: () => Promise.reject(new TypeError()) }],
		['the person says no', { screens: () => Promise.reject(new DOMException('', 'NotAllowedError')) }],
		[
			'the second screen is gone',
			{ screens: () => Promise.resolve({ screens: [laptop], currentScreen: laptop }) }
		]
	] satisfies [string, Partial<ScreenWorld>][])('opens on this screen where %s', async (_, overrides) => {
		const { world, opened } = fakeScreens(overrides);
		expect(await openRingSide(true, world)).toBe('open');
		expect(opened).toEqual(['popup,width=1280,height=720']);
	});

	it('says that the browser kept it away', async () => {
		const { world } = fakeScreens({ open: () => null });
		expect(await openRingSide(false, world)).toBe('blocked');
	});
});
