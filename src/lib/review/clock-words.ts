/** A length as a gym clock shows it: minutes and seconds, a second that has begun counted whole. */
export function clockWords(ms: number): string {
	const s = Math.ceil(ms / 1000 - 0.001);
	return `${Math.floor(s / 60)}:${String(s % 60).padStart(2, '0')}`;
}

/** How long something lasted, for a sentence: whole minutes, seconds below two of them. */
export function lengthWords(ms: number): string {
	return ms < 120_000 ? `${Math.round(ms / 1000)} seconds` : `${Math.round(ms / 60_000)} minutes`;
}
