import type { Browser, Page } from 'puppeteer-core';
import { cuesOf, type Cue } from '$lib/bell/cues';
import { defaultBellSettings } from '$lib/bell/settings';
import type { Amendment } from '$lib/rounds/amendment';
import type { Plan } from '$lib/rounds/plan';
import { timelineOf } from '$lib/rounds/timeline';
import type { RecordHead } from '$lib/session/record';
import { address, chromiumArgs, chromiumPath } from './page';
import { planOf } from './sessions';
import { tapSound, type Tapped } from './tap';
import type { Row } from './table';
import { hide, launchHiding, press, startPractice } from '../../e2e/hidden-browser';
import { savedIn } from '../../e2e/saved';

const shortPlan: Plan = { ...planOf(1), roundCount: 3, roundS: 25, restS: 20, getReadyS: 10 };
const fullPlan: Plan = { ...planOf(1), roundCount: 12, getReadyS: 15 };
/** An amendment that rings its own bell rings it at once: there is nothing ahead to be exact about. */
const atOnceMs = 500;
const sameStrokeMs = 250;

type Way = 'in front' | 'hidden' | 'amended';

/** Three sessions at the pace of life at the same time: in front, hidden behind another tab, and much amended. */
export async function bellRows({ full }: { full: boolean }): Promise<Row[]> {
	const plan = full ? fullPlan : shortPlan;
	const [front, hidden, amended] = await Promise.all([
		heardIn('in front', plan),
		heardIn('hidden', plan),
		heardIn('amended', shortPlan)
	]);
	const missed = [
		...front.missed,
		...hidden.missed.map((one) => `hidden: ${one}`),
		...amended.missed.map((one) => `amended: ${one}`)
	];
	const about = `${plan.roundCount} x ${plan.roundS} s`;
	const row = (name: string, measured: number, limit: number, unit: string, note?: string): Row => ({
		row: `Bell: ${name}`,
		measured,
		limit,
		kind: 'most',
		unit,
		...(note && { note })
	});
	const hiddenNote = `${about}, ${hidden.isHidden ? 'really hidden' : 'NOT hidden'}, a 100 ms timer came ${(hidden.ticks / 5).toFixed(1)} times a second`;
	return [
		row('worst onset against the timeline, in front', front.worstMs, 3, 'ms', about),
		row(
			'worst onset against the timeline, hidden tab',
			hidden.isHidden ? hidden.worstMs : NaN,
			3,
			'ms',
			hiddenNote
		),
		row("against the page's clock, first minute", Math.max(front.firstMs, hidden.firstMs), 20, 'ms'),
		row(
			`against the page's clock, ${full ? 'minute 47' : 'last minute'}`,
			Math.max(front.lastMs, hidden.lastMs),
			20,
			'ms'
		),
		row(
			'missed',
			missed.length,
			0,
			'',
			['pause, resume, skip and an added round among them', ...missed].join('; ')
		),
		row(
			'doubled',
			front.doubled + hidden.doubled + amended.doubled,
			0,
			'',
			`of ${front.count + hidden.count + amended.count} strokes`
		)
	];
}

async function heardIn(way: Way, plan: Plan) {
	const browser = await launchHiding(chromiumPath(), chromiumArgs);
	try {
		return await lived(browser, way, plan);
	} finally {
		await browser.close();
	}
}

async function lived(browser: Browser, way: Way, plan: Plan) {
	const page = await browser.newPage();
	// The recorder comes from a blob, which the page's own policy refuses.
	await page.setBypassCSP(true);
	await page.evaluateOnNewDocument(tapSound);
	await startPractice(page, address, plan);
	if (way === 'hidden') await hide(page);
	const lastBellMs = timelineOf(plan).findLast(({ kind }) => kind === 'work')!.endMs;
	if (way === 'amended') await amend(page, plan);
	else await wait(lastBellMs + 5000);
	const { ticks } = await tappedIn(page);
	await page.bringToFront();
	await press(page, 'Finish');
	await page.waitForFunction(() => location.pathname === '/review/');
	const { amendments, endedMs } = (await savedIn(page))[0]!.head;
	return {
		...judge({ plan, amendments: amendments as Amendment[], endedMs }, await tappedIn(page)),
		isHidden: ticks.isHidden,
		ticks: ticks.count
	};
}

