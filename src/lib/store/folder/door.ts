/**
 * The one door to the File System Access API, which TypeScript's own declarations know only in part.
 *
 * A folder's handle survives in IndexedDB (it is cloned), the permission to use it does not always: after a
 * restart the browser may ask again, and only upon a click.
 */
type Permission = 'granted' | 'denied' | 'prompt';
interface PermissionVerbs {
	queryPermission?(of: { mode: 'readwrite' }): Promise<Permission>;
	requestPermission?(of: { mode: 'readwrite' }): Promise<Permission>;
}
type Picker = (options: { id: string; mode: 'readwrite' }) => Promise<FileSystemDirectoryHandle>;

/** What the folder asks of the browser. */
export interface FolderDoor {
	/** Undefined where this browser cannot hand out a folder. */
	pick?: () => Promise<FileSystemDirectoryHandle>;
	mayUse(handle: FileSystemDirectoryHandle): Promise<boolean>;
	/** Shows the browser's question; for a click alone. */
	ask(handle: FileSystemDirectoryHandle): Promise<boolean>;
}

export function browserFolderDoor(): FolderDoor {
	const { showDirectoryPicker: picker } = globalThis as { showDirectoryPicker?: Picker };
	return {
		...(picker && { pick: () => picker({ id: 'corner-minute', mode: 'readwrite' }) }),
		mayUse: async (handle) => (await permission(handle, 'queryPermission')) === 'granted',
		ask: async (handle) => (await permission(handle, 'requestPermission')) === 'granted'
	};
}

async function permission(
	handle: FileSystemDirectoryHandle & PermissionVerbs,
	verb: 'queryPermission' | 'requestPermission'
): Promise<Permission> {
	// A browser without the verbs hands out no handle that would need them.
	return (await handle[verb]?.({ mode: 'readwrite' })) ?? 'granted';
}

export interface OpenedFile {
	size: number;
	/** Epoch milliseconds. */
	modifiedMs: number;
	text(): Promise<string>;
}

/**
 * The chosen folder: files, and files in folders within it. A path is a name, or names from the outermost folder on,
 * as `files/2027/a.session.json`. Everything rejects with the `DOMException` of the browser.
 */
export interface FolderFiles {
	/** What lies in the chosen folder, or in one within it; `NotFoundError` where that is not there. */
	names(folder?: string): AsyncIterable<string>;
	open(path: string): Promise<OpenedFile>;
	/** The file is there whole or, apart from an empty one of its name, not at all. Folders on its way are made. */
	write(path: string, text: string): Promise<void>;
	/** Removing what is not there is no error. */
	remove(path: string): Promise<void>;
}

export function filesIn(chosen: FileSystemDirectoryHandle): FolderFiles {
	const known = new Map<string, FileSystemDirectoryHandle>();
	/** A handle says where a folder lies, whether or not it is still there. */
	async function folderAt(way: readonly string[], create = false): Promise<FileSystemDirectoryHandle> {
		const path = way.join('/');
		if (way.length === 0) return chosen;
		if (!create && known.has(path)) return known.get(path)!;
		const outer = await folderAt(way.slice(0, -1), create);
		const folder = await outer.getDirectoryHandle(way.at(-1)!, { create });
		known.set(path, folder);
		return folder;
	}
	const split = (path: string): [way: string[], name: string] => {
		const parts = path.split('/');
		return [parts.slice(0, -1), parts.at(-1)!];
	};
	return {
		async *names(folder) {
			yield* (await folderAt(folder?.split('/') ?? [])).keys();
		},
		async open(path) {
			const [way, name] = split(path);
			const file = await (await (await folderAt(way)).getFileHandle(name)).getFile();
			return { size: file.size, modifiedMs: file.lastModified, text: () => file.text() };
		},
		// createWritable writes beside the file and swaps at close (File System standard, "create a
		// FileSystemWritableFileStream", "close"), so no second name and no move are needed. A crash in between
		// leaves the empty file that getFileHandle made, and a program that copies the folder may copy half of
		// one: both are told by the missing seal.
		async write(path, text) {
			const [way, name] = split(path);
			const file = await (await folderAt(way, true)).getFileHandle(name, { create: true });
			const writable = await file.createWritable();
			try {
				await writable.write(text);
			} catch (error) {
				await writable.abort().catch(() => undefined);
				throw error;
			}
			await writable.close();
		},
		async remove(path) {
			const [way, name] = split(path);
			try {
				await (await folderAt(way)).removeEntry(name);
			} catch (error) {
				if (!isGone(error)) throw error;
			}
		}
	};
}

/** The same folder; `note` is told when a call begins to wait for its answer, and when it has it. */
export function watched(files: FolderFiles, note: (isWaiting: boolean) => void): FolderFiles {
	async function heard<T>(call: Promise<T>): Promise<T> {
		note(true);
		try {
			return await call;
		} finally {
			note(false);
		}
	}
	return {
		async *names(folder) {
			const names = files.names(folder)[Symbol.asyncIterator]();
			for (;;) {
				const { done, value } = await heard(names.next());
				if (done) return;
				yield value;
			}
		},
		async open(path) {
			const file = await heard(files.open(path));
			return { ...file, text: () => heard(file.text()) };
		},
		write: (path, text) => heard(files.write(path, text)),
		remove: (path) => heard(files.remove(path))
	};
}

/** The file or folder is not there any more. */
export const isGone = (error: unknown) => error instanceof Error && error.name === 'NotFoundError';
/** The browser wants to be asked again. */
export const isForbidden = (error: unknown) =>
	error instanceof Error && (error.name === 'NotAllowedError' || error.name === 'SecurityError');
/** A file lies where a folder is looked for. */
export const isNoFolder = (error: unknown) => error instanceof Error && error.name === 'TypeMismatchError';
/** Nobody chose anything. */
export const isDismissed = (error: unknown) => error instanceof Error && error.name === 'AbortError';
