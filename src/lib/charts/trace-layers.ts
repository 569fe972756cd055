import { hatchPattern } from './hatch';
import type { XY } from './line-chart';
import type { Look } from './look';
import type { Box } from './landing-geometry';
import type { OverStretch, Stretch, TracePhase } from './trace';

/** What a layer of the trace is painted on: `area` is the plot, `headTop` the top of the strip above it. */
export interface Stage {
	ctx: CanvasRenderingContext2D;
	area: Box;
	headTop: number;
	xOf: (tS: number) => number;
	yOf: (bpm: number) => number;
	look: Look;
	pixelRatio: number;
}

const plateWidthPx = 34;

/** Bands stay behind the trace: it is what the eye is to find first. */
const bandStrength = 0.6;

const isRest = (phase: TracePhase) => phase.kind === 'rest' || phase.kind === 'closing';

/** Bands of work and rest. Work carries its bar above and rest below, so that position tells them apart too. */
export function paintPhases({ ctx, area, headTop, xOf, look }: Stage, phases: readonly TracePhase[]): void {
	ctx.fillStyle = look.chalkDim;
	writeCentred(ctx, 'bpm', area.left - plateWidthPx - 6, area.left, headTop + 14, `400 16px ${look.text}`);
	for (const phase of phases) {
		const left = Math.max(area.left, xOf(phase.startS));
		const right = Math.min(area.right, xOf(phase.endS));
		if (right <= left) continue;
		const width = Math.max(1, right - left - 1);
		if (phase.kind === 'work') {
			ctx.fillStyle = look.line;
			ctx.fillRect(left, headTop, width, area.top - headTop);
			fillFaint(ctx, left, area.top, width, area.bottom - area.top);
			ctx.fillStyle = look.chalk;
			ctx.fillRect(left, headTop, width, 3);
			writeCentred(ctx, `${phase.round ?? ''}`, left, right, headTop + 18, `700 24px ${look.figures}`);
		} else if (isRest(phase)) {
			ctx.fillStyle = look.restDeep;
			fillFaint(ctx, left, area.top, width, area.bottom - area.top);
			ctx.fillStyle = look.rest;
			ctx.fillRect(left, area.bottom - 3, width, 3);
		} else {
			ctx.fillStyle = look.chalkDim;
			writeCentred(ctx, phase.kind, left, right, headTop + 18, `400 16px ${look.text}`);
		}
	}
}

/** A stretch in which the clock stood still: two uprights, and the word where it fits. */
export function paintPauses({ ctx, area, xOf, look }: Stage, phases: readonly TracePhase[]): void {
	ctx.save();
	ctx.strokeStyle = ctx.fillStyle = look.chalkDim;
	ctx.lineWidth = 1.5;
	ctx.setLineDash([2, 4]);
	for (const { fromS, toS } of phases.flatMap(({ pauses = [] }) => pauses)) {
		const left = Math.max(area.left, xOf(fromS));
		const right = Math.min(area.right, xOf(toS));
		if (right <= left) continue;
		ctx.beginPath();
		for (const x of [left, right]) {
			ctx.moveTo(x, area.top);
			ctx.lineTo(x, area.bottom);
		}
		ctx.stroke();
		writeCentred(ctx, 'paused', left, right, area.top + 12, `600 15px ${look.text}`);
	}
	ctx.restore();
}

/**
 * The hatch under the trace, down to the floor, for as long as each spell over the threshold lasted; in the closing
 * burst, where it is allowed, it leans the other way.
 */
export function paintSpells(stage: Stage, spells: readonly OverStretch[], trace: readonly XY[]): void {
	const { ctx, look, pixelRatio } = stage;
	for (const leansBack of [false, true]) {
		ctx.save();
		clipToSpells(
			stage,
			spells.filter(({ inBurst }) => inBurst === leansBack)
		);
		pathUnder(stage, trace);
		ctx.fillStyle = hatchPattern(ctx, look.chalkDim, pixelRatio, leansBack);
		ctx.fill();
		ctx.restore();
	}
}

function clipToSpells({ ctx, area, xOf }: Stage, spells: readonly Stretch[]): void {
	ctx.beginPath();
	for (const { fromS, toS } of spells) {
		const left = Math.max(area.left, xOf(fromS));
		const right = Math.min(area.right, Math.max(xOf(toS), xOf(fromS) + 2));
		if (right > left) ctx.rect(left, area.top, right - left, area.bottom - area.top);
	}
	ctx.clip();
}

/** Everything between the trace and the floor. */
function pathUnder({ ctx, area, xOf, yOf }: Stage, trace: readonly XY[]): void {
	ctx.beginPath();
	let lastX: number | undefined;
	const toFloor = () => lastX !== undefined && ctx.lineTo(lastX, area.bottom);
	for (const { x, y } of trace) {
		if (y === null) {
			toFloor();
			lastX = undefined;
			continue;
		}
		if (lastX === undefined) ctx.moveTo(xOf(x), area.bottom);
		ctx.lineTo(xOf(x), yOf(y));
		// A reading stands for the second that follows it.
		lastX = xOf(x + 1);
	}
	toFloor();
}

