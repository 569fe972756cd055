/** Fills the screen with the page, or gives it back. */
export function toggleFullScreen(): void {
	void (document.fullscreenElement
		? document.exitFullscreen()
		: document.documentElement.requestFullscreen?.().catch(() => undefined));
}
