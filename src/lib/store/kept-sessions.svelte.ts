import { untrack } from 'svelte';
import type { Unreadable, UseStore } from './database';
import { measureAfresh, type FreshSummaries } from './fresh-summaries';
import { onKept, touches } from './kept-changes';
import {
	athletesWithoutCard,
	idsOfAthlete,
	lastOrder,
	listedSessions,
	openSessionIndex,
	orderOfSessions,
	type SessionOrder
} from './session-index';
import type { ListedSession } from './sessions';

/** What a screen wants to see. */
export interface Wanted {
	/** Whose; everybody's where it is absent or empty. */
	athleteId?: string;
	/** The newest so many; all of them where it is absent. */
	count?: number;
	/** So many of them are shown before the others are read. */
	first?: number;
	/** Those of so many days up to the newest; of all days where it is absent. */
	days?: number;
	/** Where athletes without a card are wanted too: the cards there are. */
	cards?: readonly { id: string }[];
}

interface Listed {
	sessions: readonly ListedSession[];
	/** How many there are, with those beyond `count` and `days`. */
	total: number;
	unreadable: readonly Unreadable[];
	/** Athletes who are known from their sessions alone. */
	strangers: readonly { id: string; name: string }[];
}

const dayMs = 86_400_000;

/** What comes in one after the other, from the folder say, is listed together (own rule). */
const listedEveryMs = 150;

/**
 * The kept sessions as a screen shows them, newest first. Lists what was asked for last, has those measured afresh
 * whose figures were made by other methods, and lists again whenever something of them is written, here or in another
 * window. An answer that comes after something else was asked for is dropped.
 */
export class KeptSessions {
	#listed = $state.raw<Listed>();
	#afresh = $state.raw<{ done: number; total: number }>();
	#trouble = $state.raw<'no store' | 'not measured'>();
	#wanted: Wanted = {};
	#turn = 0;
	#measuring: FreshSummaries | undefined;
	/** Whose figures are on their way: that they are kept is no news. */
	#isMeasured = new Set<string>();
	#stopListening: (() => void) | undefined;
	#listing = Promise.resolve();
	#due: ReturnType<typeof setTimeout> | undefined;
	readonly #index = openSessionIndex();

	constructor(
		private readonly store: UseStore,
		private readonly measure: typeof measureAfresh = measureAfresh
	) {}

	/** Absent until they are listed for the first time. */
	get sessions(): readonly ListedSession[] | undefined {
		return this.#listed?.sessions;
	}
	get total(): number {
		return this.#listed?.total ?? 0;
	}
	/** What cannot be read; it stays where it is. */
	get unreadable(): readonly Unreadable[] {
		return this.#listed?.unreadable ?? [];
	}
	get strangers(): Listed['strangers'] {
		return this.#listed?.strangers ?? [];
	}
	/** How far the measuring has come; absent where none is under way. */
	get afresh(): { done: number; total: number } | undefined {
		return this.#afresh;
	}
	get trouble(): 'no store' | 'not measured' | undefined {
		return this.#trouble;
	}

	/** Never rejects: see `trouble`. */
	list(wanted: Wanted): Promise<void> {
		this.#wanted = wanted;
		this.#stopListening ??= onKept(this.store, (keys) => this.#hear(keys));
		return (this.#listing = this.#list());
	}

	#hear(keys: ReadonlySet<string>): void {
		const news = new Set([...keys].filter((key) => !this.#isMeasured.has(key)));
		if (!touches(news, 'head', 'edit', 'tombstone')) return;
		this.#due ??= setTimeout(() => void this.#listAgain(), listedEveryMs);
	}

	/** Behind a listing that is under way: where much is written, it would else never come to its end. */
	async #listAgain(): Promise<void> {
		await this.#listing;
		this.#due = undefined;
		if (this.#stopListening) this.#listing = this.#list();
	}

	async #list(): Promise<void> {
		const turn = ++this.#turn;
		this.stopMeasuring();
		this.#afresh = undefined;
		try {
			// An effect that asks for a list must not run again with its answer.
			const isOpening = !untrack(() => this.#listed);
			const { first } = this.#wanted;
			// A screen that opens shows what another has listed, and asks behind it whether that is all.
			let shownBy = isOpening ? lastOrder(this.store) : undefined;
			let shown = shownBy && (await this.#read(shownBy, first));
			if (turn !== this.#turn) return;
			if (shown) this.#listed = shown;
			const order = await orderOfSessions(this.store, this.#index);
			if (isOpening && !shown && first !== undefined) {
				shownBy = order;
				shown = await this.#read(order, first);
				if (turn !== this.#turn) return;
				this.#listed = shown;
			}
			const isAll = shownBy && shown && shown.total <= (first ?? Infinity) && isSameOrder(shownBy, order);
			const listed = isAll ? shown! : await this.#read(order);
			if (turn !== this.#turn) return;
			this.#listed = listed;
			this.#trouble = undefined;
			const stale = listed.sessions.filter(({ summary }) => !summary).map(({ head }) => head.id);
			this.#isMeasured = new Set(stale.map((id) => `head/${id}`));
			if (stale.length > 0) void this.#fill(stale, turn);
		} catch {
			this.#trouble = 'no store';
		}
	}

	/** What was measured by then stays, and is shown. */
	stopMeasuring(): void {
		this.#measuring?.stop();
	}

	/** The screen goes: nothing that comes later counts. */
	close(): void {
		this.#turn++;
		clearTimeout(this.#due);
		this.#stopListening?.();
		this.#stopListening = undefined;
		this.stopMeasuring();
	}

	async #read(order: SessionOrder, most = this.#wanted.count): Promise<Listed> {
		const { athleteId, days, cards } = this.#wanted;
		const ids = athleteId ? await idsOfAthlete(this.store, order, athleteId) : order.ids;
		const [strangers, { sessions, unreadable }] = await Promise.all([
			cards ? athletesWithoutCard(this.store, order, cards) : [],
			listedSessions(this.store, ofDays(order, ids, days).slice(0, most))
		]);
		return { sessions, total: ids.length, unreadable: [...order.unreadable, ...unreadable], strangers };
	}

	/** A summary is a cache: what was made by other methods is made anew, once. */
	async #fill(stale: readonly string[], turn: number): Promise<void> {
		const isAsked = () => turn === this.#turn;
		const tell = (done: number) => {
			if (isAsked()) this.#afresh = { done, total: stale.length };
		};
		tell(0);
		try {
			this.#measuring = this.measure(stale, tell);
			await this.#measuring.finished;
			const listed = isAsked() ? await this.#read(await orderOfSessions(this.store, this.#index)) : undefined;
			if (listed && isAsked()) this.#listed = listed;
		} catch {
			if (isAsked()) this.#trouble = 'not measured';
		}
		if (isAsked()) this.#afresh = undefined;
	}
}

/** @param ids newest first */
function ofDays({ begunMsOf }: SessionOrder, ids: readonly string[], days = Infinity): readonly string[] {
	const sinceMs = (begunMsOf(ids[0] ?? '') ?? 0) - days * dayMs;
	return ids.filter((id) => (begunMsOf(id) ?? 0) >= sinceMs);
}

function isSameOrder(one: SessionOrder, other: SessionOrder): boolean {
	const told = ({ ids, unreadable }: SessionOrder) =>
		[ids, unreadable.map(({ key, problem }) => key + problem)].join('|');
	return told(one) === told(other);
}
