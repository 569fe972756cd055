import type { Page } from '@playwright/test';

/** A strap as the browser's chooser shows it. */
export interface InReach {
	/** Six bytes as 02:00:00:00:00:01; the chooser knows it by that. */
	readonly address: string;
	readonly name: string;
}

export type Choice = InReach | 'cancel';

/** What the user does in the browser's own choosers; answered through DeviceAccess, which belongs to a page. */
export class Chooser {
	#choice: Choice | undefined;
	#answer: () => void = () => undefined;
	#chosen: () => void = () => undefined;

	/** `watch` is handed each answer that is under way, and sees whether it fails. */
	constructor(private readonly watch: (answer: Promise<unknown>) => void) {}

	/** Holds for one chooser: the next, or the one that is open. The promise is kept once that one is answered. */
	choose(choice: Choice): Promise<void> {
		this.#choice = choice;
		const answered = new Promise<void>((resolve) => (this.#chosen = resolve));
		this.#answer();
		return answered;
	}

	/** Answers the choosers of this page from now on. */
	async serve(page: Page): Promise<void> {
		const session = await page.context().newCDPSession(page);
		await session.send('DeviceAccess.enable');
		// The prompt is announced again whenever its list grows; answering one twice ends the browser.
		const answered = new Set<string>();
		session.on('DeviceAccess.deviceRequestPrompted', ({ id, devices }) => {
			this.#answer = () => {
				const choice = this.#choice;
				if (choice === undefined || answered.has(id)) return;
				if (choice !== 'cancel' && !devices.some((device) => device.id === choice.address)) return;
				answered.add(id);
				this.#choice = undefined;
				const answer =
					choice === 'cancel'
						? session.send('DeviceAccess.cancelPrompt', { id })
						: session.send('DeviceAccess.selectPrompt', { id, deviceId: choice.address });
				this.watch(answer.then(this.#chosen, (error: unknown) => this.#retry(choice, error)));
			};
			this.#answer();
		});
	}

	/** On a slow machine a prompt may be gone before its answer comes: the next one is answered in the same way. */
	#retry(choice: Choice, error: unknown) {
		if (!(error instanceof Error && error.message.includes('Cannot find request with id'))) throw error;
		this.#choice ??= choice;
	}
}
