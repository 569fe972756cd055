type Field = HTMLInputElement | HTMLTextAreaElement;

const pickedKinds = ['checkbox', 'radio', 'range'];

function isTypedInto(target: EventTarget | null): target is Field {
	if (target instanceof HTMLTextAreaElement) return true;
	return target instanceof HTMLInputElement && !pickedKinds.includes(target.type);
}

/**
 * Notes from now on what is typed, and which files are chosen; `signal` ends it. The answer says whether any of it still
 * stands on the screen, or a dialog is open, or work is under way that shows how far it is: then a reload may cost
 * something. What a field has kept already counts too, since nobody can tell by looking.
 */
export function watchTyping(signal: AbortSignal): () => boolean {
	const typed = new Set<Field>();
	document.addEventListener(
		'input',
		({ target }) => {
			if (isTypedInto(target)) typed.add(target);
		},
		{ capture: true, signal }
	);
	return () => {
		for (const field of typed) if (!field.isConnected || field.value === '') typed.delete(field);
		return typed.size > 0 || document.querySelector('dialog[open], progress') !== null;
	};
}
