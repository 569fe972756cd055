import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { openDatabase, type UseStore } from '$lib/store/database';

/**
 * - `error`: the request fails with an error event; of a transaction, the connection is lost as it is opened.
 * - `abort`: its transaction is ended from outside, as by a disk that is found full.
 * - `silence`: it is never answered; of a completion, what was written is there and nobody is told.
 */
export type FaultKind = 'error' | 'abort' | 'silence';
export const faultKinds: readonly FaultKind[] = ['error', 'abort', 'silence'];

/** Steps are counted from 1: each opening, transaction, request, and completion is one. */
export interface Fault {
	kind: FaultKind;
	step: number;
}

interface Armed extends Fault {
	seen: number;
}
let armed: Armed | undefined;

function due(): FaultKind | undefined {
	return armed && ++armed.seen === armed.step ? armed.kind : undefined;
}

/** From now on this step fails; without a fault none does. */
export function arm(fault?: Fault): void {
	armed = fault && { ...fault, seen: 0 };
}

/** How many steps were asked for since. */
export const stepsSeen = () => armed?.seen ?? 0;
export const isPlayed = () => armed !== undefined && armed.seen >= armed.step;

/** It was played, and something waits for ever now. */
export const isSilenced = () => isPlayed() && armed?.kind === 'silence';

/** What of fake-indexeddb a fault reaches into. */
interface Inner extends IDBTransaction {
	_requests: { request: IDBRequest }[];
	_rollbackLog: (() => void)[];
	_started: boolean;
	_state: string;
	_start(): void;
	_abort(name: string): void;
	_execRequestAsync(asked: { operation: () => unknown; source?: unknown }): IDBRequest;
}
interface InnerDatabase {
	transactions: Inner[];
	rawObjectStores: Map<string, { records: { values(): Iterable<{ key: string; value: unknown }> } }>;
}

const silent = new WeakSet<object>();

const { open } = IDBFactory.prototype;
IDBFactory.prototype.open = function (...given) {
	const kind = due();
	if (!kind) return open.apply(this, given);
	const request = new IDBOpenDBRequest();
	if (kind !== 'silence')
		setImmediate(() => {
			const error = new DOMException('', kind === 'abort' ? 'AbortError' : 'UnknownError');
			Object.assign(request, { readyState: 'done', error });
			request.onerror?.call(request, new Event('error'));
		});
	return request;
};

const { transaction } = IDBDatabase.prototype;
IDBDatabase.prototype.transaction = function (names, mode, options) {
	// The one that makes the tables is the browser's own; it may still fail to complete.
	const kind = (mode as string) === 'versionchange' ? undefined : due();
	if (kind === 'error') {
		this.close();
		setImmediate(() => this.onclose?.call(this, new Event('close')));
		throw new DOMException('', 'InvalidStateError');
	}
	const made = transaction.call(this, names, mode, options) as Inner;
	if (kind === 'abort') setImmediate(() => endFromOutside(made));
	if (kind === 'silence') silent.add(made);
	return made;
};

const inner = IDBTransaction.prototype as Inner;
const ask = inner._execRequestAsync;
inner._execRequestAsync = function (this: Inner, asked) {
	const kind = asked.source ? due() : undefined;
	if (kind === 'abort') setImmediate(() => endFromOutside(this));
	const name = this.mode === 'readonly' ? 'UnknownError' : 'QuotaExceededError';
	const operation = () => {
		throw new DOMException('', name);
	};
	const request = ask.call(this, kind === 'error' ? { ...asked, operation } : asked);
	if (kind === 'silence') silent.add(request);
	return request;
};

const start = inner._start;
inner._start = function (this: Inner) {
	const next = this._requests.find(({ request }) => request.readyState !== 'done');
	if (!next && this._state !== 'finished') {
		const kind = due();
		if (kind === 'silence') {
			this._rollbackLog = [];
			silent.add(this);
		} else if (kind) return this._abort('QuotaExceededError');
	}
	this._started = true;
	if (silent.has(this) || (next && silent.has(next.request))) return;
	start.call(this);
};

function endFromOutside(transaction: Inner): void {
	if (transaction._state !== 'finished') transaction._abort('QuotaExceededError');
}

/** The entries of each of the page's databases, by name and key. */
export type Disk = Map<string, Map<string, unknown>>;

/** What lies on the disk of a page that is gone: whatever had not completed never was. */
export function diskOf(factory: IDBFactory): Disk {
	const { _databases } = factory as IDBFactory & { _databases: Map<string, InnerDatabase> };
	const disk: Disk = new Map();
	for (const [name, { transactions, rawObjectStores }] of _databases) {
		for (const { _state, _rollbackLog } of transactions)
			if (_state !== 'finished') for (const undo of _rollbackLog.splice(0).reverse()) undo();
		for (const { records } of rawObjectStores.values())
			disk.set(name, new Map(Array.from(records.values(), ({ key, value }) => [key, value])));
	}
	return disk;
}

/** A page that has just been opened over this disk. */
export async function pageOver(disk: Disk, openOne: () => UseStore = openDatabase): Promise<UseStore> {
	globalThis.indexedDB = new IDBFactory();
	const fault = armed;
	armed = undefined;
	for (const [name, entries] of disk) {
		const opening = indexedDB.open(name);
		opening.onupgradeneeded = () => {
			const objects = opening.result.createObjectStore(tableNames[name] ?? 'entries');
			for (const [key, value] of entries) objects.put(value, key);
		};
		await new Promise((resolve) => (opening.onsuccess = resolve));
		opening.result.close();
	}
	armed = fault;
	return openOne();
}

const tableNames: Record<string, string> = { 'corner-minute-index': 'origins' };
