import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Cue } from '$lib/bell/cues';
import type { Sound } from '$lib/bell/sound';
import type { Ringer } from '$lib/bell/ringer';
import { defaultBellSettings } from '$lib/bell/settings';
import { LiveSession } from '$lib/session/live-session.svelte';
import { spokenDrop } from '$lib/session/spoken';
import { summaryOf } from '$lib/review/summary';
import { athlete, makeSink, makeStart, shortPlan } from './builders';

function fakeRinger() {
	const heard = { cues: [] as readonly Cue[], plans: 0, rung: [] as Sound[], topUps: 0, prepared: 0 };
	const ringer: Ringer = {
		state: 'ready',
		prepare: () => void heard.prepared++,
		wake: () => Promise.resolve(),
		schedule: (cues) => {
			heard.cues = cues;
			heard.plans++;
		},
		topUp: () => void heard.topUps++,
		ring: (sound) => void heard.rung.push(sound),
		configure: () => {},
		onChange: () => () => {},
		close: () => {}
	};
	return { ringer, heard };
}

const startedAt = Date.parse('2026-03-02T18:00:00.000Z');

async function setUp() {
	const { ringer, heard } = fakeRinger();
	const sink = makeSink();
	let ids = 0;
	const counts = { shown: 0, asked: 0 };
	const live = new LiveSession({
		fetchOutside: () => Promise.resolve({ ringer, openSink: () => sink.sink }),
		tabs: { show: () => void counts.shown++, giveBack: () => {} },
		newId: () => `id-${++ids}`,
		wallNowMs: () => {
			counts.asked++;
			return Date.now();
		}
	});
	await live.load();
	return { live, heard, sink, counts };
}
async function begin(speed: number) {
	const parts = await setUp();
	await parts.live.straps.practise(speed);
	parts.live.begin(shortPlan, [athlete], defaultBellSettings);
	return parts;
}

beforeEach(() => void vi.useFakeTimers({ now: startedAt }));
afterEach(() => void vi.useRealTimers());

