import { groupTableOf, type GroupTable } from '$lib/review/group';
import { reviewedOrWhyNot, withNumbers, type Reviewed } from '$lib/review/reviewed';
import type { Athlete } from '$lib/record/athlete';
import type { Usual } from '$lib/physiology/usual';
import { usualDrop } from '$lib/review/like-words';
import { previousCheckOf, type PreviousCheck } from '$lib/review/previous-check';
import { athleteIdOf, countedSessions } from '$lib/review/progress';
import { nextTask } from './breathe';
import { newestOfAthlete, openSessionIndex } from './session-index';
import type { UseStore } from './database';
import { addEdit } from './edits';
import { onKept } from './kept-changes';
import { deleteSession, readAroundReadings, readSession, saveSummary, type SessionReading } from './sessions';
import type { FoldedEdit } from '$lib/record/edit';
import { headPutRight } from '$lib/record/put-right';
import { isSame } from '$lib/record/same';

type Found = Extract<SessionReading, { status: 'found' }>;

/**
 * One kept session that a screen shows: as it lies in the store, and as it was put right and measured. What is written of it
 * elsewhere is followed from `follow` on.
 */
export class OpenedSession {
	#id = '';
	#reading = $state.raw<SessionReading>();
	#lost = $state('');
	#reviewed = $state.raw<Reviewed>();
	#whyNotMeasured = $state('');
	#group = $state.raw<{ table: GroupTable; missing: number }>();
	#usual = $state.raw<Usual>();
	#previousCheck = $state.raw<PreviousCheck>();
	#hasNoStore = $state(false);
	/** What the screen has asked for beside the session. */
	#hasAsked = { group: false, others: false };
	/** Something was written of the session since it was read. */
	#isNews = false;
	/** What this window itself reads or keeps of it: news waits until that is shown. */
	#busy = 0;

	constructor(private readonly store: UseStore) {}

	get reading(): SessionReading | undefined {
		return this.#reading;
	}
	/** The same where it was found. */
	get found(): Found | undefined {
		return this.#reading?.status === 'found' ? this.#reading : undefined;
	}
	/** Why a session that was found cannot be read any more; it stands here as it was then. */
	get lost(): string {
		return this.#lost;
	}
	/** What a session that was found comes to. */
	get reviewed(): Reviewed | undefined {
		return this.#reviewed;
	}
	/** Why there is nothing to show of a session that was found. */
	get whyNotMeasured(): string {
		return this.#whyNotMeasured;
	}
	/** All corners of its session side by side; absent where there was one. */
	get group(): { table: GroupTable; missing: number } | undefined {
		return this.#group;
	}
	/** The athlete's own drops in sessions like this one, once `openOthers` has read them. */
	get usual(): Usual | undefined {
		return this.#usual;
	}
	/** The recovery check before this one, read with the same. */
	get previousCheck(): PreviousCheck | undefined {
		return this.#previousCheck;
	}
	get hasNoStore(): boolean {
		return this.#hasNoStore;
	}

