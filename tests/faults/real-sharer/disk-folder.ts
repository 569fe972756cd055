import { mkdir, open, readFile, readdir, rename, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';

/**
 * A folder of the disk with the members of `FileSystemDirectoryHandle` that the page uses. What is written goes to a file
 * beside it and takes its place at the close, as in Chromium.
 */
export class DiskFolder {
	readonly kind = 'directory';

	constructor(private readonly path: string) {}

	/** The type is the browser's, of which the page uses these few members. */
	get handle(): FileSystemDirectoryHandle {
		return this as unknown as FileSystemDirectoryHandle;
	}

	async *keys(): AsyncGenerator<string> {
		yield* await named(this.path, () => readdir(this.path));
	}

	async getDirectoryHandle(name: string, { create = false }: { create?: boolean } = {}) {
		const path = join(this.path, name);
		if (create) await mkdir(path, { recursive: true });
		const found = await named(name, () => stat(path));
		if (!found.isDirectory()) throw new DOMException(name, 'TypeMismatchError');
		return new DiskFolder(path);
	}

	async getFileHandle(name: string, { create = false }: { create?: boolean } = {}) {
		const path = join(this.path, name);
		await named(name, async () => (await open(path, create ? 'a' : 'r')).close());
		return { getFile: () => this.#file(name), createWritable: async () => this.#writable(path) };
	}

	removeEntry(name: string): Promise<void> {
		return named(name, () => rm(join(this.path, name)));
	}

	async #file(name: string) {
		const path = join(this.path, name);
		const { size, mtimeMs } = await named(name, () => stat(path));
		return { size, lastModified: Math.round(mtimeMs), text: () => named(name, () => readFile(path, 'utf8')) };
	}

	#writable(path: string) {
		const beside = `${path}.crswap`;
		return {
			write: (text: string) => writeFile(beside, text),
			close: () => rename(beside, path),
			abort: () => rm(beside, { force: true })
		};
	}
}

/** What is not there is told as the File System standard has it. */
async function named<T>(name: string, work: () => Promise<T>): Promise<T> {
	try {
		return await work();
	} catch (error) {
		if ((error as NodeJS.ErrnoException).code === 'ENOENT') throw new DOMException(name, 'NotFoundError');
		throw error;
	}
}
