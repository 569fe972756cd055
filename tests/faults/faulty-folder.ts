import { FakeFolder } from '../store/fake-folder';

/**
 * The name of the error that a call ends with; `half`: a file has half of what was written to it, and the call fails;
 * `silence`: the call is never answered.
 */
export const callFaults = [
	'NotReadableError',
	'NotFoundError',
	'NotAllowedError',
	'QuotaExceededError',
	'half',
	'silence'
] as const;
export type CallFault = (typeof callFaults)[number];

/** A folder of which one call fails, counted from 1. */
export class FaultyFolder extends FakeFolder {
	#seen = 0;
	#hang = () => {};
	readonly #hung = new Promise<void>((resolve) => (this.#hang = resolve));
	fault: { kind: CallFault; call: number } | undefined;
	/** What failed, once it has. */
	played = '';

	/** Resolves once a call waits for ever. A member that is no property, because a handle is cloned. */
	hung(): Promise<void> {
		return this.#hung;
	}

	static over(folder: FakeFolder): FaultyFolder {
		const copy = new FaultyFolder(folder.name);
		for (const [name, { text }] of folder.files) copy.put(name, text);
		return copy;
	}

	override async *keys(folder = ''): AsyncGenerator<string> {
		await this.#call(`keys of ${folder}`);
		for await (const name of super.keys(folder)) {
			yield name;
			await this.#call('the next of keys');
		}
	}

	override async getDirectoryHandle(name: string, options: { create?: boolean } = {}, folder = '') {
		await this.#call(`getDirectoryHandle of ${name}`);
		return super.getDirectoryHandle(name, options, folder);
	}

	override async getFileHandle(file: string, options: { create?: boolean } = {}, folder = '') {
		const name = folder === '' ? file : `${folder}/${file}`;
		await this.#call(`getFileHandle of ${name}`);
		const handle = await super.getFileHandle(file, options, folder);
		return {
			getFile: async () => {
				await this.#call(`getFile of ${name}`);
				const file = await handle.getFile();
				const text = async () => {
					await this.#call(`text of ${name}`);
					return file.text();
				};
				return { ...file, text };
			},
			createWritable: async () => {
				await this.#call(`createWritable of ${name}`);
				return this.#watched(name, await handle.createWritable());
			}
		};
	}

	override async removeEntry(name: string, folder = ''): Promise<void> {
		await this.#call(`removeEntry of ${folder}/${name}`);
		await super.removeEntry(name, folder);
	}

	#watched(
		name: string,
		writable: Awaited<ReturnType<Awaited<ReturnType<FakeFolder['getFileHandle']>>['createWritable']>>
	) {
		let written = '';
		const half = () => this.put(name, written.slice(0, written.length / 2));
		return {
			...writable,
			write: async (text: string) => {
				written = text;
				await this.#call(`write of ${name}`, half);
				await writable.write(text);
			},
			close: async () => {
				await this.#call(`close of ${name}`, half);
				await writable.close();
			}
		};
	}

	async #call(what: string, half?: () => void): Promise<void> {
		if (!this.fault || ++this.#seen !== this.fault.call) return;
		const { kind } = this.fault;
		this.played = what;
		if (kind === 'silence') {
			this.#hang();
			return new Promise(() => undefined);
		}
		if (kind === 'half') half?.();
		throw new DOMException('', kind === 'half' ? 'UnknownError' : kind);
	}
}
