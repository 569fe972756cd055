import type { Browser, Page } from 'puppeteer-core';
import { cuesOf } from '$lib/bell/cues';
import { defaultBellSettings } from '$lib/bell/settings';
import type { Plan } from '$lib/rounds/plan';
import { timelineOf } from '$lib/rounds/timeline';
import type { RecordHead } from '$lib/record/head';
import { address, chromiumArgs } from './page';
import { planOf } from './sessions';
import { judge, missedAlone, worst } from './strokes';
import { firstControlS, tapSound, type Tapped } from './tap';
import type { Row } from './table';
import { hide, hold, launchHiding, press, startPractice } from '../../e2e/hidden-browser';
import { savedIn } from '../../e2e/saved';

const shortPlan: Plan = { ...planOf(1), roundCount: 3, roundS: 25, restS: 20, getReadyS: 10 };
const fullPlan: Plan = { ...planOf(1), roundCount: 12, getReadyS: 15 };
/**
 * How much more than the control strokes of the same session. On a busy machine each output loses buffers of 10 ms of its
 * own, which a stroke that is about to sound cannot follow.
 */
const mostOverControlMs = { onset: 1, clock: 20 };

type Way = 'in front' | 'hidden' | 'amended';

/** Three sessions at the pace of life at the same time: in front, hidden behind another tab, and much amended. */
export async function bellRows({ full }: { full: boolean }): Promise<Row[]> {
	const plan = full ? fullPlan : shortPlan;
	const [front, hidden, amended] = await Promise.all([
		heardIn('in front', plan),
		heardIn('hidden', plan),
		heardIn('amended', shortPlan)
	]);
	const about = `${plan.roundCount} x ${plan.roundS} s`;
	const hiddenNote = `${about}, ${hidden.isHidden ? 'really hidden' : 'NOT hidden'}, a 100 ms timer came ${(hidden.ticks / 5).toFixed(1)} times a second`;
	const row = (name: string, measured: number, limit: number, rest: Partial<Row> = {}): Row => ({
		row: `Bell: ${name}`,
		measured,
		limit,
		kind: 'most',
		unit: '',
		...rest
	});
	type Heard = typeof front;
	const onsets = (name: string, way: Heard, note: string) =>
		row(`worst onset against the timeline, ${name}`, worst(way.ours, 'onsetMs'), mostOverControlMs.onset, {
			control: worst(way.control, 'onsetMs'),
			unit: 'ms',
			note
		});
	const clock = (name: string, way: Heard, ofMs: { fromMs?: number; toMs?: number }) =>
		row(`against the page's clock, ${name}`, worst(way.ours, 'clockMs', ofMs), mostOverControlMs.clock, {
			control: worst(way.control, 'clockMs', ofMs),
			unit: 'ms'
		});
	const firstMinute = { toMs: 60_000 };
	const lastMinute = { fromMs: front.lastMs - 60_000 };
	const lastName = full ? 'minute 47' : 'last minute';
	const ways = { 'in front': front, hidden, amended };
	const missed = Object.entries(ways).flatMap(([name, way]) =>
		way.ours.missed.map((stroke) => ({
			isOurs: missedAlone(way.ours, way.control).includes(stroke),
			words: `${name}: ${stroke.name} at ${(stroke.atMs / 1000).toFixed(1)} s, the nearest ${stroke.nearestMs.toFixed(0)} ms off`
		}))
	);
	const total = (of: (way: Heard) => number) => of(front) + of(hidden) + of(amended);
	return [
		onsets('in front', front, about),
		onsets('hidden tab', hidden, hiddenNote),
		clock('first minute, in front', front, firstMinute),
		clock('first minute, hidden tab', hidden, firstMinute),
		clock(`${lastName}, in front`, front, lastMinute),
		clock(`${lastName}, hidden tab`, hidden, lastMinute),
		row('missed where the control was heard', missed.filter(({ isOurs }) => isOurs).length, 0, {
			note: [
				'pause, resume, skip and an added round among them',
				`missed by the control: ${total(({ control }) => control.missed.length)} of ${total(({ control }) => control.missed.length + control.errors.length)}`,
				...missed.map(({ isOurs, words }) => (isOurs ? words : `${words}, and so was the control`))
			].join('; ')
		}),
		row(
			'doubled',
			total(({ ours }) => ours.doubled),
			0,
			{ note: `of ${total(({ ours }) => ours.count)} strokes` }
		),
		row('hidden tab was hidden', hidden.isHidden ? 1 : 0, 1, { kind: 'least' })
	];
}

async function heardIn(way: Way, plan: Plan) {
	const browser = await launchHiding(chromiumArgs);
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
	await page.evaluateOnNewDocument(tapSound, firstControlS);
	await startPractice(page, address, plan);
	if (way === 'hidden') await hide(page);
	const lastBellMs = timelineOf(plan).findLast(({ kind }) => kind === 'work')!.endMs;
	if (way === 'amended') await amend(page, plan);
	else await wait(lastBellMs + 5000);
	const { ticks } = await tappedIn(page);
	await page.bringToFront();
	await hold(page, 'Finish hold');
	await page.waitForFunction(() => location.pathname === '/review/');
	const { head } = (await savedIn(page))[0]!;
	return {
		...heardBeside(head as RecordHead, await tappedIn(page)),
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
	await press(page, 'More');
	await press(page, 'One more round');
	const restMs = plan.restS * 1000;
	const roundMs = plan.roundS * 1000;
	await wait(plan.roundCount * (roundMs + restMs) + 3000);
}

/** Puts what was heard beside what the final timeline rings, and beside the control strokes as far as that goes. */
function heardBeside({ plan, amendments, endedMs }: RecordHead, { ours, control, originMs }: Tapped) {
	const timeline = timelineOf(plan, amendments);
	const due = cuesOf(timeline, { ...plan, on: { ...defaultBellSettings.on, pulse: false } })
		.filter(({ atMs }) => atMs < endedMs)
		.map(({ sound, atMs }) => ({ name: sound, atMs }));
	const lastMs = due.at(-1)?.atMs ?? 0;
	const seconds = Array.from({ length: Math.floor(lastMs / 1000) + 1 }, (_, second) => ({
		name: 'control',
		atMs: second * 1000
	})).slice(firstControlS);
	return { ours: judge(due, ours, originMs), control: judge(seconds, control, originMs), lastMs };
}

const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
const tappedIn = (page: Page) => page.evaluate(() => (window as unknown as { tapped: Tapped }).tapped);
