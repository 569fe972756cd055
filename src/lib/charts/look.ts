// Where each form of the pictures comes from:
// - hatching for "over the threshold": technical drawing hatches what is cut; it can be told in grey.
// - landing strip with five bars, 40 to 60 below the bell: own. A fall has a place to land; the bars are those of a runway.
// - rope with a post a round, the drop hung below: own. The ring's rope, and a weight on it as long as the heart fell.
// - ends of a drop (bar, diamond, arrow, ring): own. Four outlines for under, in, over the band and not judged.
// - bar of the rate with a post at the threshold: own. Bands carry words, no numbers and no rising colours.
// - plan as hatched posts of one height on a rope: own. To scale in time, so that a plan is seen before it is boxed.
// - dashes of the rests laid over each other: scientific plots. Series told apart by stroke, later ones heavier.
// - rings with upright strokes and the line of the median: scientific plots. A measurement with its error.
// - small rings in one stroke, one large: own. Where rings would cover each other, one at a time is picked.
// - shades of chalk and a hatching for intensity: own. Lighter towards the threshold, no ladder of colours.
// - dashed border for what cannot be pressed, dim clock under a dashed line for a pause: own. Told without colour.
// - the mark, two ropes in a corner and falling steps: own. The corner from above, the heart coming down in it.

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
