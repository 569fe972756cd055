/** The page's colours and fonts as they stand at this moment, resolved so that a canvas can use them. */
export interface Look {
	canvas: string;
	canvasRaised: string;
	line: string;
	chalk: string;
	chalkDim: string;
	rest: string;
	restDeep: string;
	strip: string;
	figures: string;
	text: string;
}

/** Reads the design tokens as they apply to `host`, in whatever colour syntax they are written. */
export function readLook(host: HTMLElement): Look {
	const probe = host.appendChild(document.createElement('span'));
	const style = getComputedStyle(probe);
	const colour = (token: string) => {
		probe.style.color = `var(${token})`;
		return style.color;
	};
	const font = (token: string) => {
		probe.style.fontFamily = `var(${token})`;
		return style.fontFamily;
	};
	const look: Look = {
		canvas: colour('--canvas'),
		canvasRaised: colour('--canvas-raised'),
		line: colour('--line'),
		chalk: colour('--chalk'),
		chalkDim: colour('--chalk-dim'),
		rest: colour('--rest'),
		restDeep: colour('--rest-deep'),
		strip: colour('--strip'),
		figures: font('--figures'),
		text: font('--text')
	};
	probe.remove();
	return look;
}

/**
 * Calls `changed` now and whenever the look may have changed: light or dark, print, contrast, a theme set on
 * the document, a font that has arrived. Returns what ends the watch.
 */
export function watchLook(host: HTMLElement, changed: (look: Look) => void): () => void {
	const tell = () => changed(readLook(host));
	const queries = ['print', '(prefers-color-scheme: light)', '(prefers-contrast: more)'].map((query) =>
		matchMedia(query)
	);
	for (const query of queries) query.addEventListener('change', tell);
	const themes = new MutationObserver(tell);
	themes.observe(document.documentElement, { attributes: true, attributeFilter: ['class', 'data-theme'] });
	document.fonts.addEventListener('loadingdone', tell);
	tell();
	return () => {
		for (const query of queries) query.removeEventListener('change', tell);
		themes.disconnect();
		document.fonts.removeEventListener('loadingdone', tell);
	};
}
