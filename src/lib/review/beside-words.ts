import { dayWords } from './day-words';
import type { Beside } from '$lib/record/card-merge';

const names: Record<string, string> = {
	name: 'Name',
	birthYear: 'Year of birth',
	sex: 'Sex used by the formulas',
	heightCm: 'Height, cm',
	weightKg: 'Weight, kg',
	weights: 'Weight',
	weightLimitKg: 'Weight limit, kg',
	measuredMaxBpm: 'Measured maximum',
	resting: 'Resting rate',
	vo2max: 'VO2max',
	bodyFatPercent: 'Body fat, %',
	measuredFat: 'Body fat as measured',
	slowingMedicine: 'Medicine that slows the heart',
	pregnant: 'Pregnancy',
	noSparringUntil: 'No sparring until',
	blows: 'Blow to the head',
	bouts: 'Bout',
	notes: 'Notes'
};

/**
 * What somebody else entered on another laptop without knowing of what is shown:
 * "Notes: left hand, entered on another laptop on 3 March 2026."
 */
export function besideWords({ register, value, at }: Beside): string {
	const [member = '', day] = register.split('/');
	const named = names[member] ?? member;
	const name = day ? `${named} on ${day}` : named;
	const when = at === '' ? '' : ` on ${dayWords(at)}`;
	return `${name}: ${valueWords(value)}, entered on another laptop${when}.`;
}

function valueWords(value: unknown): string {
	if (value === undefined) return 'taken out';
	if (value === true) return 'yes';
	if (typeof value !== 'object' || value === null) return String(value);
	return Object.values(value)
		.filter((one) => typeof one !== 'object')
		.join(', ');
}
