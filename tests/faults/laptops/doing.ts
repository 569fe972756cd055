import type { Chance } from '../chance';
import type { Laptop } from './laptop';
import type { Ledger } from './ledger';
import type { Athlete } from '$lib/record/athlete';

/** Who does it, where and when. */
export interface Doing {
	laptop: Laptop;
	nowMs: number;
	/** Tells what is done now from everything else that ever was, too. */
	step: number;
}

/** What all who do something by chance have in common. */
export class Doers {
	constructor(
		protected readonly chance: Chance,
		protected readonly ledger: Ledger
	) {}

	protected async anybody({ laptop }: Doing): Promise<Athlete | undefined> {
		return this.one(await laptop.athletes());
	}

	protected one<T>(list: readonly T[]): T | undefined {
		return list.length > 0 ? this.chance.pick(list) : undefined;
	}

	protected note(
		{ laptop, step }: Doing,
		does: 'enter' | 'take away' | 'bring back',
		token: string,
		mark?: string
	) {
		this.ledger.note({ token, does, who: laptop.number, step, mark });
	}
}
