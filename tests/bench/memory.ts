import { openPage, withContext } from './page';
import { planOf } from './sessions';
import type { Row } from './table';

const speed = 60;
const minuteMs = 60_000;

/** A practice session of three hours with every RR interval, sixty times as fast as life. */
export function memoryRows(): Promise<Row[]> {
	return withContext(async (context) => {
		const page = await openPage(context);
		await page.getByText('Change the plan', { exact: true }).click();
		const { roundCount } = planOf(3);
		for (const [label, value] of [
			['Rounds', roundCount],
			['Round, seconds', 180],
			['Rest, seconds', 60]
		] as const)
			await page.getByRole('spinbutton', { name: label, exact: true }).fill(String(value));
		await page.getByRole('combobox', { name: 'Simulation speed' }).selectOption(String(speed));
		await page.getByRole('button', { name: 'Use simulated strap' }).click();
		await page.locator('button.chief:not([disabled])').waitFor();
		await page.getByRole('button', { name: 'Start', exact: true }).click();
		await page.getByRole('timer').waitFor();
		const startMs = Date.now();
		const devtools = await context.newCDPSession(page);
		const heapAfter = async (minutes: number) => {
			await page.waitForTimeout(startMs + (minutes * minuteMs) / speed - Date.now());
			await devtools.send('HeapProfiler.collectGarbage');
			const { usedSize } = await devtools.send('Runtime.getHeapUsage');
			return usedSize / 1e6;
		};
		const early = await heapAfter(5);
		const late = await heapAfter(178);
		await page.getByRole('timer').waitFor();
		return [
			{
				row: 'Memory: 3 h live with RR against minute 5, after a collection',
				measured: late - early,
				limit: 20,
				kind: 'most',
				unit: 'MB',
				note: `${early.toFixed(1)} MB, then ${late.toFixed(1)} MB`
			}
		];
	});
}
