import { json } from '@sveltejs/kit';
import { allMethods } from '$lib/physiology/all-methods';
import { explained } from '$lib/physiology/method-entry';

// Written once, when the page is built, by the code that measures: what the entries say is text to every browser, and
// only the screens that show it fetch it.
export const prerender = true;

export const GET = () => json(allMethods.map(explained));
