import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { AthleteSnapshot } from '$lib/record/head';
import { mostBoxers, mostCorners, Roster } from '$lib/session/roster.svelte';
import { SessionCorners, type WhyBarred } from '$lib/session/session-corners.svelte';
import { makeStrap } from './builders';
import { adem, boxerOf, odalys, shareStrap, tomas } from './shared-strap';

describe('the strap that is due', () => {
	it('is none before the last round of a turn, and waits for the measured minute after it', () => {
		const { boxUntil, due, recorder } = shareStrap();
		boxUntil(5);
		expect(due(), 'before the first bell').toEqual([]);
		boxUntil(100);
		expect(due(), 'round 2 is Odalys’s too').toEqual([]);
		boxUntil(189);
		expect(due(), 'in the round').toEqual([]);
		boxUntil(200);
		expect(due()).toEqual([['Odalys', 'Tomas', 50_000]]);
		boxUntil(250);
		expect(due()).toEqual([['Odalys', 'Tomas', 0]]);
		boxUntil(255);
		recorder.straps.handOver(odalys, tomas);
		expect(due()).toEqual([]);
	});

	it('is due at once in the wrong round, and again whoever else has it', () => {
		const { boxUntil, due, recorder, view } = shareStrap();
		boxUntil(380);
		expect(due()).toEqual([['Odalys', 'Tomas', 0]]);
		expect(recorder.straps.handOver(odalys, adem), 'the wrong one in the wrong round is allowed').toBe(true);
		expect(due()).toEqual([['Adem', 'Tomas', 0]]);
		expect(view().due).toEqual(recorder.due);
		boxUntil(450);
		expect(due(), 'and is whose turn comes next').toEqual([]);
	});

	it('stays with whoever boxes the round again', () => {
		const { boxUntil, due, recorder } = shareStrap();
		boxUntil(200);
		expect(recorder.amend('repeat round')).toBe(true);
		expect(due()).toEqual([]);
		// Round 2 again from 370 to 430 s.
		boxUntil(400);
		expect(due()).toEqual([]);
		boxUntil(440);
		expect(due()).toEqual([['Odalys', 'Tomas', 50_000]]);
	});

	it('is none after the last round, nor where whoever it is for has left or has one', () => {
		const { boxUntil, due, recorder } = shareStrap();
		boxUntil(200);
		recorder.straps.attach(tomas, makeStrap('Blue strap').strap);
		expect(due()).toEqual([]);
		expect(recorder.leave(tomas)).toBe(true);
		expect(due()).toEqual([]);
		boxUntil(480);
		expect(due()).toEqual([['Odalys', 'Adem', 10_000]]);
		recorder.leave(adem);
		expect(due()).toEqual([]);

		const last = shareStrap();
		last.boxUntil(660);
		expect(last.due()).toEqual([['Odalys', 'Adem', 0]]);
		last.boxUntil(700);
		expect(last.due(), 'the closing minute').toEqual([]);
	});
});

describe('a hand-over that is undone', () => {
	it('can be for thirty seconds and no longer', () => {
		const { boxUntil, recorder, view, clock } = shareStrap();
		boxUntil(255);
		recorder.straps.handOver(odalys, tomas);
		expect(view().undoable).toEqual({ fromName: 'Odalys', toName: 'Tomas', leftMs: 30_000 });
		boxUntil(284);
		clock.advanceTo(284_999);
		expect(view().undoable?.leftMs).toBe(1);
		clock.advanceTo(285_000);
		expect(view().undoable).toBeUndefined();
		expect(recorder.straps.undo()).toBe(false);
		expect(recorder.straps.wearing).toEqual([tomas]);

		const inTime = shareStrap();
		inTime.boxUntil(255);
		inTime.recorder.straps.handOver(odalys, tomas);
		inTime.clock.advanceTo(284_999);
		inTime.recorder.advance();
		expect(inTime.recorder.straps.undo()).toBe(true);
		expect(inTime.recorder.straps.wearing).toEqual([odalys]);
		expect(inTime.recorder.straps.undoable, 'once').toBeUndefined();
	});

	it('cannot be once anybody has left or another strap came', () => {
		for (const happens of [
			({ recorder }: ReturnType<typeof shareStrap>) => recorder.leave(odalys),
			({ recorder }: ReturnType<typeof shareStrap>) => recorder.leave(adem),
			({ recorder }: ReturnType<typeof shareStrap>) =>
				recorder.straps.attach(odalys, makeStrap('Blue strap').strap),
			({ recorder }: ReturnType<typeof shareStrap>) =>
				recorder.straps.attach(tomas, makeStrap('Blue strap').strap)
		]) {
			const shared = shareStrap();
			shared.boxUntil(255);
			shared.recorder.straps.handOver(odalys, tomas);
			happens(shared);
			expect(shared.recorder.straps.undoable).toBeUndefined();
			expect(shared.recorder.straps.undo()).toBe(false);
		}
	});
});

