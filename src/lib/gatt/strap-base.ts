import { decodeHeartRateMeasurement, MalformedMeasurement } from './heart-rate-measurement';
import { Listeners } from './listeners';
import type { Strap, StrapDetails, StrapReading, StrapState } from './strap';

/** What every strap does alike: it decodes packets, counts the malformed ones and tells its listeners. */
export abstract class StrapBase implements Strap {
	#state: StrapState = { kind: 'idle' };
	#details: StrapDetails = {};
	#malformedCount = 0;
	readonly #readingListeners = new Listeners<[StrapReading]>();
	readonly #changeListeners = new Listeners<[]>();

	constructor(
		readonly name: string,
		readonly practice: boolean
	) {}

	abstract connect(): Promise<void>;
	/** Gives back whatever the kind of strap holds. Called once. */
	protected abstract release(): void;

	get state(): StrapState {
		return this.#state;
	}
	get details(): StrapDetails {
		return this.#details;
	}
	get malformedCount(): number {
		return this.#malformedCount;
	}
	get nextDueMs(): number {
		return Infinity;
	}
	catchUp(): void {}

	onReading(listener: (reading: StrapReading) => void): () => void {
		return this.#readingListeners.add(listener);
	}
	onChange(listener: () => void): () => void {
		return this.#changeListeners.add(listener);
	}

	close(): void {
		if (this.is('closed')) return;
		this.become({ kind: 'closed' });
		this.#readingListeners.clear();
		this.#changeListeners.clear();
		this.release();
	}

	/** Asks afresh, which a comparison in place would not after an await: the compiler remembers what it saw before. */
	protected is(kind: StrapState['kind']): boolean {
		return this.#state.kind === kind;
	}

	protected become(state: StrapState): void {
		this.#state = state;
		this.#changeListeners.tell();
	}

	protected learn(details: StrapDetails): void {
		this.#details = { ...this.#details, ...details };
		this.#changeListeners.tell();
	}

	/** One packet of 0x2A37 that arrived at `ms` on the clock. */
	protected receive(ms: number, bytes: DataView): void {
		try {
			this.#readingListeners.tell({ ms, measurement: decodeHeartRateMeasurement(bytes) });
		} catch (error) {
			if (!(error instanceof MalformedMeasurement)) throw error;
			this.#malformedCount++;
			this.#changeListeners.tell();
		}
	}
}
