import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { publishedForms } from './published-forms';

describe('the published forms in static/', () => {
	it.each([
		'backup.schema.json',
		'session.schema.json',
		'session-csv.tableschema.json',
		'register-csv.tableschema.json'
	])('say what the schemas of the store say: %s (npm run schemas writes it)', async (name) => {
		expect(readFileSync(`static/${name}`, 'utf8')).toBe((await publishedForms())[name]);
	});
});
