/** A page of either driver. */
export interface AnyPage {
	evaluate(work: () => Promise<string>): Promise<string>;
}

/**
 * All keys of the page's database with what lies there, typed arrays as plain ones. Reads the database itself, on
 * purpose not with the page's own code. The page must stand on its own address.
 */
export async function entriesIn(page: AnyPage): Promise<[string, unknown][]> {
	const entries = await page.evaluate(async () => {
		const done = <T>(request: IDBRequest<T>) =>
			new Promise<T>((resolve, reject) => {
				request.onsuccess = () => resolve(request.result);
				request.onerror = () => reject(request.error);
			});
		const database = await done(indexedDB.open('corner-minute'));
		const objects = database.transaction('entries').objectStore('entries');
		const [keys, values] = await Promise.all([done(objects.getAllKeys()), done(objects.getAll())]);
		database.close();
		return JSON.stringify(
			keys.map((key, i) => [String(key), values[i] as unknown]),
			(_, value: unknown) => (ArrayBuffer.isView(value) ? Array.from(value as Uint16Array) : value)
		);
	});
	return JSON.parse(entries) as [string, unknown][];
}
