import { IDBFactory } from 'fake-indexeddb';
import { vi } from 'vitest';

// Files of tests share a process: each begins with an empty database, and with the clock of the machine.
globalThis.indexedDB = new IDBFactory();
vi.useRealTimers();
