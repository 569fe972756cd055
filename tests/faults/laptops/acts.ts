import { makeRecord } from '../../store/builders';
import { Doers, type Doing } from './doing';
import { saveAthlete } from '$lib/store/athletes';
import { addEdit } from '$lib/store/edits';
import { mergeAthletes } from '$lib/store/folder/merges';
import { deleteAthlete, restoreAthlete } from '$lib/store/gone-athletes';
import { openJournal } from '$lib/store/journal';
import { deleteSession, restoreSession } from '$lib/store/sessions';

/** What people do with sessions and athletes, each thing by chance, and noted. Answers in words what it was. */
export class Acts extends Doers {
	/** Corrections of one session and moment: of two the field of one machine holds. */
	readonly #titles = new Map<string, string>();

	async enrol(doing: Doing): Promise<string> {
		const id = `ath-${doing.step}`;
		await saveAthlete(doing.laptop.store, { id, name: `Boxer ${doing.step}` }, undefined, doing.nowMs);
		this.note(doing, 'enter', `athlete ${id}`, id);
		return id;
	}

	async box(doing: Doing): Promise<string> {
		const card = await this.anybody(doing);
		if (!card) return 'nobody to box';
		const id = `s${doing.step}x`;
		const practice = this.chance.uniform() < 0.1;
		const groupId = `g${doing.step}x`;
		const head = { id, groupId, practice, athlete: { athleteId: card.id, name: card.name } };
		await openJournal(doing.laptop.store, `of-${id}`).finish([makeRecord(head)]);
		if (practice) this.ledger.open(`title ${id} `);
		else this.note(doing, 'enter', `session ${id}`, `"${groupId}"`);
		return `${id} of ${card.id}${practice ? ', for practice' : ''}`;
	}

	async correct(doing: Doing): Promise<string> {
		const { laptop, nowMs, step: number } = doing;
		const id = this.one(await laptop.sessionIds());
		if (id === undefined) return 'nothing to correct';
		const other = await this.anybody(doing);
		const title = `title ${number}x`;
		const edit = {
			title,
			...(this.chance.uniform() < 0.3 && { effort: this.chance.below(11) }),
			...(this.chance.uniform() < 0.1 && other && { athlete: { id: other.id, name: other.name } })
		};
		const before = new Set(await laptop.keys(`edit/${id}/`));
		await addEdit(laptop.store, id, { at: new Date(nowMs).toISOString(), ...edit });
		const key = (await laptop.keys(`edit/${id}/`)).find((one) => !before.has(one)) ?? '';
		const token = `title ${id} ${title}`;
		this.note(doing, 'enter', token, title);
		const sameMoment = this.#titles.get(key);
		if (sameMoment !== undefined) for (const one of [token, sameMoment]) this.ledger.open(one);
		this.#titles.set(key, token);
		return `${id} ${JSON.stringify(edit)}`;
	}

	async deleteSession(doing: Doing): Promise<string> {
		const id = this.one(await doing.laptop.sessionIds());
		if (id === undefined) return 'nothing to delete';
		await deleteSession(doing.laptop.store, id, doing.nowMs);
		this.#buried(doing, id);
		return id;
	}

	async undoSession(doing: Doing): Promise<string> {
		const id = this.one(await doing.laptop.keys('tombstone/'))?.split('/')[1];
		if (id === undefined) return 'nothing to bring back';
		await restoreSession(doing.laptop.store, id);
		this.note(doing, 'bring back', `session ${id}`);
		return id;
	}

	async deleteAthlete(doing: Doing): Promise<string> {
		const { laptop, nowMs } = doing;
		const card = await this.anybody(doing);
		if (!card) return 'nobody';
		const before = await laptop.sessionIds();
		await deleteAthlete(laptop.store, card.id, nowMs);
		const after = new Set(await laptop.sessionIds());
		for (const id of before) if (!after.has(id)) this.#buried(doing, id);
		this.note(doing, 'take away', `athlete ${card.id}`);
		this.#openCard(card.id);
		this.ledger.open(`entry ${card.id}-`);
		return card.id;
	}

	async undoAthlete(doing: Doing): Promise<string> {
		const id = this.one(await doing.laptop.keys('gone-athlete/'))?.split('/')[1];
		if (id === undefined) return 'nobody to bring back';
		const before = new Set(await doing.laptop.sessionIds());
		await restoreAthlete(doing.laptop.store, id);
		for (const back of await doing.laptop.sessionIds())
			if (!before.has(back)) this.note(doing, 'bring back', `session ${back}`);
		this.note(doing, 'bring back', `athlete ${id}`);
		return id;
	}

	async merge(doing: Doing): Promise<string> {
		const [kept, gone] = [await this.anybody(doing), await this.anybody(doing)];
		if (!kept || !gone || kept.id === gone.id) return 'nobody';
		await mergeAthletes(doing.laptop.store, kept, gone.id, doing.nowMs);
		this.ledger.open(`athlete ${gone.id}`);
		this.#openCard(gone.id);
		return `${gone.id} into ${kept.id}`;
	}

	/** What is on a card goes with it. */
	#openCard(id: string): void {
		for (const kind of ['threshold', 'weight', 'blow']) this.ledger.open(`${kind} ${id} `);
	}

	#buried(doing: Doing, id: string): void {
		this.note(doing, 'take away', `session ${id}`);
		this.ledger.open(`title ${id} `);
	}
}
