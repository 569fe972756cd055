import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { packReadings } from '$lib/record/columns';
import { eatBackOf, foodWords, notCounted } from '$lib/review/eat-back';
import { recordVersion } from '$lib/record/check';
import type { SessionRecord } from '$lib/record/body';
import type { Athlete } from '$lib/record/athlete';
import { athlete as snapshot, makeStart } from '../session/builders';

const year = 2026;
const man: Athlete = {
	...{ id: 'a', name: 'Adem', sex: 'male', heightCm: 180, birthYear: 1996, weightKg: 75 }
};

/** Ten minutes at 150 with a chest strap. */
function session(changes: Partial<SessionRecord['head']> = {}): SessionRecord {
	const readings = Array.from({ length: 601 }, (_, i) => ({
		...{ ms: i * 1000, bpm: 150, contact: 'contact' as const, rrMs: [] }
	}));
	const { startedAt, zone, plan } = makeStart();
	return {
		head: {
			...{ version: recordVersion as typeof recordVersion, id: 'r', groupId: 'g', startedAt, zone, plan },
			...{ endedMs: 600_000, amendments: [], events: [], practice: false, strapName: 'Strap' },
			athlete: snapshot,
			...changes
		},
		body: packReadings(readings)
	};
}

describe('what may be eaten back', () => {
	it('is the net cost, the high end first, by hand for ten minutes at 150', () => {
		const { value } = eatBackOf(session(), man, year)!;
		// Keytel 60.4991 kJ/min x 10 / 4.184, on the pads times 0.8 to 1.3; less 1730 / 144 x 1.5 and 1.3.
		expect(value!.low).toBeCloseTo((0.8 * 604.991) / 4.184 - (1730 / 144) * 1.5, 1);
		expect(value!.high).toBeCloseTo((1.3 * 604.991) / 4.184 - (1730 / 144) * 1.3, 1);
		expect(value!.value).toBe(value!.high);
	});
	it.each<[Partial<Athlete>, string]>([
		[{ birthYear: 2010 }, 'under 18'],
		[{ birthYear: undefined }, 'whose age is not known'],
		[{ pregnant: true }, 'pregnancy'],
		[{ eatingDisorderHistory: true }, 'doctor or dietitian'],
		[{ eatingDisorderHistory: true, birthYear: 2010 }, 'doctor or dietitian']
	])('is words and no figure for %o', (changes, words) => {
		const back = eatBackOf(session(), { ...man, ...changes }, year)!;
		expect(back.value).toBeUndefined();
		expect(back.reason).toContain(words);
		expect(back.reason).not.toMatch(/kcal|kJ/);
	});
	it('is unknown, with the reason, where the cost is', () => {
		expect(eatBackOf(session(), { ...man, weightKg: undefined }, year)!.reason).toContain('body mass');
	});
	it('is nothing at all where it is switched off, simulated, or was measured at rest', () => {
		expect(eatBackOf(session(), { ...man, hidesFuel: true }, year)).toBeUndefined();
		expect(eatBackOf(session({ practice: true }), man, year)).toBeUndefined();
		const { plan } = makeStart();
		expect(eatBackOf(session({ plan: { ...plan, activity: 'rest' } }), man, year)).toBeUndefined();
		expect(notCounted(man, year)).toBeUndefined();
	});
});

describe('food of every day', () => {
	// USDA FoodData Central, SR Legacy, as quoted in print: banana 89 kcal and cooked white rice 130 kcal in 100 g.
	it('is counted in halves', () => {
		expect(foodWords(1.18 * 89 * 3)).toBe('3 medium bananas, or 1½ cups of cooked rice');
		expect(foodWords(1.58 * 130)).toBe('2 medium bananas, or 1 cup of cooked rice');
		expect(foodWords(52)).toBe('½ medium banana, or ½ cup of cooked rice');
		expect(foodWords(20)).toBeUndefined();
	});
	it('comes back to the energy it stands for, within a quarter of a piece', () => {
		fc.assert(
			fc.property(fc.integer({ min: 60, max: 3000 }), (kcal) => {
				const [bananas = '', rice = ''] = foodWords(kcal)!.split(', or ');
				const count = (words: string) =>
					Number(/^\d+/.exec(words)?.[0] ?? 0) + (words.includes('½') ? 0.5 : 0);
				expect(Math.abs(count(bananas) * 105 - kcal)).toBeLessThanOrEqual(105 / 4);
				expect(Math.abs(count(rice) * 205 - kcal)).toBeLessThanOrEqual(205 / 4);
			})
		);
	});
});
