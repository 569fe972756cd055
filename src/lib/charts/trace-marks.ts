import type { TracePhase } from './trace';
import type { Stage } from './trace-layers';

/** Moments that were marked: each a flag hanging from the top of the plot, with its number. */
export function paintMarks({ ctx, area, xOf, look }: Stage, marksS: readonly number[]): void {
	ctx.save();
	ctx.font = `700 16px ${look.figures}`;
	ctx.textAlign = 'center';
	ctx.textBaseline = 'middle';
	for (const [i, tS] of marksS.entries()) {
		const x = xOf(tS);
		if (x < area.left || x > area.right) continue;
		ctx.fillStyle = look.chalk;
		ctx.fillRect(x - 0.75, area.top, 1.5, 34);
		// The flag turns back where it would hang over the edge.
		const left = x + 20 > area.right ? x - 20 : x;
		ctx.fillRect(left, area.top, 20, 20);
		ctx.fillStyle = look.canvas;
		ctx.fillText(`${i + 1}`, left + 10, area.top + 11);
	}
	ctx.restore();
}

/** Each rest's drop under it, in a strip of `heightPx` between the plot and its figures. */
export function paintDrops(
	{ ctx, area, xOf, look }: Stage,
	phases: readonly TracePhase[],
	heightPx: number
): void {
	const middle = area.bottom + heightPx / 2 + 3;
	ctx.save();
	ctx.textBaseline = 'middle';
	ctx.textAlign = 'right';
	ctx.fillStyle = look.rest;
	ctx.font = `400 16px ${look.text}`;
	ctx.fillText('drop', area.left - 6, middle);
	ctx.textAlign = 'center';
	ctx.font = `700 22px ${look.figures}`;
	for (const { startS, endS, drop60 } of phases) {
		const x = xOf((startS + endS) / 2);
		if (drop60 === undefined || x < area.left || x > area.right) continue;
		ctx.fillText(`${Math.round(drop60)}`, x, middle);
	}
	ctx.restore();
}
