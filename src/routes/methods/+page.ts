import { methodsFrom } from '$lib/review/how-made';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ fetch }) => ({ methods: await methodsFrom(fetch) });
