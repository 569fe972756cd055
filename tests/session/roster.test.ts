import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { defaultBellSettings } from '$lib/bell/settings';
import { LiveSession } from '$lib/session/live-session.svelte';
import { whyCornersNotReady } from '$lib/session/readiness';
import type { Athlete } from '$lib/record/athlete';
import { Roster } from '$lib/session/roster.svelte';
import { wearersOf, withStrap } from '$lib/session/strap-memory';
import { makeSink, shortPlan } from './builders';
import { silentRinger } from './silent-ringer';

const someone = (id: string, strapName?: string): Athlete => ({
	id,
	name: id,
	...(strapName && { strapName })
});

const outside =
	({ sink }: ReturnType<typeof makeSink>) =>
	() =>
		Promise.resolve({ ringer: silentRinger, openSink: () => sink });

describe('straps that are remembered by their name', () => {
	const gym = [someone('Nerea', 'HR 12'), someone('Tomas', 'HR 12'), someone('Adem', 'HR 7'), someone('Bao')];

	it('name their wearer, or all who may be, and nobody who stands elsewhere', () => {
		expect(wearersOf('HR 7', gym, []).map(({ id }) => id)).toEqual(['Adem']);
		expect(wearersOf('HR 12', gym, []).map(({ id }) => id)).toEqual(['Nerea', 'Tomas']);
		expect(wearersOf('HR 12', gym, ['Nerea']).map(({ id }) => id)).toEqual(['Tomas']);
		expect(wearersOf('HR 99', gym, [])).toEqual([]);
	});

	it('are learnt from whoever wears them, the practice strap never', () => {
		expect(withStrap(gym[3]!, { strapName: 'HR 7', practice: false })).toEqual(someone('Bao', 'HR 7'));
		expect(withStrap(gym[2]!, { strapName: 'HR 7', practice: false })).toBeUndefined();
		expect(withStrap(gym[3]!, { strapName: 'Simulated strap', practice: true })).toBeUndefined();
	});
});

describe('the roster before the first bell', () => {
	const roster = () => new Roster(() => 0);

	it('is one corner, of whoever was chosen last, and takes thirty, eight of them with a strap', () => {
		const gym = roster();
		expect(gym.idsOf('Me')).toEqual(['Me']);
		for (let i = 0; i < 7; i++) gym.add(`athlete-${i}`);
		expect(gym.areStrapsOut).toBe(false);
		for (let i = 7; i < 29; i++) gym.add(`athlete-${i}`);
		expect(gym.isFull).toBe(true);
		expect(gym.areStrapsOut).toBe(true);
		for (const corner of gym.corners.slice(8)) gym.goBare(corner);
		expect(gym.areStrapsOut).toBe(false);
		expect(gym.idsOf('Me').at(-1)).toBe('athlete-28');
	});

	it('stands as it was put up the last time, and is one corner where that was one', () => {
		const gym = roster();
		gym.putUp(['Odalys']);
		expect(gym.idsOf('Me')).toEqual(['Me']);
		gym.putUp(['Odalys', 'Tomas', 'Me']);
		expect(gym.idsOf('Me')).toEqual(['Odalys', 'Tomas', 'Me']);
		expect(new Set(gym.corners.map(({ heart }) => heart)).size).toBe(3);
	});

	it('lets an athlete who is placed twice change places with whoever stood there', () => {
		const gym = roster();
		const second = gym.add('Odalys');
		gym.place(gym.first, 'Odalys', 'Me');
		expect(gym.idsOf('Me')).toEqual(['Odalys', 'Me']);
		gym.place(second, 'Tomas', 'Me');
		expect(gym.idsOf('Me')).toEqual(['Odalys', 'Tomas']);
	});

	it('says which corner is not ready, and why', () => {
		const ready = { athlete: someone('Me'), seat: { state: 'connected' as const } };
		const why = (second: Partial<typeof ready>) =>
			whyCornersNotReady(
				[
					{ ...ready, isBare: false },
					{ athlete: second.athlete, seat: second.seat, isBare: false }
				],
				{ ...shortPlan, activity: 'sparring' },
				'2026-03-02'
			);
		expect(why({})).toBe('Boxer 2: choose who boxes there.');
		expect(why({ athlete: ready.athlete })).toBe('Boxer 2: Me is in another row already.');
		expect(why({ athlete: someone('Bao') })).toContain('Boxer 2: pair a strap');
		const hurt = { ...someone('Bao'), noSparringUntil: '2026-04-01' };
		expect(why({ athlete: hurt, seat: ready.seat })).toBe(
			'Boxer 2: Restricted today. The athlete’s Details say why.'
		);
		expect(why({ athlete: someone('Bao'), seat: ready.seat })).toBeUndefined();
	});
});