describe('a strap that cannot go', () => {
	it('is one that nobody has, or to one who has one, has left, or never was', () => {
		const { boxUntil, recorder } = shareStrap();
		boxUntil(20);
		expect(recorder.straps.handOver(tomas, adem)).toBe(false);
		expect(recorder.straps.handOver(odalys, odalys)).toBe(false);
		expect(recorder.straps.handOver(odalys, 7)).toBe(false);
		recorder.straps.attach(adem, makeStrap('Blue strap').strap);
		expect(recorder.straps.handOver(odalys, adem)).toBe(false);
		recorder.leave(tomas);
		expect(recorder.straps.handOver(odalys, tomas)).toBe(false);
		expect(recorder.straps.wearing).toEqual([odalys, adem]);
	});

	it('does not leave with the last one who has one on: they hand it over first', () => {
		const { boxUntil, recorder } = shareStrap();
		boxUntil(20);
		expect(recorder.leave(odalys)).toBe(false);
		expect(recorder.leave(adem), 'without a strap anybody may').toBe(true);
		recorder.straps.handOver(odalys, tomas);
		expect(recorder.leave(odalys)).toBe(true);
		expect(recorder.leave(tomas)).toBe(false);
		expect(recorder.present).toEqual([tomas]);
	});
});

describe('at the corners', () => {
	beforeEach(() => void vi.useFakeTimers());
	afterEach(() => void vi.useRealTimers());

	const bao: AthleteSnapshot = { athleteId: 'athlete-Bao', name: 'Bao' };
	function stand(whyBarred?: WhyBarred) {
		const shared = shareStrap();
		let changes = 0;
		const running = { recorder: () => shared.recorder, onChange: () => void changes++, whyBarred };
		const roster = new Roster(() => 0);
		const corners = new SessionCorners(roster, () => `new-${changes}`, undefined, running);
		corners.begin(shared.recorder);
		shared.boxUntil(255);
		return { ...shared, corners, roster, changes: () => changes };
	}

	it('one press hands it over and one takes it back, and the place goes along', () => {
		const { corners, recorder, view, changes } = stand();
		expect(corners.handOver(odalys, tomas)).toBeUndefined();
		expect(view().corners.map(({ name, number }) => [name, number])).toEqual([['Tomas', 1]]);
		expect(view().bare.map(({ name }) => name)).toEqual(['Odalys', 'Adem']);
		corners.undoHandOver();
		expect(view().corners.map(({ name, number }) => [name, number])).toEqual([['Odalys', 1]]);
		expect(changes()).toBe(2);
		corners.undoHandOver();
		expect(recorder.straps.wearing).toEqual([odalys]);
		expect(changes()).toBe(2);
	});

	it('whoever does not do this today gets no strap, and says why', () => {
		const { corners, recorder, sink } = stand((athleteId, { blocks }) =>
			athleteId === 'athlete-Tomas' && blocks?.length ? 'Tomas does no bag today.' : undefined
		);
		const before = sink.entries.length;
		expect(corners.handOver(odalys, tomas)).toBe('Tomas does no bag today.');
		expect(recorder.straps.wearing).toEqual([odalys]);
		expect(sink.entries).toHaveLength(before);
		expect(corners.handOver(odalys, adem)).toBeUndefined();
		expect(recorder.straps.wearing).toEqual([adem]);
	});

	it('nor do they take part without one', async () => {
		const { corners, recorder } = stand((athleteId) =>
			athleteId === 'athlete-Bao' ? 'Not today.' : undefined
		);
		expect(corners.joinBare(bao)).toBeUndefined();
		expect(recorder.present).toEqual([odalys, tomas, adem]);
		expect(corners.joinBare({ athleteId: 'athlete-Sione', name: 'Sione' })).toBeTypeOf('number');
		expect(recorder.present).toHaveLength(4);
	});

	it('nor get one of their own', async () => {
		const { corners, recorder, roster } = stand((athleteId) =>
			athleteId === 'athlete-Tomas' ? 'Not today.' : undefined
		);
		await corners.strapFor(tomas, true);
		expect(recorder.straps.wearing).toEqual([odalys]);
		expect(roster.corners).toHaveLength(1);
	});

	it('whoever has none gets one of their own later, with a place of its own', async () => {
		const { corners, recorder, roster, view } = stand();
		await corners.strapFor(adem, true);
		expect(recorder.straps.wearing).toEqual([odalys, adem]);
		expect(roster.corners.map(({ athleteId }) => athleteId)).toEqual([undefined, 'athlete-Adem']);
		expect(view().corners.map(({ name, practice }) => [name, practice])).toEqual([
			['Odalys', false],
			['Adem', true]
		]);
		expect(
			recorder.recordsSoFar().map(({ head }) => [head.athlete.name, head.practice, head.strapChanges])
		).toEqual([
			['Odalys', false, undefined],
			['Adem', true, [expect.objectContaining({ ms: 255_000, handOver: 'put on' })]]
		]);
		expect(corners.handOver(odalys, adem), 'who has one takes no second').toBeUndefined();
		expect(recorder.straps.wearing).toEqual([odalys, adem]);
	});

	it('takes thirty boxers and not one more, of whom eight may have a strap on', async () => {
		const { corners, recorder } = stand();
		for (let i = recorder.present.length; i < mostBoxers; i++)
			expect(corners.joinBare(boxerOf(`Boxer ${i}`).athlete)).toBeTypeOf('number');
		expect(corners.joinBare(bao)).toBeUndefined();
		expect(recorder.present).toHaveLength(30);
		for (let i = 1; i < mostCorners; i++) await corners.strapFor(i, true);
		expect(recorder.straps.wearing).toHaveLength(8);
		await corners.strapFor(20, true);
		expect(recorder.straps.wearing).toHaveLength(8);
	});
});
