import { expect, it } from 'vitest';
import { renewedTable, tableOf, type Row } from './table';

const row = (what: string, measured: string, met = true): Row => ({
	what,
	runs: '7',
	measured,
	goal: '0',
	met
});

it('the guide’s table keeps what was not counted now, in its place, and has what is new below', () => {
	const kept = tableOf([row('kills', '0'), row('packets', '3', false)]);
	expect(renewedTable(kept, [])).toBe(kept);
	expect(renewedTable(kept, [row('gyms', '1', false), row('kills', '2')])).toBe(
		tableOf([row('kills', '2'), row('packets', '3', false), row('gyms', '1', false)])
	);
});
