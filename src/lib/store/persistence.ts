/** Whether the browser promised to keep what is stored; `unknown` where it does not say. */
export type Persistence = 'granted' | 'not granted' | 'unknown';

/** Never rejects. */
export function persistence(): Promise<Persistence> {
	return asked((storage) => storage.persisted());
}

/** Asks for the promise; some browsers ask the person, others decide by themselves. Never rejects. */
export function askPersistence(): Promise<Persistence> {
	return asked((storage) => storage.persist());
}

async function asked(question: (storage: StorageManager) => Promise<boolean>): Promise<Persistence> {
	// Absent on an insecure address and in older browsers, whatever the types say.
	const storage = navigator.storage as StorageManager | undefined;
	try {
		return storage ? ((await question(storage)) ? 'granted' : 'not granted') : 'unknown';
	} catch {
		return 'unknown';
	}
}
