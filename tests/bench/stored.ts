import { packReadings, unpackReadings } from '$lib/session/columns';
import { summaryOf } from '$lib/session/summary';
import { recordOf } from './sessions';
import { median, type Row } from './table';

/** Bytes of a kept hour, and the time that measuring three hours takes. */
export async function storedRows(): Promise<Row[]> {
	const hour = await recordOf(1, 'hour');
	const { version, firstMs, ...columns } = hour.body;
	const bytes = Object.values(columns).reduce((sum, column) => sum + column.byteLength, 0);
	// What the same readings would take as text, a rounding to whole milliseconds given.
	const readings = unpackReadings(packReadings(unpackReadings(hour.body)));
	const plain = JSON.stringify(
		readings.map(({ rrMs, ...reading }) => ({ ...reading, rrMs: rrMs.map((ms) => Math.round(ms)) }))
	);
	const kB = (count: number) => count / 1000;

	const long = await recordOf(3, 'long');
	const times = Array.from({ length: 15 }, () => {
		const startMs = performance.now();
		summaryOf(long);
		return performance.now() - startMs;
	});
	return [
		{
			row: 'History: stored for an hour with every RR interval',
			measured: kB(bytes),
			limit: 40,
			kind: 'most',
			unit: 'kB',
			note: `as plain JSON ${kB(plain.length).toFixed(0)} kB; form ${version}, from ${firstMs} ms`
		},
		{ row: 'Review: summary of 3 h computed anew', measured: median(times), limit: 30, kind: 'most', unit: 'ms' }
	];
}