/** Pauses in the first round, skips out of it, adds a round, and pauses again in a rest; then to the end. */
async function amend(page: Page, plan: Plan) {
	await wait(plan.getReadyS * 1000 + 6000);
	await press(page, 'Pause');
	await wait(7300);
	await press(page, 'Resume');
	await wait(2700);
	await press(page, 'Next');
	await wait(4100);
	await press(page, 'Pause');
	await wait(2600);
	await press(page, 'Resume');
	await wait(1200);
	await press(page, 'One more round');
	const restMs = plan.restS * 1000;
	const roundMs = plan.roundS * 1000;
	await wait(plan.roundCount * (roundMs + restMs) + 3000);
}

/** Puts onsets beside what the final timeline rings. */
function judge(head: Pick<RecordHead, 'plan' | 'amendments' | 'endedMs'>, tapped: Tapped) {
	const timeline = timelineOf(head.plan, head.amendments);
	const due = cuesOf(timeline, { ...head.plan, on: { ...defaultBellSettings.on, pulse: false } }).filter(
		({ atMs }) => atMs < head.endedMs
	);
	const heard = tapped.onsets.map((sample) => {
		const atS = sample / tapped.sampleRate;
		return { atS, elapsedMs: pageMsOf(atS, nearest(tapped.pairs, atS)) - tapped.originMs };
	});
	const errors: number[] = [];
	const clockErrors: { atMs: number; errorMs: number }[] = [];
	const missed: string[] = [];
	const taken = new Set<number>();
	for (const cue of due) {
		const at = heard.findIndex(
			(one, i) => !taken.has(i) && Math.abs(one.elapsedMs - cue.atMs) < sameStrokeMs
		);
		const onset = heard[at];
		if (!onset) {
			// How far off the nearest stroke was tells a sound that came late from one that never came.
			const offMs = Math.min(...heard.map(({ elapsedMs }) => Math.abs(elapsedMs - cue.atMs)));
			missed.push(`${cue.sound} at ${(cue.atMs / 1000).toFixed(1)} s, ${offMs.toFixed(0)} ms off`);
			continue;
		}
		taken.add(at);
		if (isAtOnce(cue, head)) continue;
		clockErrors.push({ atMs: cue.atMs, errorMs: Math.abs(onset.elapsedMs - cue.atMs) });
		// The reading of the clocks that its start was reckoned with: what was made up for then.
		const start = tapped.starts.findLast(({ atS }) => Math.abs(atS - onset.atS) < 0.02);
		const expectedS =
			start && start.contextTimeS + (tapped.originMs + cue.atMs - start.performanceTimeMs) / 1000;
		errors.push(expectedS === undefined ? NaN : Math.abs(onset.atS - expectedS) * 1000);
	}
	const lastMs = clockErrors.at(-1)?.atMs ?? 0;
	const worst = (from: number, to: number) =>
		Math.max(...clockErrors.filter(({ atMs }) => atMs >= from && atMs <= to).map(({ errorMs }) => errorMs));
	return {
		worstMs: Math.max(...errors),
		firstMs: worst(0, 60_000),
		lastMs: worst(lastMs - 60_000, lastMs),
		missed,
		doubled: heard.length - taken.size,
		count: heard.length
	};
}

function isAtOnce(cue: Cue, { amendments }: Pick<RecordHead, 'amendments'>): boolean {
	return amendments.some(({ atMs }) => cue.atMs >= atMs && cue.atMs - atMs < atOnceMs);
}

function nearest(pairs: Tapped['pairs'], atS: number): Tapped['pairs'][number] {
	return pairs.reduce((best, pair) =>
		Math.abs(pair.contextTimeS - atS) < Math.abs(best.contextTimeS - atS) ? pair : best
	);
}

function pageMsOf(atS: number, pair: Tapped['pairs'][number]): number {
	return pair.performanceTimeMs + (atS - pair.contextTimeS) * 1000;
}

const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
const tappedIn = (page: Page) => page.evaluate(() => (window as unknown as { tapped: Tapped }).tapped);
