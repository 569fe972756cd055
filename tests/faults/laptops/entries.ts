import { shortPlan } from '../../session/builders';
import { makeEntry } from '../../review/training-days';
import { Doers, type Doing } from './doing';
import { withThreshold, withWeight } from '$lib/record/athlete-changes';
import type { Athlete } from '$lib/record/athlete';
import { withBlow, withoutBlow } from '$lib/record/blow-changes';
import { emptyDay, withEntry, withoutEntry, type TrainingDay } from '$lib/record/day';
import { waySteps } from '$lib/physiology/way-steps';
import { saveAthlete } from '$lib/store/athletes';
import { readDays, saveDay } from '$lib/store/days';
import { listPlans } from '$lib/store/plan-list';
import { deletePlan, savePlan } from '$lib/store/plans';

const today = '2026-03-03';
const dateOf = (n: number) => new Date(Date.UTC(2024, 0, 1 + n)).toISOString().slice(0, 10);
const fewDates = Array.from({ length: 6 }, (_, n) => `2026-0${1 + (n % 3)}-1${n}`);

/** What people enter: on cards, of days, as plans; each by chance, and noted. Answers in words what it was. */
export class Entries extends Doers {
	async card(doing: Doing): Promise<string> {
		const { laptop, nowMs, step: number } = doing;
		const card = await this.anybody(doing);
		if (!card) return 'nobody';
		const what = this.chance.pick([
			'threshold',
			'threshold',
			'weight',
			'weight',
			'rest',
			'medicine',
			'strap'
		]);
		// Told from every other number in a file.
		const own = (whole: number) => Number(`${whole}.${String(number).padStart(3, '0')}1`);
		const [bpm, kg] = [own(150), own(60)];
		const date = this.chance.below(2) === 0 ? dateOf(number) : this.chance.pick(fewDates);
		const change: Record<string, (card: Athlete) => Athlete> = {
			threshold: (card) => withThreshold(card, bpm, today, 'typed'),
			weight: (card) => withWeight(card, kg, date),
			rest: (card) => ({ ...card, restBpm: 40 + this.chance.below(20) }),
			medicine: ({ slowingMedicine, ...card }) => ({
				...card,
				...(!slowingMedicine && { slowingMedicine: true })
			}),
			strap: (card) => ({ ...card, strapName: `Strap ${number}` })
		};
		const changed = { ...change[what]!(card), changedAt: new Date(nowMs).toISOString() };
		const kept = await saveAthlete(laptop.store, changed, card);
		if (what === 'threshold') {
			if (kept?.thresholdBpm !== bpm) throw new Error('A later threshold did not take effect.');
			this.note(doing, 'enter', `threshold ${card.id} ${bpm}`, String(bpm));
		}
		if (what === 'weight') this.note(doing, 'enter', `weight ${card.id} ${date}`, String(kg));
		return `${what} of ${card.id}, ${number}`;
	}

	async blow(doing: Doing): Promise<string> {
		const { laptop, nowMs, step: number } = doing;
		const card = await this.anybody(doing);
		if (!card) return 'nobody';
		const at = new Date(nowMs).toISOString();
		const blow = this.one(card.blows ?? []);
		const what = blow ? this.chance.pick(['new', 'step', 'step', 'take away']) : 'new';
		const day = blow && what !== 'new' ? blow.day : dateOf(number);
		const step = this.chance.pick(waySteps);
		const clearance = this.chance.below(2) === 0 && { clearance: { by: 'Dr Aalto', day: today } };
		const changed =
			what === 'take away'
				? withoutBlow(card, day)
				: withBlow(card, { ...blow, day, step, since: at, ...clearance }, today);
		await saveAthlete(laptop.store, { ...changed, changedAt: at }, card);
		const token = `blow ${card.id} ${day}`;
		if (what === 'new') this.note(doing, 'enter', token, day);
		// A word that was said unaware of its removal holds it.
		if (what === 'take away') this.note(doing, 'bring back', token);
		return `${what}: ${token} ${step}`;
	}

	async day(doing: Doing): Promise<string> {
		const { laptop, nowMs, step: number } = doing;
		const card = await this.anybody(doing);
		if (!card) return 'nobody';
		const date = this.chance.pick(fewDates);
		const found = await readDays(laptop.store, [card.id], date, date);
		const before: TrainingDay = found.get(card.id)?.days.get(date) ?? emptyDay;
		const entry = this.one(before.entries);
		const what = entry ? this.chance.pick(['enter', 'enter', 'take away', 'tick']) : 'enter';
		const id = `${card.id}-e${number}x`;
		const madeAt = new Date(nowMs).toISOString();
		const changed =
			what === 'enter'
				? withEntry(before, makeEntry({ id, madeAt }))
				: what === 'tick'
					? { ...before, allFood: !before.allFood }
					: withoutEntry(before, entry!.id);
		await saveDay(laptop.store, card.id, date, { before, changed }, nowMs);
		if (what === 'enter') this.note(doing, 'enter', `entry ${id}`, id);
		if (what === 'take away') this.note(doing, 'take away', `entry ${entry!.id}`);
		return `${what} ${what === 'enter' ? id : what === 'tick' ? '' : entry!.id} of ${card.id} on ${date}`;
	}

	async plan(doing: Doing): Promise<string> {
		const { laptop, nowMs, step: number } = doing;
		const plans = (await listPlans(laptop.store)).plans;
		const id = this.chance.pick(['p1', 'p2', ...plans.map((own) => own.id)]);
		const known = plans.find((own) => own.id === id)?.plan;
		if (known) {
			// Elsewhere it may stand beside another one as a plan of its own.
			this.ledger.open(`plan ${known.roundS}`);
			this.note(doing, 'take away', `plan ${id} ${known.roundS}`);
		}
		if (known && this.chance.below(3) === 0) {
			await deletePlan(laptop.store, id, nowMs);
			return `drops ${id} ${known.roundS}`;
		}
		await savePlan(laptop.store, { id, plan: { ...shortPlan, name: 'Ladder', roundS: number } }, nowMs);
		this.note(doing, 'enter', `plan ${number}`, `"roundS":${number},`);
		return `${id} ${number}${known ? ` for ${known.roundS}` : ''}`;
	}
}
