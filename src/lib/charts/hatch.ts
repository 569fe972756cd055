/**
 * A diagonal hatch for filling areas on a canvas: told apart from any flat tint without colour. Drawn at the
 * screen's own resolution, so that the strokes stay sharp. It rises to the right, or falls where it `leansBack`.
 */
export function hatchPattern(
	ctx: CanvasRenderingContext2D,
	colour: string,
	pixelRatio: number,
	leansBack = false
): CanvasPattern | string {
	const cellPx = 7;
	const side = Math.round(cellPx * pixelRatio);
	const tile = document.createElement('canvas');
	tile.width = tile.height = side;
	const pen = tile.getContext('2d');
	if (!pen) return colour;
	pen.strokeStyle = colour;
	pen.lineWidth = side * 0.24;
	pen.lineCap = 'square';
	if (leansBack) pen.transform(-1, 0, 0, 1, side, 0);
	// The corners are drawn too, or the strokes would break where tiles meet.
	for (const shift of [-side, 0, side]) {
		pen.moveTo(shift, side);
		pen.lineTo(shift + side, 0);
	}
	pen.stroke();
	const pattern = ctx.createPattern(tile, 'repeat');
	pattern?.setTransform(new DOMMatrix().scale(cellPx / side));
	return pattern ?? colour;
}
