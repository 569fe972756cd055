import { format, resolveConfig } from 'prettier';
import { backupForm } from './backup-form';
import { sessionForm } from './session-form';
import { tableForms } from './table-forms';

/*
 * The published forms of a backup and of a session, made from the schemas that check what is kept and from the doc
 * comments that stand beside their members. What no JSON Schema can say is left out: that an instant is one of the
 * calendar, that the columns of a body belong together, and that a value lies under its own key. Beside them the Table
 * Schema of each table.
 */

/** The text of each published form, by the name of its file in static/. */
export async function publishedForms(): Promise<Record<string, string>> {
	const forms = {
		'backup.schema.json': backupForm(),
		'session.schema.json': sessionForm(),
		...tableForms
	};
	const options = { ...(await resolveConfig('static/backup.schema.json')), parser: 'json' };
	const needsNothing = (name: string, part: unknown) =>
		name === 'required' && (part as string[]).length === 0;
	const texts = Object.entries(forms).map(async ([name, form]) => {
		const text = JSON.stringify(form, (key, part: unknown) => (needsNothing(key, part) ? undefined : part));
		return [name, await format(text, options)];
	});
	return Object.fromEntries(await Promise.all(texts)) as Record<string, string>;
}
