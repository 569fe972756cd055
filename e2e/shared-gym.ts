import type { BrowserContext, Page } from '@playwright/test';

/**
 * Two laptops whose folders a gym's own file sharing keeps equal. Each laptop is a browser context with a real
 * folder of its own in the origin-private file system, handed out in place of the picker, which no story can
 * drive: handles, their way through IndexedDB, reading, writing and swapping are Chromium's own. The file sharing
 * is played by `carry`, which copies what the other lacks, as late as the story wants.
 */
const folderName = 'Hall laptops';

/** Has every page of a laptop find the folder when it asks for one. */
export async function giveFolder(laptop: BrowserContext): Promise<void> {
	await laptop.addInitScript((folderName) => {
		Object.assign(window, {
			showDirectoryPicker: async () =>
				(await navigator.storage.getDirectory()).getDirectoryHandle(folderName, { create: true })
		});
	}, folderName);
}

/** From its next page on the browser asks again, as after a restart; `requestPermission` says yes. */
export async function losePermission(laptop: BrowserContext): Promise<void> {
	await laptop.addInitScript(() => {
		let answer = 'prompt';
		Object.assign(FileSystemHandle.prototype, {
			queryPermission: () => Promise.resolve(answer),
			requestPermission: () => Promise.resolve((answer = 'granted'))
		});
	});
}

/** The files in a laptop's folder and the folders within it, by path; words about what machines know left out. */
export async function filesOn(page: Page): Promise<Record<string, string>> {
	const files = Object.entries(await everythingOn(page));
	return Object.fromEntries(files.filter(([path]) => !path.endsWith('.knows-years.json')));
}

function everythingOn(page: Page): Promise<Record<string, string>> {
	return page.evaluate(async (folderName) => {
		const root = await navigator.storage.getDirectory();
		const folder = await root.getDirectoryHandle(folderName, { create: true });
		const files: Record<string, string> = {};
		const take = async (within: FileSystemDirectoryHandle, way: string) => {
			for await (const [name, handle] of within.entries()) {
				if (handle.kind === 'directory') {
					await take(handle as FileSystemDirectoryHandle, `${way}${name}/`);
					continue;
				}
				// One that is just being swapped in goes between its listing and its reading, as on any disk.
				try {
					files[way + name] = await (await (handle as FileSystemFileHandle).getFile()).text();
				} catch (error) {
					if (!(error instanceof DOMException && error.name === 'NotFoundError')) throw error;
				}
			}
		};
		await take(folder, '');
		return files;
	}, folderName);
}

export function putOn(page: Page, files: Record<string, string>): Promise<void> {
	return page.evaluate(
		async ([folderName, files]) => {
			const root = await navigator.storage.getDirectory();
			const folder = await root.getDirectoryHandle(folderName, { create: true });
			for (const [path, text] of Object.entries(files)) {
				const way = path.split('/');
				let within = folder;
				for (const name of way.slice(0, -1)) within = await within.getDirectoryHandle(name, { create: true });
				const file = await within.getFileHandle(way.at(-1)!, { create: true });
				const writable = await file.createWritable();
				await writable.write(text);
				await writable.close();
			}
		},
		[folderName, files] as const
	);
}

/** The gym's file sharing: takes to the second laptop what it lacks. */
export async function carry(from: Page, to: Page): Promise<void> {
	const [theirs, own] = [await everythingOn(from), await everythingOn(to)];
	await putOn(to, Object.fromEntries(Object.entries(theirs).filter(([name]) => !(name in own))));
}
