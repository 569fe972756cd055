import { expect, test } from '../fixtures';
import {
	hide,
	launchHiding,
	offerStrap,
	press,
	startPractice,
	waitForSettings,
	withStrap
} from '../hidden-browser';
import { savedIn } from '../saved';

const plan = {
	name: 'Behind another tab',
	activity: 'bag',
	roundCount: 2,
	roundS: 30,
	restS: 30,
	warmUpS: 0,
	getReadyS: 3,
	coolDownS: 0,
	endWarningS: 10,
	startWarningS: 10
};
const roundMs = plan.roundS * 1000;
const restMs = plan.restS * 1000;
const getReadyMs = plan.getReadyS * 1000;
/** The minute that is measured after the final bell. */
const lastMs = 60_000;

test('a session in a hidden tab that is seldom woken loses no packet, and its rounds and rests are as long as ever', async ({
	baseURL
}) => {
	// The last bell is heeded when the tab is woken next.
	test.setTimeout(600_000);
	const { args = [] } = test.info().project.use.launchOptions ?? {};
	const browser = await launchHiding([
		...args,
		// A tab that has been silent for a while is woken once a minute, one that sounds once a second: either is right here,
		// and tests/session/woken-late.test.ts has the minute for certain. Without this Chromium takes five to come to it.
		'--intensive-wake-up-throttling-policy=force-enable'
	]);
	try {
		const errors: string[] = [];
		const page = await browser.newPage();
		page.on('console', (message) => message.type() === 'error' && errors.push(message.text()));
		page.on('pageerror', (error) => errors.push(String(error)));
		await startPractice(page, baseURL ?? '', plan);
		await page.evaluate(() => {
			const wakes: number[] = [];
			Object.assign(window, { wakes });
			const wake = () => {
				wakes.push(performance.now());
				setTimeout(wake, 500);
			};
			wake();
		});
		await hide(page);
		const where = () => page.evaluate(() => location.pathname);
		await expect.poll(where, { timeout: 300_000, intervals: [5000] }).toBe('/review/');
		const { isHidden, longestMs } = await page.evaluate(() => {
			const { wakes } = window as unknown as { wakes: number[] };
			return {
				isHidden: document.visibilityState === 'hidden',
				longestMs: Math.max(...wakes.slice(1).map((ms, i) => ms - wakes[i]!))
			};
		});
		expect(isHidden, 'the tab was hidden until its session had ended').toBe(true);
		expect(longestMs, 'the tab was throttled in earnest').toBeGreaterThan(900);

		const [kept] = await savedIn(page);
		const { head, packets, summary } = kept!;
		expect(head.endedMs).toBe(getReadyMs + 2 * roundMs + restMs + lastMs);
		expect(head.events).toEqual([]);
		const steps = packets.slice(1).map(({ ms }, i) => ms - packets[i]!.ms);
		// Stamps are whole milliseconds, so a second may be one of 999 or 1001.
		expect(
			steps.filter((ms) => Math.abs(ms - 1000) > 1),
			'gaps between packets'
		).toEqual([]);
		expect(packets.filter(({ ms }) => ms > 0)).toHaveLength(head.endedMs / 1000);
		expect(packets.at(-1)!.ms).toBeLessThanOrEqual(head.endedMs);

		const [first, second] = summary!.rounds;
		const restFromMs = getReadyMs + roundMs;
		expect(first).toMatchObject({ startMs: getReadyMs, endMs: restFromMs });
		expect(first!.rest).toMatchObject({ startMs: restFromMs, endMs: restFromMs + restMs });
		const bellMs = restFromMs + restMs + roundMs;
		expect(second).toMatchObject({ startMs: restFromMs + restMs, endMs: bellMs });
		expect(second!.rest).toMatchObject({ startMs: bellMs, endMs: bellMs + lastMs });
		// The measure takes a mean at either end; in so short a time the simulated heart moves by less than this.
		const rateAt = (ms: number) => packets.findLast((packet) => packet.ms <= ms)!.bpm;
		const fell = rateAt(bellMs) - rateAt(bellMs + lastMs);
		expect(fell).toBeGreaterThan(10);
		expect(Math.abs((second!.rest!.drop60 ?? NaN) - fell)).toBeLessThan(10);
		expect(errors).toEqual([]);
	} finally {
		await browser.close();
	}
});

