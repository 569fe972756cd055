import type { Page } from '@playwright/test';

/** Frames a second that a page paints over `seconds`, and the longest wait between two of them, ms. */
export function framesOf(page: Page, seconds: number): Promise<{ perSecond: number; longestMs: number }> {
	return page.evaluate(
		(lengthMs) =>
			new Promise((resolve) => {
				const startMs = performance.now();
				let frames = 0;
				let lastMs = startMs;
				let longestMs = 0;
				const frame = (nowMs: number) => {
					frames++;
					longestMs = Math.max(longestMs, nowMs - lastMs);
					lastMs = nowMs;
					if (nowMs - startMs < lengthMs) requestAnimationFrame(frame);
					else resolve({ perSecond: (frames * 1000) / (nowMs - startMs), longestMs });
				};
				requestAnimationFrame(frame);
			}),
		seconds * 1000
	);
}
