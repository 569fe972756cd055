/** What only a running session needs, in parts of its own: the first screen opens without them. */
export async function loadEngine() {
	const [{ Recorder }, { viewOf }, { lastMsOf }] = await Promise.all([
		import('./recorder'),
		import('./live-view'),
		import('./unfinished')
	]);
	return { Recorder, viewOf, lastMsOf };
}

export type Engine = Awaited<ReturnType<typeof loadEngine>>;