/**
 * The threshold, with its rate on a plate among the axis figures, where it covers nothing of the trace. A figure of
 * the axis that would look out from under the plate is taken away.
 */
export function paintThreshold(
	{ ctx, area, yOf, look }: Stage,
	thresholdBpm: number,
	axisRates: readonly number[]
): void {
	const y = Math.round(yOf(thresholdBpm));
	const plateLeft = area.left - plateWidthPx;
	ctx.save();
	for (const figureY of axisRates.map(yOf)) {
		if (Math.abs(figureY - y) < 20) ctx.clearRect(plateLeft, figureY - 9, plateWidthPx - 1, 18);
	}
	ctx.strokeStyle = look.chalk;
	ctx.lineWidth = 1.5;
	ctx.setLineDash([9, 5]);
	ctx.beginPath();
	ctx.moveTo(area.left, y);
	ctx.lineTo(area.right, y);
	ctx.stroke();
	ctx.fillStyle = look.chalk;
	ctx.fillRect(plateLeft, y - 12, plateWidthPx, 24);
	ctx.fillStyle = look.canvas;
	ctx.font = `700 18px ${look.figures}`;
	ctx.textAlign = 'center';
	ctx.textBaseline = 'middle';
	ctx.fillText(`${Math.round(thresholdBpm)}`, area.left - plateWidthPx / 2, y + 1);
	ctx.restore();
}

/** A stretch without readings: an open bracket on the floor, named where there is room. */
export function paintGaps({ ctx, area, xOf, look }: Stage, gaps: readonly Stretch[]): void {
	ctx.save();
	ctx.strokeStyle = ctx.fillStyle = look.chalk;
	ctx.lineWidth = 1.5;
	for (const { fromS, toS } of gaps) {
		const left = Math.max(area.left, xOf(fromS));
		const right = Math.min(area.right, Math.max(xOf(toS), left + 4));
		if (right <= left) continue;
		const y = area.bottom - 12;
		ctx.beginPath();
		ctx.moveTo(left, y - 7);
		ctx.lineTo(left, y);
		ctx.lineTo(right, y);
		ctx.lineTo(right, y - 7);
		ctx.stroke();
		const textLeft = Math.max(area.left, left - 30);
		const textRight = Math.min(area.right, right + 30);
		const text = `lost ${Math.round(toS - fromS)} s`;
		writeCentred(ctx, text, textLeft, textRight, y - 18, `600 15px ${look.text}`);
	}
	ctx.restore();
}

/** Seconds with no neighbour have no line to be seen by: each is a dot. */
export function paintLoneReadings({ ctx, area, xOf, yOf, look }: Stage, trace: readonly XY[]): void {
	ctx.fillStyle = look.chalk;
	for (const [i, { x, y }] of trace.entries()) {
		if (y === null || (trace[i - 1]?.y ?? null) !== null || (trace[i + 1]?.y ?? null) !== null) continue;
		if (xOf(x) < area.left || xOf(x) > area.right) continue;
		ctx.fillRect(xOf(x) - 1.5, yOf(y) - 1.5, 3, 3);
	}
}

/** The highest rate: a notch standing on the trace, and its figure. */
export function paintPeak({ ctx, area, xOf, yOf, look }: Stage, peak: { tS: number; bpm: number }): void {
	const x = xOf(peak.tS);
	if (x < area.left || x > area.right) return;
	const y = yOf(peak.bpm) - 4;
	ctx.save();
	ctx.fillStyle = look.chalk;
	ctx.beginPath();
	ctx.moveTo(x, y);
	ctx.lineTo(x - 5, y - 9);
	ctx.lineTo(x + 5, y - 9);
	ctx.fill();
	ctx.font = `700 20px ${look.figures}`;
	ctx.textBaseline = 'middle';
	const nearRight = x > area.right - 50;
	ctx.textAlign = nearRight ? 'right' : 'left';
	ctx.fillText(`${peak.bpm}`, x + (nearRight ? -9 : 9), y - 6);
	ctx.restore();
}

function fillFaint(ctx: CanvasRenderingContext2D, x: number, y: number, width: number, height: number): void {
	ctx.globalAlpha = bandStrength;
	ctx.fillRect(x, y, width, height);
	ctx.globalAlpha = 1;
}

function writeCentred(
	ctx: CanvasRenderingContext2D,
	text: string,
	left: number,
	right: number,
	y: number,
	font: string
): void {
	ctx.font = font;
	ctx.textAlign = 'center';
	ctx.textBaseline = 'middle';
	if (ctx.measureText(text).width <= right - left - 4) ctx.fillText(text, (left + right) / 2, y);
}
