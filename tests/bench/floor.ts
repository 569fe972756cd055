import { execFileSync } from 'node:child_process';
import { createServer, type Server } from 'node:http';
import { createRequire } from 'node:module';
import type { AddressInfo } from 'node:net';
import { dirname, join } from 'node:path';
import sirv from 'sirv';
import { cacheControlOf } from '../../src/response-headers.js';

const source = 'tests/bench/floor';
const built = 'test-results/floor';
let served: { server: Server; address: string } | undefined;

/**
 * The address of pages of the same framework and styles with nothing of ours in them, built and served at the first
 * time. What they take is what this machine takes at this moment: ours is set beside it as so many times as much.
 */
export async function floorAddress(): Promise<string> {
	if (served) return served.address;
	const vite = join(dirname(createRequire(import.meta.url).resolve('vite/package.json')), 'bin/vite.js');
	execFileSync(process.execPath, [vite, 'build', '--logLevel', 'error'], { cwd: source, stdio: 'inherit' });
	const pages = sirv(built, {
		etag: true,
		gzip: true,
		brotli: true,
		setHeaders: (response, path) => response.setHeader('Cache-Control', cacheControlOf(path))
	});
	const server = createServer(pages);
	await new Promise<void>((resolve) => server.listen(0, 'localhost', resolve));
	served = { server, address: `http://localhost:${(server.address() as AddressInfo).port}/` };
	return served.address;
}

/** Serves them no longer. */
export function leaveFloor(): void {
	served?.server.closeAllConnections();
	served?.server.close();
	served = undefined;
}
