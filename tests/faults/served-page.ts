import { spawn } from 'node:child_process';

// Neither the port of daily use nor that of the stories.
const port = Number(process.env.E2E_PORT ?? 4362);

/** Builds the page and serves it until `use` is done. */
export async function withPage<T>(use: (address: string) => Promise<T>): Promise<T> {
	const server = spawn(process.execPath, ['src/start.js', '--port', String(port)], {
		stdio: ['ignore', 'pipe', 'inherit']
	});
	try {
		await new Promise((resolve, reject) => {
			server.stdout.on('data', (text) => String(text).includes('ready') && resolve(undefined));
			server.once('exit', () => reject(new Error(`The page could not be served on port ${port}.`)));
		});
		return await use(`http://localhost:${port}/`);
	} finally {
		server.kill();
	}
}
