import { afterEach } from 'vitest';
import { Tabs } from '$lib/session/tabs.svelte';

const open: (() => void)[] = [];
/** A tab that listens to the others until the test is over. */
export function makeTabs(locks: LockManager | undefined): Tabs {
	const tabs = new Tabs(locks);
	open.push(tabs.listen());
	return tabs;
}
afterEach(() => {
	for (const close of open.splice(0)) close();
});
