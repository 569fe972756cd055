import type { Settings } from '$lib/record/settings';

/** Sets the look on the document: the tokens follow it, and so does the browser's own frame around the page. */
export function applyTheme(theme: Settings['theme']): void {
	const root = document.documentElement;
	root.dataset.theme = theme;
	document
		.querySelector('meta[name="theme-color"]')
		?.setAttribute('content', getComputedStyle(root).backgroundColor);
}
