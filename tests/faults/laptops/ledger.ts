/** Something that was done on a laptop, told by a text that nothing else has. */
interface Act {
	token: string;
	does: 'enter' | 'take away' | 'bring back';
	who: number;
	step: number;
	/** By what a file that tells of it is known; absent where no file alone does. */
	mark?: string | undefined;
	/** The laptop where it was done has forgotten it. */
	isOrphan?: true;
	isLost?: true;
}

/**
 * What was entered and taken away, and what must be so in the end: what nobody took away is there, and what somebody
 * took away who saw it is not. Where somebody brought it back, or the only laptop that knew of it was set back to a day
 * before, either may be.
 */
export class Ledger {
	readonly #acts: Act[] = [];
	readonly #open = new Set<string>();

	note(act: Act): void {
		this.#acts.push(act);
	}

	/**
	 * A laptop has forgotten what was done there since a step: of that only what a file still tells counts, and as long as
	 * one does.
	 */
	forget(who: number, since: number, texts: readonly string[]): void {
		for (const act of this.#acts) {
			if (act.who === who && act.step > since) act.isOrphan = true;
			const { mark } = act;
			if (act.isOrphan && (mark === undefined || !texts.some((text) => text.includes(mark))))
				act.isLost = true;
		}
	}

	/** Files were taken out of the folder, which may have been the only ones to tell of what a laptop has forgotten. */
	openOrphans(): void {
		for (const act of this.#acts) if (act.isOrphan) act.isLost = true;
	}

	/** This need not be there in the end, nor be gone; of a text that ends in a space or dash all that begins with it. */
	open(token: string): void {
		this.#open.add(token);
	}

	get size(): number {
		return this.#acts.length;
	}

	/** What is not as it must be, given all that is there in the end. */
	faults(there: ReadonlySet<string>): { lost: string[]; back: string[] } {
		const byToken = new Map<string, Act[]>();
		for (const act of this.#acts) byToken.set(act.token, [...(byToken.get(act.token) ?? []), act]);
		const [lost, back]: string[][] = [[], []];
		for (const [token, acts] of byToken) {
			if (acts.some(({ isLost, does }) => isLost || does === 'bring back') || this.#isOpen(token)) continue;
			const isGone = acts.some(({ does }) => does === 'take away');
			if (isGone && there.has(token)) back!.push(token);
			if (!isGone && !there.has(token)) lost!.push(token);
		}
		return { lost: lost!, back: back! };
	}

	#isOpen(token: string): boolean {
		return [...this.#open].some((one) => (/[ -]$/.test(one) ? token.startsWith(one) : token === one));
	}
}
