import { expect, it } from 'vitest';
import { studentsT } from '$lib/physiology/students-t';
import { outside } from './outside';

const table = "Student's t as textbooks print it (Fisher & Yates, table III; again by scipy.stats.t.ppf)";
const forFade = outside('fade', table, '');
const forChange = outside('change', table, '');

// The table that textbooks print (Fisher & Yates, Statistical Tables, table III; NIST/SEMATECH e-Handbook of
// Statistical Methods, 1.3.6.7.2), two-sided 5 % and one-sided 20 %; recomputed with scipy.stats.t.ppf.
it.each([
	[1, 12.706, 1.376],
	[2, 4.303, 1.061],
	[3, 3.182, 0.978],
	[4, 2.776, 0.941],
	[5, 2.571, 0.92],
	[6, 2.447, 0.906],
	[10, 2.228, 0.879],
	[13, 2.16, 0.87],
	[30, 2.042, 0.854],
	[120, 1.98, 0.845]
])('is that of the published table for %s degrees of freedom', (degrees, at975, at80) => {
	expect(forFade.take(studentsT(0.975, degrees), at975)).toBeLessThan(5e-4);
	expect(forChange.take(studentsT(0.975, degrees), at975)).toBeLessThan(5e-4);
	expect(forChange.take(studentsT(0.8, degrees), at80)).toBeLessThan(5e-4);
});

it('comes to what Methods says', () => {
	forFade.settle();
	forChange.settle();
});
