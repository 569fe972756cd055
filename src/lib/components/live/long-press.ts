const pressMs = 500;
const stillPx = 12;

/** Calls `act` after half a second's press that does not wander and does not lie on a control. */
export function longPress(act: () => void): (element: HTMLElement) => () => void {
	return (element) => {
		let handle: ReturnType<typeof setTimeout> | undefined;
		let from = { x: 0, y: 0 };
		const cancel = () => clearTimeout(handle);
		function down(event: PointerEvent) {
			cancel();
			if (!(event.target instanceof Element) || event.target.closest('button, a, input, dialog')) return;
			from = { x: event.clientX, y: event.clientY };
			handle = setTimeout(act, pressMs);
		}
		function move(event: PointerEvent) {
			if (Math.hypot(event.clientX - from.x, event.clientY - from.y) > stillPx) cancel();
		}
		// A long touch would open the browser's own menu.
		const noMenu = (event: Event) => event.preventDefault();
		element.addEventListener('pointerdown', down);
		element.addEventListener('pointermove', move);
		element.addEventListener('pointerup', cancel);
		element.addEventListener('pointercancel', cancel);
		element.addEventListener('contextmenu', noMenu);
		return () => {
			cancel();
			element.removeEventListener('pointerdown', down);
			element.removeEventListener('pointermove', move);
			element.removeEventListener('pointerup', cancel);
			element.removeEventListener('pointercancel', cancel);
			element.removeEventListener('contextmenu', noMenu);
		};
	};
}
