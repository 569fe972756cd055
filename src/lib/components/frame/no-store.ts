/** That nothing can be kept in this browser, what follows from it, and what to do: `noStore('there is no progress')`. */
export const noStore = (consequence: string): string =>
	`This browser gives the page no storage, so ${consequence}. Open it in an ordinary window, or allow it to keep data.`;
