// Runs before the first paint, with what visit-hint.ts noted on the last visit: the look, and that the built page's
// first screen, which is that of a first visit, is not this visitor's.
try {
	const { theme, isKnown } = JSON.parse(localStorage.getItem('visit-hint') ?? '{}');
	if (theme) document.documentElement.dataset.theme = theme;
	if (isKnown) document.documentElement.dataset.visit = 'again';
} catch {
	// Without storage every visit is a first one.
}
