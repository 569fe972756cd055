import type { BrowserContext, Page } from '@playwright/test';
import { floorAddress } from './floor';
import { openPage, seed, timeToShow, withContext } from './page';
import { recordOf } from './sessions';
import { atMostOf, median, type Row } from './table';

const repeats = 7;
const steps = 40;
const quietMs = 600;
/** One a second of the minute, with both ends. */
const pointsOfRest = 61;

interface Painted {
	lastMs: number;
	/** The same on the first picture of the page alone. */
	lastOfFirstMs: number;
	/** Most points for a pixel of width, of lines long enough to be a trace. */
	mostPerPixel: number;
	/** Of the longest line. */
	points: number;
}

/** A session of three hours with every RR interval: opened from the list, zoomed and moved along. */
export function reviewRows(): Promise<Row[]> {
	return withContext(async (context) => {
		await context.addInitScript(() => {
			const painted = { lastMs: 0, lastOfFirstMs: 0, mostPerPixel: 0, points: 0 };
			Object.assign(window, { painted });
			const longEnough = 200;
			const lines = new WeakMap<object, { count: number; fromX: number; toX: number }>();
			const note = (path: object, x: number) => {
				let line = lines.get(path);
				if (!line) lines.set(path, (line = { count: 0, fromX: x, toX: x }));
				line.count++;
				line.toX = x;
			};
			const settle = (path: object) => {
				const line = lines.get(path);
				if (line && line.count >= longEnough) {
					painted.mostPerPixel = Math.max(painted.mostPerPixel, line.count / (line.toX - line.fromX));
					painted.points = Math.max(painted.points, line.count);
				}
				lines.delete(path);
			};
			for (const of of [Path2D.prototype, CanvasRenderingContext2D.prototype])
				for (const name of ['lineTo', 'moveTo'] as const) {
					const original = of[name];
					of[name] = function (this: Path2D & CanvasRenderingContext2D, x: number, y: number) {
						note(this, x);
						original.call(this, x, y);
					};
				}
			const brush = CanvasRenderingContext2D.prototype;
			const begin = brush.beginPath;
			brush.beginPath = function () {
				lines.delete(this);
				begin.call(this);
			};
			for (const name of ['stroke', 'fill', 'fillText'] as const) {
				const original = brush[name] as (...args: unknown[]) => void;
				Object.assign(brush, {
					[name](this: CanvasRenderingContext2D, ...args: unknown[]) {
						painted.lastMs = performance.now();
						if (this.canvas === document.querySelector('canvas')) painted.lastOfFirstMs = painted.lastMs;
						if (name === 'stroke') settle(args[0] instanceof Path2D ? args[0] : this);
						original.apply(this, args);
					}
				});
			}
		});
		const page = await openPage(context);
		await seed(page, {
			record: await recordOf(3, 'long'),
			from: 0,
			to: 1,
			newestMs: Date.UTC(2026, 8, 1, 18),
			everyDays: 1,
			athleteIds: ['bench'],
			hasSummary: true
		});
		const opened: Opening[] = [];
		for (let i = 0; i < repeats; i++) {
			await timeToShow(page, 'a[href="/sessions/"]', 'main li a');
			opened.push(await timeToPictures(page, 'main li a'));
		}
		const rests = await page.locator('figure button[aria-pressed]').count();
		const { points } = await paintedOf(page);
		const stepMs = await scriptPerStep(page);
		const { mostPerPixel } = await paintedOf(page);
		const row = atMostOf('Review');
		const trace = await bareCharts(context, [[points]]);
		const both = await bareCharts(context, [[points], Array.from({ length: rests }, () => pointsOfRest)]);
		const opening = (part: string, of: keyof Opening, floor: Opening, beside: string): Row => ({
			...row(
				`3 h with every RR interval opened, to the last stroke ${part}`,
				median(opened.map((one) => one[of])),
				1.5,
				'ms',
				`the floor is ${beside}`
			),
			floor: floor[of]
		});
		return [
			opening('of the trace', 'firstMs', trace, `a bare chart of ${points} points`),
			opening(
				'of all pictures',
				'lastMs',
				both,
				`that and a bare chart of ${rests} lines of ${pointsOfRest} points`
			),
			row('script for a step of zoom or pan', stepMs, 8, 'ms'),
			row('points drawn for a pixel of width', mostPerPixel || NaN, 2, '')
		];
	});
}

const paintedOf = (page: Page) => page.evaluate(() => (window as unknown as { painted: Painted }).painted);

/**
 * A page of the same framework that draws charts, and nothing else.
 *
 * @param charts so many points in each line of each
 */
async function bareCharts(context: BrowserContext, charts: number[][]): Promise<Opening> {
	const page = await context.newPage();
	await page.goto(await floorAddress());
	await page.evaluate((charts) => sessionStorage.setItem('charts', JSON.stringify(charts)), charts);
	const opened: Opening[] = [];
	for (let i = 0; i < repeats; i++) {
		await timeToShow(page, 'a[href="/"]', 'main h1');
		opened.push(await timeToPictures(page, 'a[href="/chart/"]'));
	}
	await page.close();
	return {
		firstMs: median(opened.map(({ firstMs }) => firstMs)),
		lastMs: median(opened.map(({ lastMs }) => lastMs))
	};
}

/** From a press to the last stroke on the first picture, and on any of them. */
interface Opening {
	firstMs: number;
	lastMs: number;
}

function timeToPictures(page: Page, link: string): Promise<Opening> {
	return page.evaluate(
		async ({ link, quietMs }) => {
			const { painted } = window as unknown as { painted: Painted };
			const startMs = performance.now();
			painted.lastMs = 0;
			document.querySelector<HTMLElement>(link)!.click();
			while (painted.lastMs === 0 || performance.now() - painted.lastMs < quietMs)
				await new Promise((resolve) => setTimeout(resolve, 20));
			return { firstMs: painted.lastOfFirstMs - startMs, lastMs: painted.lastMs - startMs };
		},
		{ link, quietMs }
	);
}

/** Time on the processor, script alone, for a key that zooms or moves the trace. */
async function scriptPerStep(page: Page): Promise<number> {
	const devtools = await page.context().newCDPSession(page);
	await devtools.send('Performance.enable', { timeDomain: 'threadTicks' });
	const scriptS = async () => {
		const { metrics } = await devtools.send('Performance.getMetrics');
		return metrics.find(({ name }) => name === 'ScriptDuration')!.value;
	};
	const walk = (count: number) =>
		page.evaluate(async (count) => {
			const plot = document.querySelector<HTMLElement>('[aria-label="Heart-rate trace"]')!;
			const keys = ['+', 'ArrowRight', '+', 'ArrowLeft', '-', 'ArrowRight', '-', '+'];
			for (let i = 0; i < count; i++) {
				plot.dispatchEvent(new KeyboardEvent('keydown', { key: keys[i % keys.length]!, bubbles: true }));
				await new Promise(requestAnimationFrame);
			}
		}, count);
	await walk(8);
	const beforeS = await scriptS();
	await walk(steps);
	return ((await scriptS()) - beforeS) * (1000 / steps);
}
