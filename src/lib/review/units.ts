export type Units = 'metric' | 'imperial';

// Exact by definition: the international yard and pound agreement of 1959.
const kgPerPound = 0.45359237;
const cmPerInch = 2.54;
const poundsPerStone = 14;

/** A weight for the eye: `weightWords(75, 'imperial')` is "165.3 lb (11 st 11.3 lb)". */
export function weightWords(kg: number, units: Units): string {
	if (units === 'metric') return `${oneDecimal(kg)} kg`;
	// Rounded first, so that 14.0 pounds never stand beside a stone.
	const pounds = Math.round((kg / kgPerPound) * 10) / 10;
	const stone = Math.floor(pounds / poundsPerStone);
	return `${oneDecimal(pounds)} lb (${stone} st ${oneDecimal(pounds - stone * poundsPerStone)} lb)`;
}

/** A height for the eye: `heightWords(180, 'imperial')` is "5 ft 10.9 in". */
export function heightWords(cm: number, units: Units): string {
	if (units === 'metric') return `${oneDecimal(cm)} cm`;
	const inches = Math.round((cm / cmPerInch) * 10) / 10;
	const feet = Math.floor(inches / 12);
	return `${feet} ft ${oneDecimal(inches - feet * 12)} in`;
}

/** What a form shows for a stored weight, and what it stores for what was typed: kilograms or pounds. */
export const weightField = {
	shown: (kg: number, units: Units) => (units === 'metric' ? kg : Math.round((kg / kgPerPound) * 10) / 10),
	stored: (typed: number, units: Units) => (units === 'metric' ? typed : typed * kgPerPound)
};

/** The same for a height: centimetres or inches. */
export const heightField = {
	shown: (cm: number, units: Units) => (units === 'metric' ? cm : Math.round((cm / cmPerInch) * 10) / 10),
	stored: (typed: number, units: Units) => (units === 'metric' ? typed : typed * cmPerInch)
};

const kmPerMile = 1.609344;

/** The same for a distance: kilometres or miles. */
export const distanceField = {
	shown: (km: number, units: Units) => (units === 'metric' ? km : Math.round((km / kmPerMile) * 100) / 100),
	stored: (typed: number, units: Units) => (units === 'metric' ? typed : typed * kmPerMile)
};

function oneDecimal(value: number): string {
	return String(Math.round(value * 10) / 10);
}
