import type { Chance } from '../chance';
import type { Doing } from './doing';
import { baseName, type FileSharer } from './file-sharer';
import type { Laptop } from './laptop';
import type { Ledger } from './ledger';
import { keptDeletedMs } from '$lib/record/limits';
import { wholeBackup } from '../../store/whole-backup';
import { planRestore, restore } from '$lib/store/backup/restore';
import { read } from '$lib/store/database';
import { parsedName } from '$lib/store/folder/names';
import { fatesOf } from '$lib/store/folder/known-fate';
import { setConsent, setReasonConsent } from '$lib/store/folder/state';
import { purgeAthletes } from '$lib/store/gone-athletes';
import { purgeDeleted } from '$lib/store/sessions';

const dayMs = 86_400_000;
const yearMs = 365 * dayMs;

/** What happens to laptops besides: agreements, backups, old disks, clocks. Each answers in words what it was. */
export class Turns {
	#machines = 0;

	constructor(
		private readonly chance: Chance,
		private readonly ledger: Ledger,
		private readonly sharer: FileSharer,
		private readonly laptops: readonly Laptop[]
	) {}

	/** What a browser signs with. */
	machine = () => `machine${this.#machines++}`;

	/** By how much a clock is wrong, in milliseconds. */
	wrongBy = () => (this.chance.below(3) === 0 ? 0 : Math.round((2 * this.chance.uniform() - 1) * yearMs));

	async consent({ laptop, nowMs }: Doing): Promise<string> {
		const { store } = laptop;
		const athletes = await laptop.athletes();
		if (athletes.length === 0) return 'nobody';
		const { id } = this.chance.pick(athletes);
		const what = this.chance.pick(['all', 'on', 'off', 'reason', 'no reason', 'withdrawn'] as const);
		if (what === 'all') for (const athlete of athletes) await setConsent(store, athlete.id, true);
		else if (what === 'on') await setConsent(store, id, true);
		else if (what === 'reason' && (await laptop.agreed()).has(id)) await setReasonConsent(store, id, true);
		else if (what === 'no reason') await setReasonConsent(store, id, false);
		else if (what === 'off' || what === 'withdrawn') await setConsent(store, id, false);
		if (what === 'withdrawn') {
			await laptop.withdraw(id, nowMs);
			this.ledger.openOrphans();
		}
		return `${what} ${id}`;
	}

	async backUp({ laptop, nowMs }: Doing): Promise<string> {
		const { text } = await wholeBackup(laptop.store, new Date(nowMs));
		laptop.backups.push(text);
		return `its ${laptop.backups.length}th`;
	}

	async restore({ laptop, nowMs }: Doing, from = this.chance.pick(this.laptops)): Promise<string> {
		if (from.backups.length === 0) return 'nothing';
		const { store } = laptop;
		const plan = await planRestore(store, this.chance.pick(from.backups));
		if (plan.status !== 'ready') throw new Error(plan.problem);
		const before = await laptop.tokens();
		const known = await read(store, (objects) => fatesOf(objects, 'session'));
		const buried = new Set((await laptop.keys('tombstone/')).map((key) => key.split('/')[1]));
		await restore(store, plan, undefined, nowMs);
		for (const token of await laptop.tokens()) {
			const id = token.split(' ')[1]!;
			const isCard = token.startsWith('athlete');
			const isBroughtBack = known.get(id)?.deleted || buried.has(id) || isCard;
			if (before.has(token) || !isBroughtBack) continue;
			this.ledger.open(token);
			// With a card that had become another one its days are back as they were in the backup.
			if (isCard) this.ledger.open(`entry ${id}-`);
		}
		return `of ${from.number}`;
	}

	/** The whole disk as it was on a day, or the browser's part of it alone. */
	async setBack({ laptop, step }: Doing): Promise<string> {
		const { image, replica } = laptop;
		if (!image || this.chance.below(2) === 0) {
			laptop.image = await laptop.imageAt(step);
			return 'not yet: its disk is copied';
		}
		const withFolder = this.chance.below(2) === 0;
		if (withFolder) {
			replica.folder.files.clear();
			replica.known.clear();
			for (const [name, text] of image.files) replica.folder.put(name, text);
		}
		await laptop.begin(this.machine(), image.entries);
		this.#forget(laptop, image.step);
		return `to ${image.step}${withFolder ? ' with its folder' : ''}`;
	}

	/** Another laptop takes its place, and is given an old backup. */
	async replace(doing: Doing): Promise<string> {
		const { laptop } = doing;
		laptop.replica.folder.files.clear();
		laptop.replica.known.clear();
		laptop.image = undefined;
		await laptop.begin(this.machine());
		this.#forget(laptop, 0);
		return this.restore(doing, laptop);
	}

	setClock({ laptop }: Doing): string {
		laptop.clockMs = this.wrongBy();
		return `${Math.round(laptop.clockMs / dayMs)} days off`;
	}

	async purge({ laptop, nowMs }: Doing): Promise<string> {
		await purgeDeleted(laptop.store, keptDeletedMs, nowMs);
		await purgeAthletes(laptop.store, keptDeletedMs, nowMs);
		return '';
	}

	#forget(laptop: Laptop, since: number): void {
		const texts = this.laptops.flatMap(({ replica }) => {
			this.sharer.look(replica);
			return [...replica.known].flatMap(
				([path, { version }]) => (parsedName(baseName(path)) && version?.text) ?? []
			);
		});
		this.ledger.forget(laptop.number, since, texts);
	}
}
