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
import { readSession, saveSummary, type SessionReading } from './sessions';
import type { FoldedEdit } from '$lib/record/edit';

/** One kept session that a screen shows: as it lies in the store, and as it was put right and measured. */
export class OpenedSession {
	#reading = $state.raw<SessionReading>();
	#reviewed = $state.raw<Reviewed>();
	#whyNotMeasured = $state('');
	#group = $state.raw<{ table: GroupTable; missing: number }>();
	#usual = $state.raw<Usual>();
	#previousCheck = $state.raw<PreviousCheck>();
	#hasNoStore = $state(false);

	constructor(private readonly store: UseStore) {}

	get reading(): SessionReading | undefined {
		return this.#reading;
	}
	/** The same where it was found. */
	get found(): Extract<SessionReading, { status: 'found' }> | undefined {
		return this.#reading?.status === 'found' ? this.#reading : undefined;
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
		this.#hasNoStore = false;
		this.#group = undefined;
		if (!id) return void (this.#reading = { status: 'missing', problem: 'No session was named.' });
		try {
			const reading = await readSession(this.store, id);
			if (reading.status === 'found') {
				await nextTask();
				this.#review(reading);
				await nextTask();
			}
			this.#reading = reading;
		} catch {
			this.#hasNoStore = true;
		}
	}

	/** What the athlete's other sessions say beside this one. A cache that fails takes away no session. */
	async openOthers(): Promise<void> {
		const { found } = this;
		this.#usual = this.#previousCheck = undefined;
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
		if (this.#reviewed) await saveSummary(this.store, id, this.#reviewed.summary, changed.edit);
	}

	#review({ record, edit, summary }: Extract<SessionReading, { status: 'found' }>): void {
		const { value, reason = '' } = reviewedOrWhyNot(record, edit, summary);
		this.#reviewed = value;
		this.#whyNotMeasured = reason;
	}
}
