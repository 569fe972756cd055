// Writes static/*.schema.json, the published forms, from the schemas that check what is kept.
import { writeFileSync } from 'node:fs';
import { createServer } from 'vite';

const server = await createServer({ server: { middlewareMode: true, hmr: false }, appType: 'custom' });
const { publishedForms } = await server.ssrLoadModule('/tests/store/published-forms.ts');
for (const [name, text] of Object.entries(await publishedForms())) {
	writeFileSync(`static/${name}`, text);
	console.log(`static/${name} written.`);
}
await server.close();
