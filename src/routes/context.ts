import { createContext } from 'svelte';
import type { LiveSession } from '$lib/session/live-session.svelte';
import type { Tabs } from '$lib/session/tabs.svelte';
import type { UseStore } from '$lib/store/database';
import type { Preferences } from '$lib/store/preferences.svelte';
import type { SharedFolder } from '$lib/store/folder/shared-folder.svelte';

/** What every screen shares; made once by the layout. */
export interface App {
	store: UseStore;
	preferences: Preferences;
	live: LiveSession;
	tabs: Tabs;
	folder: () => Promise<SharedFolder>;
}

export const [getApp, setApp] = createContext<App>();
