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
