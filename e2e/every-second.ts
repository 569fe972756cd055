/**
 * Calls `act` at once and then a second apart, without drift and one call at a time, with the number of seconds so far.
 * Answers what ends it.
 */
export function everySecond(act: (second: number) => void | Promise<void>): () => void {
	const startMs = Date.now();
	let second = 0;
	let isOver = false;
	let timer = setTimeout(() => void next(), 0);
	async function next() {
		await act(second++);
		if (!isOver) timer = setTimeout(() => void next(), startMs + second * 1000 - Date.now());
	}
	return () => {
		isOver = true;
		clearTimeout(timer);
	};
}