describe('a live session', () => {
	it('runs from Start through every phase to the kept record, by itself', async () => {
		const { live, sink } = await begin(1);
		expect(live.running!.view?.phase?.kind).toBe('get ready');
		await vi.advanceTimersByTimeAsync(11_000);
		expect(live.running!.view?.phase).toMatchObject({ kind: 'work', round: 1 });
		await vi.advanceTimersByTimeAsync(60_000);
		expect(live.running!.view?.phase).toMatchObject({ kind: 'rest', round: 1 });
		await vi.advanceTimersByTimeAsync(180_000);
		expect(live.stage).toBe('kept');
		expect(sink.kept?.[0]?.head).toMatchObject({
			startedAt: '2026-03-02T18:00:00.000Z',
			practice: true,
			endedMs: 250_000
		});
	});

	it('counts from the press, but sped up from where it begins: nobody stood through what was fetched', async () => {
		for (const [speed, remainingMs] of [
			[1, 8000],
			[60, 10_000]
		] as const) {
			const { live } = await setUp();
			await live.straps.practise(speed);
			const pressedMs = live.straps.clock.nowMs();
			await vi.advanceTimersByTimeAsync(2000);
			live.begin(shortPlan, [athlete], defaultBellSettings, pressedMs);
			expect(live.running!.view).toMatchObject({ phase: { kind: 'get ready' }, remainingMs });
		}
	});

	it('plans the bells of the timeline, and plans them anew when it changes', async () => {
		const { live, heard } = await begin(1);
		expect(heard.cues.filter(({ sound }) => sound === 'round start').map(({ atMs }) => atMs)).toEqual([
			10_000, 130_000
		]);
		await vi.advanceTimersByTimeAsync(20_000);
		live.running!.press('pause');
		expect(heard.cues.every(({ atMs }) => atMs <= 20_000)).toBe(true);
		await vi.advanceTimersByTimeAsync(5000);
		live.running!.press('resume');
		expect(heard.cues.filter(({ sound }) => sound === 'round start').map(({ atMs }) => atMs)).toEqual([
			10_000, 135_000
		]);
	});

	it('has the bell looked after once a second, and not by every packet besides', async () => {
		const { live, heard } = await begin(1);
		await vi.advanceTimersByTimeAsync(20_500);
		const packets = () => live.straps.seat!.readings.length;
		const before = { packets: packets(), topUps: heard.topUps };
		await vi.advanceTimersByTimeAsync(10_000);
		expect(packets() - before.packets).toBeGreaterThanOrEqual(9);
		expect(heard.topUps - before.topUps).toBe(10);
	});

	it('looks once at each packet, wake and press, and asks once whether the computer slept', async () => {
		const { live, counts } = await setUp();
		await live.straps.practise(1);
		// So that no packet comes at the very moment of a wake.
		await vi.advanceTimersByTimeAsync(400);
		live.begin(shortPlan, [athlete], defaultBellSettings);
		await vi.advanceTimersByTimeAsync(20_300);
		let packets = 0;
		live.straps.seat!.strap.onReading(() => void packets++);
		const before = { ...counts };
		await vi.advanceTimersByTimeAsync(10_000);
		const wakes = 10;
		expect(packets).toBeGreaterThanOrEqual(9);
		expect(counts.shown - before.shown).toBe(packets + wakes);
		expect(counts.asked - before.asked).toBe(packets + wakes);
		live.running!.press('pause');
		expect(counts.shown - before.shown).toBe(packets + wakes + 1);
		expect(counts.asked - before.asked).toBe(packets + wakes + 1);
	});

	it('stands paused after a sleep, shows that once, and plans its bells anew once', async () => {
		const { live, heard, counts } = await setUp();
		live.goOn(makeStart(), [{ kind: 'start', start: makeStart() }], defaultBellSettings);
		await vi.advanceTimersByTimeAsync(20_000);
		const before = { ...heard, ...counts };
		vi.setSystemTime(Date.now() + 600_000);
		await vi.advanceTimersByTimeAsync(1000);
		expect(live.running!.view).toMatchObject({ isPaused: true, sleptMs: 600_000 });
		expect(counts.shown - before.shown).toBe(1);
		expect(heard.plans - before.plans).toBe(1);
		expect(heard.cues.every(({ atMs }) => atMs <= 20_000)).toBe(true);
	});

	it('has the sounds made before Start where a strap is on', async () => {
		const { live, heard } = await setUp();
		expect(heard.prepared).toBe(0);
		await live.prepare();
		expect(heard.prepared).toBe(1);
	});

	it('is silent where it runs faster than life, and lasts as much less', async () => {
		const { live, heard } = await begin(60);
		await vi.advanceTimersByTimeAsync(2000);
		expect(live.running!.view?.elapsedMs).toBeGreaterThan(104_000);
		expect(live.running!.view?.elapsedMs).toBeLessThanOrEqual(120_000);
		await vi.advanceTimersByTimeAsync(2500);
		expect(live.stage).toBe('kept');
		expect(heard.cues).toEqual([]);
		expect(heard.rung).toEqual([]);
	});

	it('shows four moments a second of a fast clock, but a new phase and what is pressed at once', async () => {
		const { live, counts } = await begin(60);
		const shown = async (ms: number) => {
			const before = counts.shown;
			await vi.advanceTimersByTimeAsync(ms);
			return counts.shown - before;
		};
		// Ten seconds to get ready.
		await shown(140);
		expect(live.running!.view?.phase?.kind).toBe('get ready');
		expect(await shown(30)).toBe(1);
		expect(live.running!.view?.phase?.kind).toBe('work');
		expect(await shown(800)).toBe(3);
		live.running!.press('pause');
		expect(live.running!.view?.isPaused).toBe(true);
	});

	it('ends a rest by heart by itself: whistle at second 20, bell at 30, and nothing rings twice', async () => {
		const { live, heard, sink } = await setUp();
		await live.straps.practise(1);
		// The simulated heart never beats over three quarters of 260: it is down as soon as that is looked at.
		const plan = { ...shortPlan, restS: 120, restDownToPercent: 75 };
		live.begin(plan, [{ ...athlete, thresholdBpm: 260 }], defaultBellSettings);
		await vi.advanceTimersByTimeAsync(89_000);
		expect(live.running!.view?.byHeart).toMatchObject({ isDown: false });
		await vi.advanceTimersByTimeAsync(2500);
		expect(live.running!.view?.byHeart).toMatchObject({ isDown: true, settled: 'by heart' });
		const [over] = sink.entries.flatMap((entry) => (entry.kind === 'amendment' ? entry.amendment : []));
		expect(over!.kind).toBe('rest over');
		expect(over!.atMs).toBeGreaterThanOrEqual(90_000);
		expect(over!.atMs).toBeLessThan(91_500);
		const due = (sound: Sound) => heard.cues.filter((cue) => cue.sound === sound).map(({ atMs }) => atMs);
		expect(due('whistle').filter((ms) => ms > 70_000)).toEqual([over!.atMs]);
		expect(due('round start')[1]).toBe(over!.atMs + 10_000);
		await vi.advanceTimersByTimeAsync(12_000);
		expect(live.running!.view?.phase).toMatchObject({ kind: 'work', round: 2 });
		expect(sink.entries.filter(({ kind }) => kind === 'amendment')).toHaveLength(1);
	});

	it('lets the longest rest decide where the heart stays up', async () => {
		const { live } = await setUp();
		await live.straps.practise(1);
		const plan = { ...shortPlan, restS: 40, restDownToPercent: 75 };
		live.begin(plan, [{ ...athlete, thresholdBpm: 80 }], defaultBellSettings);
		await vi.advanceTimersByTimeAsync(109_500);
		expect(live.running!.view?.phase?.kind).toBe('rest');
		await vi.advanceTimersByTimeAsync(1000);
		expect(live.running!.view?.phase?.kind).toBe('work');
	});

	it("is silent at the gym's own bell, and takes each press for one, a double click for one only", async () => {
		const { live, heard, sink } = await setUp();
		await live.straps.practise(1);
		live.begin(
			{ ...shortPlan, followsGymBell: true },
			[{ ...athlete, thresholdBpm: 40 }],
			defaultBellSettings
		);
		await vi.advanceTimersByTimeAsync(30_000);
		expect(live.running!.view).toMatchObject({
			phase: { kind: 'get ready' },
			canDiscard: true,
			roundCount: undefined
		});
		expect(live.running!.followBell()).toBe(true);
		await vi.advanceTimersByTimeAsync(300);
		expect(live.running!.followBell()).toBe(false);
		await vi.advanceTimersByTimeAsync(59_700);
		expect(live.running!.view).toMatchObject({ phase: { kind: 'work', round: 1 }, ranMs: 60_000 });
		live.running!.press('pause');
		await vi.advanceTimersByTimeAsync(5000);
		// The bell goes before a stop that nobody ended.
		expect(live.running!.followBell()).toBe(true);
		await vi.advanceTimersByTimeAsync(61_000);
		expect(live.running!.view).toMatchObject({
			phase: { kind: 'rest', round: 1 },
			isPaused: false,
			ranMs: 61_000
		});
		expect(live.running!.followBell()).toBe(true);
		expect(live.running!.view).toMatchObject({ phase: { kind: 'work', round: 2 } });
		const pressed = sink.entries.flatMap((entry) => (entry.kind === 'amendment' ? entry.amendment.kind : []));
		expect(pressed).toEqual(['next', 'pause', 'resume', 'next']);
		expect(heard.cues).toEqual([]);
		expect(heard.rung).toEqual([]);

		live.running!.press('finish');
		await vi.advanceTimersByTimeAsync(61_000);
		expect(live.stage).toBe('kept');
		expect(sink.kept![0]!.head.plan.followsGymBell).toBe(true);
		const [first] = summaryOf(sink.kept![0]!).rounds;
		// The rest between the presses, with its drop; no burst where nobody knew when the round would end.
		expect(first!.rest).toMatchObject({ startMs: 95_000, endMs: 156_000, kind: 'rest' });
		expect(first!.rest!.drop60).toBeGreaterThan(0);
		expect(first!.over!.burstOverS).toBe(0);
		expect(first!.over!.overS).toBeGreaterThan(40);
	});

	it('stands still in a pause while the heart goes on being read', async () => {
		const { live } = await begin(1);
		await vi.advanceTimersByTimeAsync(20_000);
		live.running!.press('pause');
		const left = live.running!.view!.remainingMs;
		await vi.advanceTimersByTimeAsync(9000);
		expect(live.running!.view).toMatchObject({ isPaused: true, remainingMs: left });
		expect(live.running!.view!.corners[0]!.signal.bpm).toBeGreaterThan(30);
	});

	it('rings the pulse after five seconds over the threshold', async () => {
		const { live, heard } = await setUp();
		await live.straps.practise(1);
		live.begin(shortPlan, [{ ...athlete, thresholdBpm: 60 }], defaultBellSettings);
		await vi.advanceTimersByTimeAsync(14_500);
		expect(heard.rung).toEqual([]);
		await vi.advanceTimersByTimeAsync(1000);
		expect(heard.rung).toEqual(['pulse']);
	});

	it('keeps its strap and its clock while it runs, whatever is pressed on another screen', async () => {
		const { live } = await begin(1);
		await vi.advanceTimersByTimeAsync(12_000);
		live.straps.leave();
		await live.straps.practise(60);
		await live.straps.pair(false);
		await vi.advanceTimersByTimeAsync(5000);
		expect(live.straps.speed).toBe(1);
		expect(live.running!.view!.elapsedMs).toBeCloseTo(17_000, -3);
		expect(live.running!.view!.corners[0]!.signal.bpm).toBeGreaterThan(30);
	});

	it('lasts as long as planned through the hour that daylight saving takes away or gives back', async () => {
		const zone = process.env.TZ;
		// Central European Time, 2026: one o'clock UTC on the last Sundays of March and October.
		process.env.TZ = 'Europe/Madrid';
		try {
			for (const change of ['2026-03-29T01:00:00.000Z', '2026-10-25T01:00:00.000Z']) {
				vi.setSystemTime(Date.parse(change) - 30_000);
				const hourBefore = new Date().getHours();
				const { live, sink } = await begin(1);
				await vi.advanceTimersByTimeAsync(60_000);
				expect(new Date().getHours() - hourBefore).not.toBe(1);
				expect(live.running!.view).toMatchObject({ isPaused: false, sleptMs: undefined });
				expect(live.running!.view!.elapsedMs).toBeCloseTo(60_000, -3);
				await vi.advanceTimersByTimeAsync(200_000);
				expect(live.stage).toBe('kept');
				expect(sink.kept?.[0]?.head).toMatchObject({ endedMs: 250_000, zone: 'Europe/Madrid', events: [] });
			}
		} finally {
			if (zone === undefined) delete process.env.TZ;
			else process.env.TZ = zone;
		}
	});

	it('keeps nothing of a false start', async () => {
		const { live, sink } = await begin(1);
		await vi.advanceTimersByTimeAsync(12_000);
		await live.discard();
		expect(sink).toMatchObject({ discarded: true, kept: undefined });
		expect(live.stage).toBe('setting up');
	});

	it('goes on with an unfinished session: time has run on, and after more than a minute it begins paused', async () => {
		const first = await setUp();
		await first.live.straps.practise(1);
		first.live.begin(shortPlan, [athlete], defaultBellSettings);
		await vi.advanceTimersByTimeAsync(20_000);
		const history = first.sink.entries.map((entry) =>
			entry.kind === 'start'
				? {
						...entry,
						start: {
							...entry.start,
							corners: entry.start.corners.map((corner) => ({ ...corner, practice: false }))
						}
					}
				: entry
		);
		const start = history.flatMap((entry) => (entry.kind === 'start' ? entry.start : []))[0]!;

		const soon = await setUp();
		await vi.advanceTimersByTimeAsync(15_000);
		soon.live.goOn(start, history, defaultBellSettings);
		expect(soon.live.running!.view).toMatchObject({ isPaused: false });
		expect(soon.live.running!.view!.elapsedMs).toBeCloseTo(35_000, -3);
		expect(soon.live.running!.view!.corners[0]!.signal).toMatchObject({ words: 'no strap' });

		const late = await setUp();
		await vi.advanceTimersByTimeAsync(120_000);
		late.live.goOn(start, history, defaultBellSettings);
		expect(late.live.running!.view).toMatchObject({ isPaused: true, phase: { kind: 'work', round: 1 } });
	});

	it('goes on with a real session at the pace of life, at whatever speed practice was tried before', async () => {
		const again = await setUp();
		await again.live.straps.practise(60);
		again.live.goOn(makeStart(), [{ kind: 'start', start: makeStart() }], defaultBellSettings);
		expect(again.live.straps.speed).toBe(1);
		await vi.advanceTimersByTimeAsync(3000);
		expect(again.live.running!.view!.elapsedMs).toBeCloseTo(3000, -3);
	});

	it('lets no real strap into a practice at speed', async () => {
		const { live } = await begin(12);
		expect(await live.running!.corners.join({ ...athlete, athleteId: 'other' }, false)).toBe(false);
		// It was not even looked for.
		expect(live.running!.corners.problem).toBeUndefined();
		expect(live.running!.view!.corners).toHaveLength(1);
	});

	it('shows the drop of the closing minute whole at its very end, to be told aloud', async () => {
		const { live } = await begin(1);
		await vi.advanceTimersByTimeAsync(251_000);
		expect(live.stage).toBe('kept');
		const { rest } = live.running!.view!.corners[0]!;
		expect(rest).toMatchObject({ round: 2, atS: 60 });
		expect(spokenDrop(rest!)).toMatch(/^(Down|Up) \d+\. Rate \d+\./);
	});

	it('goes on with two corners as the session had them, whoever stood in the first one until then', async () => {
		const first = await setUp();
		await first.live.straps.practise(1);
		await first.live.roster.add('other').strap.practise(1);
		first.live.begin(
			shortPlan,
			[athlete, { ...athlete, athleteId: 'other', name: 'Other' }],
			defaultBellSettings
		);
		await vi.advanceTimersByTimeAsync(5000);
		const history = first.sink.entries;
		const start = history.flatMap((entry) => (entry.kind === 'start' ? entry.start : []))[0]!;

		const again = await setUp();
		again.live.roster.putUp(['other', 'third']);
		again.live.goOn(start, history, defaultBellSettings);
		expect(again.live.roster.idsOf('third')).toEqual([athlete.athleteId, 'other']);
	});

	it('has the records in hand where the store refuses them', async () => {
		const { live, sink } = await begin(60);
		sink.failing = true;
		await vi.advanceTimersByTimeAsync(5000);
		expect(live.stage).toBe('not kept');
		expect(live.running!.records).toHaveLength(1);
		expect(live.running!.saveProblem).toBeInstanceOf(Error);
	});

	it('can try again to keep what the store refused, and holds it until that succeeds', async () => {
		const { live, sink } = await begin(60);
		sink.failing = true;
		await vi.advanceTimersByTimeAsync(5000);
		const [record] = live.running!.records;
		await live.running!.keepAgain();
		expect(live.stage).toBe('not kept');
		expect(live.running!.records).toEqual([record]);
		sink.failing = false;
		await live.running!.keepAgain();
		expect(live.stage).toBe('kept');
		expect(sink.kept).toEqual([record]);
	});
});
