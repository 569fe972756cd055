import {
	accepts,
	isPausedAt,
	phaseAt,
	remainingMs,
	timelineOf,
	whenRemaining,
	type Phase
} from '$lib/rounds/timeline';
import fc from '../by-chance';
import { describe, expect, it } from 'vitest';
import { anyAmendments, anyPlan } from './plans';

const lengthMs = (timeline: readonly Phase[]) => timeline.at(-1)?.endMs ?? 0;
const pausedMs = (phase: Phase) => phase.pauses.reduce((sum, pause) => sum + pause.toMs - pause.fromMs, 0);

describe('whatever is pressed', () => {
	it('phases follow one another from zero without a hole, each with some length', () => {
		fc.assert(
			fc.property(anyPlan, anyAmendments, (plan, amendments) => {
				const timeline = timelineOf(plan, amendments);
				let endMs = 0;
				for (const phase of timeline) {
					expect(phase.startMs).toBe(endMs);
					expect(phase.endMs).toBeGreaterThan(phase.startMs);
					endMs = phase.endMs;
				}
			})
		);
	});

	it('an amendment is accepted exactly when the fold heeds it', () => {
		fc.assert(
			fc.property(anyPlan, anyAmendments, (plan, amendments) => {
				const heeded: typeof amendments = [];
				for (const amendment of amendments)
					if (accepts(plan, heeded, amendment.kind, amendment.atMs)) heeded.push(amendment);
				expect(timelineOf(plan, amendments)).toEqual(timelineOf(plan, heeded));
				// And what is accepted shows, but for presses on the edge of a phase and pauses of no length.
				for (const [i, { kind, atMs }] of heeded.entries()) {
					const before = timelineOf(plan, heeded.slice(0, i));
					const after = timelineOf(plan, heeded.slice(0, i + 1));
					const isOnEdge =
						phaseAt(before, atMs)?.startMs === atMs || kind === 'resume' || kind === 'repeat round';
					if (!isOnEdge) expect(after).not.toEqual(before);
				}
			})
		);
	});

	it('the past stays: what a later press changes lies after it, but for the name of a rest', () => {
		fc.assert(
			fc.property(anyPlan, anyAmendments, fc.nat(400_000), (plan, amendments, anyMs) => {
				const name = (phase?: Phase) => (phase?.kind === 'closing' ? 'rest' : phase?.kind);
				for (const [i, { atMs }] of amendments.entries()) {
					const ms = Math.min(anyMs, atMs - 1);
					const then = phaseAt(timelineOf(plan, amendments.slice(0, i)), ms);
					const later = phaseAt(timelineOf(plan, amendments.slice(0, i + 1)), ms);
					if (then?.kind !== 'get ready') expect(name(later)).toBe(name(then));
					expect(later?.startMs).toBe(then?.startMs);
					expect(later?.round).toBe(then?.round);
				}
			})
		);
	});

	it('the time left is never negative, falls with the clock and stands still in a pause', () => {
		fc.assert(
			fc.property(anyPlan, anyAmendments, fc.nat(900_000), fc.nat(5000), (plan, amendments, ms, stepMs) => {
				const timeline = timelineOf(plan, amendments);
				for (const phase of timeline) expect(remainingMs(phase, ms)).toBeGreaterThanOrEqual(0);
				const phase = phaseAt(timeline, ms);
				if (!phase || phaseAt(timeline, ms + stepMs) !== phase) return;
				const passedMs = remainingMs(phase, ms) - remainingMs(phase, ms + stepMs);
				const isWithin = ({ fromMs, toMs }: { fromMs: number; toMs: number }) =>
					fromMs <= ms && ms + stepMs <= toMs;
				if (phase.pauses.some(isWithin)) expect(passedMs).toBe(0);
				expect(passedMs).toBeGreaterThanOrEqual(0);
				expect(passedMs).toBeLessThanOrEqual(stepMs);
			})
		);
	});

	it('a phase that is over has used up its length, pauses apart', () => {
		fc.assert(
			fc.property(anyPlan, anyAmendments, (plan, amendments) => {
				for (const phase of timelineOf(plan, amendments)) {
					if (phase.endMs === Infinity) continue;
					expect(remainingMs(phase, phase.endMs)).toBe(0);
					expect(remainingMs(phase, phase.startMs)).toBe(phase.endMs - phase.startMs - pausedMs(phase));
				}
			})
		);
	});

	it('the moment with so much left has so much left', () => {
		fc.assert(
			fc.property(anyPlan, anyAmendments, fc.integer({ min: 1, max: 20_000 }), (plan, amendments, leftMs) => {
				for (const phase of timelineOf(plan, amendments)) {
					const atMs = whenRemaining(phase, leftMs);
					if (atMs === undefined) continue;
					const cutMs = phase.endMs === Infinity ? 0 : phase.plannedEndMs - phase.endMs;
					expect(phaseAt([phase], atMs)).toBe(phase);
					// At most on the moment a pause begins.
					expect(isPausedAt([phase], atMs - 0.5)).toBe(false);
					expect(remainingMs(phase, atMs)).toBe(leftMs - cutMs);
				}
			})
		);
	});

	it('a pause only lengthens, by exactly its own length', () => {
		fc.assert(
			fc.property(anyPlan, fc.nat(900_000), fc.nat(300_000), (plan, fromMs, pauseMs) => {
				const plain = timelineOf(plan);
				const paused = timelineOf(plan, [
					{ kind: 'pause', atMs: fromMs },
					{ kind: 'resume', atMs: fromMs + pauseMs }
				]);
				const isInTime = fromMs < lengthMs(plain);
				expect(lengthMs(paused)).toBe(lengthMs(plain) + (isInTime ? pauseMs : 0));
				expect(paused.map(({ kind, round }) => [kind, round])).toEqual(
					plain.map(({ kind, round }) => [kind, round])
				);
			})
		);
	});
});