test('a strap that is lost behind another tab is back within three seconds of being in reach, and its silence is noticed on time', async ({
	baseURL
}) => {
	const { args = [] } = test.info().project.use.launchOptions ?? {};
	const browser = await launchHiding([
		...args.filter((arg) => !arg.startsWith('--enable-features=')),
		'--intensive-wake-up-throttling-policy=force-enable',
		// Chromium waits five minutes before it wakes a hidden page but once a minute.
		'--enable-features=IntensiveWakeUpThrottling:grace_period_seconds/10'
	]);
	const listens = () => withStrap(page, (strap) => strap.send([0x06, 120]));
	const page = await browser.newPage();
	try {
		await offerStrap(page);
		await page.goto(baseURL ?? '');
		await waitForSettings(page);
		await press(page, 'Pair strap');
		await expect.poll(listens, 'the strap is connected').toBe(true);
		await hide(page);
		await page.evaluate(() => {
			const own = { lastMs: performance.now(), longestMs: 0 };
			Object.assign(window, { own });
			const wake = () => {
				own.longestMs = Math.max(own.longestMs, performance.now() - own.lastMs);
				own.lastMs = performance.now();
				setTimeout(wake, 100);
			};
			wake();
		});
		const throttledMs = () =>
			page.evaluate(() => {
				const { own } = window as unknown as { own: { lastMs: number; longestMs: number } };
				return Math.max(own.longestMs, performance.now() - own.lastMs);
			});
		await test.step("the page's own timers are held back for many seconds", async () => {
			// Only a timer that was set by a timer, five deep, is held back like that: the watch for silence, which looks every
			// ten seconds, needs a minute to come to it.
			await expect
				.poll(
					async () => {
						const isHeard = await listens();
						const isDeep = await page.evaluate(() => performance.now() > 75_000);
						return isHeard && isDeep && (await throttledMs());
					},
					{ timeout: 120_000, intervals: [1000] }
				)
				.toBeGreaterThan(15_000);
		});

		await test.step('silent on a link that is up', async () => {
			const silentMs = await page.evaluate(
				() =>
					new Promise<number>((resolve) => {
						const { bluetooth } = navigator;
						const startMs = performance.now();
						void bluetooth.requestDevice().then((device) => {
							const left = () => resolve(performance.now() - startMs);
							device.addEventListener('gattserverdisconnected', left, { once: true });
						});
					})
			);
			// The watch waits for ten seconds, and two more where it was woken late.
			expect(silentMs).toBeGreaterThan(8000);
			expect(silentMs).toBeLessThan(13_000);
		});
		await expect.poll(listens, 'the strap is connected again').toBe(true);

		await test.step('out of reach for twelve seconds', async () => {
			await withStrap(page, (strap) => {
				strap.isInReach = false;
				strap.drop();
			});
			const backAfterMs = page.evaluate(
				() =>
					new Promise<number>((resolve) => {
						const { played } = window as unknown as {
							played: { isInReach: boolean; send(bytes: number[]): boolean };
						};
						const worker = new Worker(
							URL.createObjectURL(new Blob(['setInterval(() => postMessage(0), 100)']))
						);
						const startMs = performance.now();
						worker.onmessage = () => {
							const sinceMs = performance.now() - startMs;
							played.isInReach = sinceMs > 12_000;
							if (!played.send([0x06, 121])) return;
							worker.terminate();
							resolve(sinceMs - 12_000);
						};
					})
			);
			expect(await backAfterMs).toBeLessThan(3000);
		});
		expect(await page.evaluate(() => document.visibilityState)).toBe('hidden');
	} finally {
		await browser.close();
	}
});
