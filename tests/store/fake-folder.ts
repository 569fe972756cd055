/**
 * A folder in memory with the members of `FileSystemDirectoryHandle` that the page uses, and the errors that the
 * File System standard names. What is written appears when the writable is closed, as the standard has it.
 */
export class FakeFolder {
	readonly kind = 'directory';
	/** By path. */
	readonly files = new Map<string, { text: string; modifiedMs: number }>();
	/** Paths of the folders within it, the empty ones too. */
	readonly folders = new Set<string>();
	readonly opened: string[] = [];
	/** Paths of the folders whose names were asked for. */
	readonly listed: string[] = [];
	/** The name of the error that everything ends with, as when permission is lost. */
	failing: string | undefined;
	/** A writable that breaks off before it is closed leaves the empty file of its name. */
	dies = false;
	#ms = 0;

	constructor(readonly name = 'gym') {}

	/** The type is the browser's, of which the page uses these few members. */
	get handle(): FileSystemDirectoryHandle {
		return this as unknown as FileSystemDirectoryHandle;
	}

	put(name: string, text: string): void {
		this.files.set(name, { text, modifiedMs: ++this.#ms });
		for (let end = name.lastIndexOf('/'); end > 0; end = name.lastIndexOf('/', end - 1))
			this.folders.add(name.slice(0, end));
	}

	/** The names of all files, wherever they lie, but the words about what machines know. */
	names(): string[] {
		const names = [...this.files.keys()].map((path) => path.split('/').at(-1)!);
		return names.filter((name) => !name.endsWith('.knows-years.json'));
	}

	/** What a program does that keeps folders equal: takes over what the other has and this lacks. */
	copyFrom(other: FakeFolder): void {
		for (const [name, { text }] of other.files) if (!this.files.has(name)) this.put(name, text);
	}

	async *keys(folder = ''): AsyncGenerator<string> {
		this.#fail();
		this.#expectFolder(folder);
		this.listed.push(folder);
		const start = folder === '' ? 0 : folder.length + 1;
		const names = new Set<string>();
		for (const path of [...this.folders, ...this.files.keys()]) {
			if (start > 0 && !path.startsWith(`${folder}/`)) continue;
			const end = path.indexOf('/', start);
			names.add(end < 0 ? path.slice(start) : path.slice(start, end));
		}
		// Later ones first, so that nobody relies on an order the standard does not promise.
		for (const name of [...names].reverse()) yield name;
	}

	async getDirectoryHandle(name: string, options: { create?: boolean } = {}, folder = '') {
		this.#fail();
		const path = pathOf(folder, name);
		if (options.create && !this.#isFolder(path) && !this.files.has(path)) {
			this.#expectFolder(folder);
			this.folders.add(path);
		}
		this.#expectFolder(path);
		return this.#within(path);
	}

	async getFileHandle(name: string, options: { create?: boolean } = {}, folder = '') {
		this.#fail();
		this.#expectFolder(folder);
		const path = pathOf(folder, name);
		if (this.#isFolder(path)) throw new DOMException(path, 'TypeMismatchError');
		if (!this.files.has(path)) {
			if (!options.create) throw new DOMException(path, 'NotFoundError');
			this.put(path, '');
		}
		return { getFile: () => this.#file(path), createWritable: () => this.#writable(path) };
	}

	async removeEntry(name: string, folder = ''): Promise<void> {
		this.#fail();
		const path = pathOf(folder, name);
		if (!this.files.delete(path)) throw new DOMException(path, 'NotFoundError');
	}

	/** A folder within it. */
	#within(path: string) {
		return {
			keys: () => this.keys(path),
			getDirectoryHandle: (name: string, options?: { create?: boolean }): Promise<unknown> =>
				this.getDirectoryHandle(name, options, path),
			getFileHandle: (name: string, options?: { create?: boolean }) =>
				this.getFileHandle(name, options, path),
			removeEntry: (name: string) => this.removeEntry(name, path)
		};
	}

	#isFolder(path: string): boolean {
		return path === '' || this.folders.has(path);
	}

	#expectFolder(path: string): void {
		if (this.files.has(path)) throw new DOMException(path, 'TypeMismatchError');
		if (!this.#isFolder(path)) throw new DOMException(path, 'NotFoundError');
	}

	async #file(name: string) {
		const file = this.files.get(name);
		if (!file) throw new DOMException(name, 'NotFoundError');
		const { text, modifiedMs } = file;
		return {
			size: new TextEncoder().encode(text).length,
			lastModified: modifiedMs,
			text: async () => {
				this.opened.push(name);
				return text;
			}
		};
	}

	async #writable(name: string) {
		let written = '';
		return {
			write: async (text: string) => {
				if (this.dies) throw new DOMException('', 'QuotaExceededError');
				written += text;
			},
			close: async () => this.put(name, written),
			abort: async () => {}
		};
	}

	#fail(): void {
		if (this.failing) throw new DOMException('', this.failing);
	}
}

const pathOf = (folder: string, name: string) => (folder === '' ? name : `${folder}/${name}`);
