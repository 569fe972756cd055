/**
 * A folder in memory with the members of `FileSystemDirectoryHandle` that the page uses, and the errors that the
 * File System standard names. What is written appears when the writable is closed, as the standard has it.
 */
export class FakeFolder {
	readonly kind = 'directory';
	readonly files = new Map<string, { text: string; modifiedMs: number }>();
	readonly opened: string[] = [];
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
	}

	/** What a program does that keeps folders equal: takes over what the other has and this lacks. */
	copyFrom(other: FakeFolder): void {
		for (const [name, { text }] of other.files) if (!this.files.has(name)) this.put(name, text);
	}

	async *keys(): AsyncGenerator<string> {
		this.#fail();
		// Later ones first, so that nobody relies on an order the standard does not promise.
		for (const name of [...this.files.keys()].reverse()) yield name;
	}

	async getFileHandle(name: string, options: { create?: boolean } = {}) {
		this.#fail();
		if (!this.files.has(name)) {
			if (!options.create) throw new DOMException(name, 'NotFoundError');
			this.put(name, '');
		}
		return { getFile: () => this.#file(name), createWritable: () => this.#writable(name) };
	}

	async removeEntry(name: string): Promise<void> {
		this.#fail();
		if (!this.files.delete(name)) throw new DOMException(name, 'NotFoundError');
	}

	async #file(name: string) {
		const { text, modifiedMs } = this.files.get(name)!;
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
