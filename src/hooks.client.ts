import type { HandleClientError } from '@sveltejs/kit';

/** An address that leads nowhere has its own screen and is no fault of the page: only faults reach the console. */
export const handleError: HandleClientError = ({ error, status }) => {
	if (status !== 404) console.error(error);
};
