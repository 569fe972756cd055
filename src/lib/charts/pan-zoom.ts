import type { Attachment } from 'svelte/attachments';
import { pan, zoom, type XWindow } from './x-window';

interface View {
	/** Pixels beside the plot within the element. */
	inset: { left: number; right: number };
	shown: () => XWindow;
	whole: () => XWindow;
	show: (next: XWindow) => void;
}

const closer = 0.8;
/** A finger or mouse that moved less than this is pointing, not dragging. */
const dragFromPx = 4;

/** What a key does to the view; undefined for keys that are none of ours. */
export function keyStep(key: string, shown: XWindow, whole: XWindow): XWindow | undefined {
	const widthS = shown.toS - shown.fromS;
	const middleS = (shown.fromS + shown.toS) / 2;
	if (key === 'ArrowLeft') return pan(shown, -widthS / 8, whole);
	if (key === 'ArrowRight') return pan(shown, widthS / 8, whole);
	if (key === '+' || key === '=') return zoom(shown, closer, middleS, whole);
	if (key === '-') return zoom(shown, 1 / closer, middleS, whole);
	if (key === '0') return whole;
	return undefined;
}

/**
 * Moves a view along its x axis by drag, pinch, wheel and keys. A plain wheel belongs to the page until the
 * picture has the focus, so that scrolling past it never gets stuck; with Ctrl (which a trackpad's pinch
 * sends too) it always zooms.
 */
export function panZoom({ inset, shown, whole, show }: View): Attachment<HTMLElement> {
	return (element) => {
		const pointers = new Map<number, { x: number; y: number }>();
		let dragging = false;

		const plotPx = () => Math.max(1, element.clientWidth - inset.left - inset.right);
		const secondAt = (clientX: number) => {
			const share = (clientX - element.getBoundingClientRect().left - inset.left) / plotPx();
			return shown().fromS + Math.min(1, Math.max(0, share)) * (shown().toS - shown().fromS);
		};
		const secondsOf = (px: number) => (px / plotPx()) * (shown().toS - shown().fromS);
		/** Shows it and says whether anything moved. */
		const moved = (next: XWindow) => {
			const before = shown();
			if (next.fromS === before.fromS && next.toS === before.toS) return false;
			show(next);
			return true;
		};

		function wheel(event: WheelEvent) {
			const sideways = Math.abs(event.deltaX) > Math.abs(event.deltaY);
			if (!sideways && !event.ctrlKey && !element.matches(':focus')) return;
			const next = sideways
				? pan(shown(), secondsOf(event.deltaX), whole())
				: zoom(shown(), event.deltaY < 0 ? closer : 1 / closer, secondAt(event.clientX), whole());
			if (moved(next) || event.ctrlKey) event.preventDefault();
		}

		function pointerDown(event: PointerEvent) {
			if (event.button === 0) pointers.set(event.pointerId, { x: event.clientX, y: event.clientY });
		}

		function pointerMove(event: PointerEvent) {
			const before = pointers.get(event.pointerId);
			if (!before) return;
			const now = { x: event.clientX, y: event.clientY };
			if (!dragging && Math.abs(now.x - before.x) < dragFromPx && pointers.size === 1) return;
			if (!dragging) element.setPointerCapture(event.pointerId);
			dragging = true;
			const other = [...pointers].find(([id]) => id !== event.pointerId)?.[1];
			pointers.set(event.pointerId, now);
			if (!other) {
				moved(pan(shown(), -secondsOf(now.x - before.x), whole()));
				return;
			}
			const apart = (point: { x: number; y: number }) =>
				Math.max(20, Math.hypot(point.x - other.x, point.y - other.y));
			moved(zoom(shown(), apart(before) / apart(now), secondAt((now.x + other.x) / 2), whole()));
		}

		function pointerEnd(event: PointerEvent) {
			pointers.delete(event.pointerId);
			if (pointers.size === 0) dragging = false;
		}

		function keyDown(event: KeyboardEvent) {
			if (event.ctrlKey || event.metaKey || event.altKey) return;
			const next = keyStep(event.key, shown(), whole());
			if (!next) return;
			moved(next);
			event.preventDefault();
		}

		const ending = new AbortController();
		const { signal } = ending;
		element.addEventListener('wheel', wheel, { signal, passive: false });
		element.addEventListener('pointerdown', pointerDown, { signal });
		element.addEventListener('pointermove', pointerMove, { signal });
		element.addEventListener('pointerup', pointerEnd, { signal });
		element.addEventListener('pointercancel', pointerEnd, { signal });
		element.addEventListener('keydown', keyDown, { signal });
		return () => ending.abort();
	};
}
