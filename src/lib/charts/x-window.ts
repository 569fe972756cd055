/** The part of a picture that is shown, in seconds along its x axis. */
export interface XWindow {
	fromS: number;
	toS: number;
}

/** Closer than this a 1 Hz trace shows nothing new. */
const narrowestS = 20;

/**
 * Shows `factor` times as much around the second `aroundS`, which stays where it is on the screen. Factors
 * below 1 come closer. The result lies within `whole` and is at least 20 s wide.
 */
export function zoom(shown: XWindow, factor: number, aroundS: number, whole: XWindow): XWindow {
	const widthS = shown.toS - shown.fromS;
	const newWidthS = Math.max(narrowestS, widthS * factor);
	const share = (aroundS - shown.fromS) / widthS;
	return within(whole, aroundS - share * newWidthS, newWidthS);
}

/** Moves along by `byS` seconds (negative: back), as far as `whole` allows. */
export function pan(shown: XWindow, byS: number, whole: XWindow): XWindow {
	return within(whole, shown.fromS + byS, shown.toS - shown.fromS);
}

/** Distances between ticks that a stopwatch reader can count in. */
const tickStepsS = [5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600];

/** Whole-step clock marks within a window, at most `most` of them. */
export function clockTicks(shown: XWindow, most: number): number[] {
	const stepS = tickStepsS.find((step) => (shown.toS - shown.fromS) / step <= most) ?? 7200;
	const ticks: number[] = [];
	for (let tS = Math.ceil(shown.fromS / stepS) * stepS; tS <= shown.toS; tS += stepS) ticks.push(tS);
	return ticks;
}

function within(whole: XWindow, fromS: number, widthS: number): XWindow {
	const wholeS = whole.toS - whole.fromS;
	if (widthS >= wholeS) return { fromS: whole.fromS, toS: whole.toS };
	const start = Math.min(Math.max(fromS, whole.fromS), whole.toS - widthS);
	return { fromS: start, toS: start + widthS };
}
