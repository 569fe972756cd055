import { describe, expect, it } from 'vitest';
import type { Athlete } from '$lib/record/athlete';
import { boutSchema, type Bout } from '$lib/record/bout';
import { boutProblem, nextBout, withBout, withoutBout } from '$lib/record/bout-changes';
import { changedBy, unstamped } from '$lib/record/card-merge';
import { cardOf } from '$lib/record/card-registers';
import { joined } from '$lib/record/registers';
import { check } from '$lib/record/check';
import { mergedCard } from '$lib/record/merged-card';

const today = '2026-03-10';
const bout: Bout = { id: 'bout-1', day: '2026-05-09', weighInDay: '2026-05-09', limitKg: 63.5 };
const nerea: Athlete = { id: 'ath-1', name: 'Nerea' };

describe('a bout that is entered', () => {
	it.each([
		[{ day: '2026-03-09' }, /day of the bout is over/],
		[{ weighInDay: '2026-05-10' }, /weigh-in lies after the bout/],
		[{ weighInTime: '19:00', walkTime: '18:30' }, /weigh-in lies after the walk/],
		[{ limitKg: 20 }, /limit of 20 kg cannot be.*25 to 200/],
		[{ classesKg: [60, 635] }, /limit of 635 kg cannot be/],
		[{ campFrom: '2026-05-09' }, /camp begins after the bout/]
	])('%j is refused in words', (overrides, words) => {
		expect(boutProblem({ ...bout, ...overrides }, today)).toMatch(words);
	});

	it('may be of today, weighed in on the day before or in the morning', () => {
		const fine = [
			bout,
			{ ...bout, day: today, weighInDay: today },
			{ ...bout, weighInDay: '2026-05-08', weighInTime: '20:00', walkTime: '18:00' },
			{ ...bout, weighInTime: '08:00', walkTime: '18:00' },
			{ ...bout, weighInTime: '08:00' },
			{ ...bout, walkTime: '18:00' },
			{ ...bout, campFrom: '2026-03-20' },
			{ id: 'bout-2', day: today }
		];
		for (const one of fine) expect(boutProblem(one, today)).toBeUndefined();
	});
});

describe('the bouts of a card', () => {
	it('stand by day, and the next one is found, today’s included', () => {
		const later = { ...bout, id: 'bout-0', day: '2026-09-01' };
		const card = withBout(withBout(nerea, later), bout);
		expect(card.bouts).toEqual([bout, later]);
		expect(nextBout(card, '2026-05-09')).toEqual(bout);
		expect(nextBout(card, '2026-05-10')).toEqual(later);
		expect(withoutBout(withoutBout(card, 'bout-0'), 'bout-1')).toEqual(nerea);
	});

	it('are put in place of the one with the same id, and the next of some is the first that is not over', () => {
		const moved = { ...bout, day: '2026-05-16' };
		expect(withBout(withBout(nerea, bout), moved).bouts).toEqual([moved]);
		const [over, soon, late] = ['2026-01-10', '2026-04-01', '2026-12-01'].map((day) => ({
			...bout,
			id: day,
			day
		}));
		const card = { ...nerea, bouts: [late!, over!, soon!] };
		expect(nextBout(card, today)).toEqual(soon);
		expect(nextBout(card, '2026-12-02')).toBeUndefined();
		expect(nextBout(nerea, today)).toBeUndefined();
		expect(withoutBout(nerea, 'bout-1')).toEqual(nerea);
		expect(withoutBout(card, soon!.id).bouts).toEqual([late, over]);
	});

	it('that two laptops enter unaware of each other all stay, and the later word on one of them holds', () => {
		const put = (by: string, ms: number, told: Bout) =>
			changedBy(unstamped(nerea), nerea, withBout(nerea, told), { ms, by });
		const other = { ...bout, id: 'bout-2', day: '2026-06-01' };
		const corrected = { ...bout, limitKg: 67 };
		const all = [put('one', 1000, bout), put('two', 2000, other), put('three', 3000, corrected)];
		const shown = (states: typeof all) => cardOf('ath-1', states.reduce(joined)).value;
		expect(shown(all)?.bouts).toEqual([corrected, other]);
		expect(shown(all.toReversed())).toEqual(shown(all));
	});

	it('of two cards that are one person’s all stay', () => {
		const other = { ...bout, id: 'bout-2', day: '2026-04-01' };
		const card = mergedCard(withBout(nerea, bout), withBout({ id: 'b', name: 'N.' }, other));
		expect(card.bouts).toEqual([other, bout]);
	});

	it('are bounded, and carry what a later page has added', () => {
		expect(check(boutSchema, { ...bout, bell: 'hall' })).toEqual({ value: { ...bout, bell: 'hall' } });
		for (const wrong of [{ day: '9 May' }, { limitKg: 1e9 }, { place: 'x'.repeat(201) }, { roundCount: 99 }])
			expect(check(boutSchema, { ...bout, ...wrong }).problem).toBeDefined();
		expect(
			check(boutSchema, { ...bout, classesKg: Array.from({ length: 41 }, () => 60) }).problem
		).toBeDefined();
	});
});