describe('a running session of several corners', () => {
	beforeEach(() => void vi.useFakeTimers({ now: Date.parse('2026-03-02T18:00:00.000Z') }));
	afterEach(() => void vi.useRealTimers());

	async function begin(count: number) {
		const sink = makeSink();
		let ids = 0;
		const live = new LiveSession({ fetchOutside: outside(sink), newId: () => `id-${++ids}` });
		await live.load();
		for (let i = 1; i < count; i++) live.roster.add(`athlete-${i}`);
		for (const { strap } of live.roster.corners) await strap.practise('keep clock');
		const athletes = Array.from({ length: count }, (_, i) => ({ athleteId: `athlete-${i}`, name: `${i}` }));
		live.begin(shortPlan, athletes, defaultBellSettings);
		await vi.advanceTimersByTimeAsync(3000);
		return { live, sink };
	}
	const names = (live: LiveSession) => live.running!.view!.corners.map(({ name }) => name);

	it('keeps a record of everybody in one go', async () => {
		const { live, sink } = await begin(3);
		await vi.advanceTimersByTimeAsync(260_000);
		expect(live.stage).toBe('kept');
		expect(sink.kept).toHaveLength(3);
		expect(new Set(sink.kept!.map(({ head }) => head.groupId)).size).toBe(1);
		expect(new Set(sink.kept!.map(({ body }) => body.bpm.join())).size, 'no two hearts alike').toBe(3);
	});

	it('takes in who joins, lets go who leaves, and gives their strap back', async () => {
		const { live } = await begin(2);
		expect(await live.running!.corners.join({ athleteId: 'late', name: 'late' }, true)).toBe(true);
		expect(names(live)).toEqual(['0', '1', 'late']);
		await vi.advanceTimersByTimeAsync(3000);
		expect(live.running!.view!.corners[2]!.signal.bpm).toBeGreaterThan(30);
		const gone = live.roster.corners[1]!;
		live.running!.corners.leave(1);
		expect(names(live)).toEqual(['0', 'late']);
		expect(gone.strap.view).toBeUndefined();
		expect(live.roster.corners).toHaveLength(2);
		live.running!.corners.leave(0);
		live.running!.corners.leave(2);
		expect(names(live), 'the last one finishes instead').toEqual(['late']);
	});

	it('lets straps change hands, and athletes keep their corner', async () => {
		const { live } = await begin(2);
		const [one, two] = live.running!.view!.corners.map(({ strapName }) => strapName);
		live.running!.corners.swap(0, 1);
		expect(live.running!.view!.corners.map(({ strapName }) => strapName)).toEqual([two, one]);
		expect(names(live)).toEqual(['0', '1']);
		expect(live.roster.idsOf('?'), 'for the next bout the straps stay with their wearers').toEqual([
			'athlete-1',
			'athlete-0'
		]);
	});

	it('takes nobody into a guided measurement', async () => {
		const sink = makeSink();
		const live = new LiveSession({ fetchOutside: outside(sink) });
		await live.load();
		await live.straps.practise(1);
		live.begin({ ...shortPlan, kind: 'resting' }, [{ athleteId: 'a', name: 'a' }], defaultBellSettings);
		expect(await live.running!.corners.join({ athleteId: 'b', name: 'b' }, true)).toBe(false);
	});

	it('runs every practice strap at the pace that is chosen, and gives real ones no other than that of life', async () => {
		const { roster } = (await begin(1)).live;
		roster.pace.isHeld = false;
		roster.add();
		await roster.corners[1]!.strap.practise('keep clock');
		roster.pace.set(60);
		await vi.advanceTimersByTimeAsync(500);
		expect(roster.corners.map(({ strap }) => strap.view?.state)).toEqual(['connected', 'connected']);
		expect(roster.corners.every(({ strap }) => (strap.seat?.readings.length ?? 0) > 20)).toBe(true);
	});
});
