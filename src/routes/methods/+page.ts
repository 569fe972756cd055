import { methodsFrom } from '$lib/session/how-made';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ fetch }) => ({ methods: await methodsFrom(fetch) });