	/** Never rejects. Measuring has a task of its own, so that a press comes between. */
	async open(id: string): Promise<void> {
		this.#id = id;
		this.#hasNoStore = this.#isNews = false;
		this.#lost = '';
		this.#group = undefined;
		if (!id) return void (this.#reading = { status: 'missing', problem: 'No session was named.' });
		await this.#beforeNews(async () => {
			try {
				const reading = await readSession(this.store, id);
				if (reading.status === 'found') {
					await nextTask();
					if (id !== this.#id) return;
					this.#review(reading);
					await nextTask();
				}
				if (id === this.#id) this.#reading = reading;
			} catch {
				this.#hasNoStore = true;
			}
		});
	}

	/** Shows what is written of the session from now on, by whatever way and in whichever window. Answers what ends that. */
	follow(): () => void {
		return onKept(this.store, (keys) => {
			if (['head', 'edit', 'tombstone'].some((kind) => keys.has(`${kind}/${this.#id}`))) {
				this.#isNews = true;
				void this.#beforeNews(() => Promise.resolve());
			}
			const others = (this.found?.record.head.group ?? []).filter((id) => id !== this.#id);
			if (this.#hasAsked.group && others.some((id) => keys.has(`head/${id}`) || keys.has(`edit/${id}`)))
				void this.openGroup();
		});
	}

	/** What the athlete's other sessions say beside this one. A cache that fails takes away no session. */
	async openOthers(): Promise<void> {
		this.#hasAsked.others = true;
		this.#usual = this.#previousCheck = undefined;
		await this.#readOthers();
	}

	async #readOthers(): Promise<void> {
		const { found } = this;
		if (!found) return;
		const { head } = found.record;
		const athleteId = athleteIdOf({ head, edit: found.edit });
		const kept = await newestOfAthlete(this.store, openSessionIndex(), athleteId).catch(() => []);
		const others = countedSessions(kept, { athleteId }).filter((one) => one.head.id !== head.id);
		if (this.found?.record.head.id !== head.id) return;
		const given = { head, edit: found.edit, summary: this.reviewed?.summary };
		this.#usual = usualDrop(others, given);
		this.#previousCheck = previousCheckOf(others, given);
	}

	/** Reads the records of all corners of the session. Never rejects. */
	async openGroup(): Promise<void> {
		this.#hasAsked.group = true;
		const ids = this.found?.record.head.group ?? [];
		if (ids.length === 0) return;
		try {
			const readings = await Promise.all(ids.map((id) => readSession(this.store, id)));
			const members = readings.flatMap((one) => {
				if (one.status !== 'found') return [];
				const { head } = one.record;
				const { value } = reviewedOrWhyNot(one.record, one.edit, one.summary);
				const name = one.edit.athlete?.name ?? head.athlete.name;
				return value ? { head, name, summary: value.summary } : [];
			});
			this.#group = { table: groupTableOf(members), missing: ids.length - members.length };
		} catch {
			this.#hasNoStore = true;
		}
	}

	/**
	 * Keeps a later entry on the session, and measures it anew where that changes a measure. Rejects with `StoreError`.
	 *
	 * @param athletes the cards: whoever the session is put right to be of comes with the numbers of theirs
	 */
	async change(change: FoldedEdit, athletes: readonly Athlete[]): Promise<void> {
		const { found } = this;
		if (!found) return;
		const { id } = found.record.head;
		const whole = withNumbers(change, found.record, athletes);
		const at = new Date().toISOString();
		await this.#beforeNews(async () => {
			await addEdit(this.store, id, { at, ...whole });
			// Another change may have been kept meanwhile, or another session opened.
			const now = this.found;
			if (now?.record.head.id !== id) return;
			const changed = {
				...now,
				edit: { ...now.edit, ...whole },
				...(whole.note !== undefined && { noteAt: at })
			};
			this.#reading = changed;
			if (!whole.told && !whole.activity) return;
			this.#review({ ...changed, summary: undefined });
			// The change is kept by now; a cache that cannot be kept takes nothing of it back.
			if (this.#reviewed)
				await saveSummary(this.store, id, this.#reviewed.summary, changed.edit).catch(() => undefined);
		});
	}

	/**
	 * Takes the session out of every list, which is no news to the screen that is about to be left. Answers its id. Rejects with
	 * `StoreError`.
	 */
	async remove(): Promise<string> {
		const id = this.#id;
		this.#id = '';
		try {
			await deleteSession(this.store, id);
		} catch (error) {
			this.#id = id;
			throw error;
		}
		return id;
	}

	/** Does what this window has to do with the session, and looks afterwards whether something else was written of it. */
	async #beforeNews(work: () => Promise<void>): Promise<void> {
		this.#busy++;
		try {
			await work();
		} finally {
			this.#busy--;
			if (this.#isNews && this.#busy === 0) {
				this.#isNews = false;
				await this.#beforeNews(() => this.#readAgain());
			}
		}
	}

	/** Reads what may have changed of the session. Its readings are left alone as long as they come to the same. */
	async #readAgain(): Promise<void> {
		const id = this.#id;
		const around = await readAroundReadings(this.store, id).catch(() => undefined);
		if (!around || id !== this.#id) return;
		const shown = this.found?.record.head.id === id ? this.found : undefined;
		if (around.status !== 'found') {
			if (shown) this.#lost = around.problem;
			return;
		}
		this.#lost = '';
		const { head, ...others } = around;
		if (!shown || !isSame(shown.record.head, head)) {
			await this.open(id);
			return this.#openBeside();
		}
		const { record, ...before } = shown;
		if (isSame({ ...others, summary: undefined }, { ...before, summary: undefined })) return;
		const reading = { ...others, record };
		this.#reading = reading;
		if (isSame(headPutRight(head, before.edit), headPutRight(head, others.edit))) return;
		this.#review(reading);
		await this.#openBeside();
	}

	async #openBeside(): Promise<void> {
		if (this.#hasAsked.group) await this.openGroup();
		if (this.#hasAsked.others) await this.#readOthers();
	}

	#review({ record, edit, summary }: Found): void {
		const { value, reason = '' } = reviewedOrWhyNot(record, edit, summary);
		this.#reviewed = value;
		this.#whyNotMeasured = reason;
	}
}
