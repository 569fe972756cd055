import { createSubscriber } from 'svelte/reactivity';
import { followedView } from './followed-view';
import type { LiveView } from './live-view';
import type { Tabs } from './tabs.svelte';

/** Often enough that a second on the clock is never seen to come late. */
const lookMs = 100;

/**
 * The screen for a television: follows the session of another window. Its clock runs on what it was told, so that it
 * goes on evenly where the browser holds a hidden window back.
 */
export class Ringside {
	readonly #onTime = createSubscriber((update) => {
		const handle = setInterval(update, lookMs);
		return () => clearInterval(handle);
	});

	constructor(private readonly tabs: Pick<Tabs, 'heard'>) {}

	/** The session at this moment; absent where none runs. */
	get view(): LiveView | undefined {
		this.#onTime();
		const { heard } = this.tabs;
		return heard && followedView(heard.told, performance.now() - heard.atMs);
	}
}
