import type { MethodEntry } from '../method-entry';
import { taperDays, taperReductions, taperShares } from '../taper';
import { abstract } from './sources';

const sum = (shares: readonly number[]) => shares.reduce((total, share) => total + share, 0);

/** The last fortnight before a bout. */
export const taperMethods: readonly MethodEntry[] = [
	{
		id: 'taper',
		title: 'Taper',
		theme: 'load',
		measures: ['taperShares'],
		plain:
			'How many minutes the last two weeks before a bout keep: less from day to day, while rounds stay as hard and come as often.',
		formula: `minutes of day i (1 to ${taperDays}) = usual minutes a day × f^i\nf so that the ${taperDays} days together are ${100 * taperReductions.least} to ${100 * taperReductions.most} % less than usual\nusual = mean of the last four weeks of which every day is known; with one unknown day no figure`,
		example: () => {
			const ends = [taperReductions.most, taperReductions.least].map((reduction) => {
				const shares = taperShares(reduction);
				const minutes = [shares.slice(0, 7), shares.slice(7)].map((week) => (sum(week) * 400) / 7);
				return minutes.map((value) => value.toFixed(0));
			});
			return {
				given: 'Four known weeks of 400 minutes each.',
				result: `${ends[0]![0]} to ${ends[1]![0]} minutes in the last week but one, ${ends[0]![1]} to ${ends[1]![1]} in the last`
			};
		},
		validRange: 'Four weeks of which every day is known: a session, an entry, or a day of rest.',
		error: 'The effect was 0.72 ± 0.36 of a standard deviation for this volume; none published for boxing.',
		sources: [
			abstract('Bosquet, Montpetit, Arvisais, Mujika, Med Sci Sports Exerc 2007;39:1358-65'),
			'Own rule'
		],
		limits:
			'Found in endurance sports. That the share is of the whole fortnight is our reading. The coach decides.'
	}
];
