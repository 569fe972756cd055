/**
 * Whether a key belongs to the control that has the focus and not to the page: text and choices take every
 * key, buttons and links only those that press them. So one press is one act.
 */
export function isForControl(event: KeyboardEvent): boolean {
	if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return true;
	const target = event.target;
	if (!(target instanceof Element)) return false;
	if (target.closest('input, select, textarea, [contenteditable]')) return true;
	return (event.key === ' ' || event.key === 'Enter') && target.closest('button, a, summary') !== null;
}
