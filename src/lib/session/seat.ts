import type { Strap, StrapDetails, StrapReading } from '$lib/gatt/strap';
import { isPlausibleBpm } from '$lib/physiology/grid';
import { steadyStepBpm } from '$lib/physiology/settling';
import { oldBeatMs } from '$lib/record/limits';
import { RecentReadings } from './recent-readings';

const steadyS = 10;

export type StrapCheck = 'no packets' | 'no contact' | 'not steady' | 'ready';

/** The strap before the first bell, as the set-up screen shows it. */
export interface SeatView extends StrapDetails {
	strapName: string;
	practice: boolean;
	state: Strap['state']['kind'];
	/** Bluetooth itself is off, so the strap cannot be found again before it is on. */
	isAdapterOff?: true;
	bpm?: number;
	check: StrapCheck;
}

/** An athlete's place before the first bell: the strap and what it has sent so far, in the clock's time. */
export class Seat {
	/** What came before Start is still worth keeping. */
	readonly #recent = new RecentReadings<StrapReading>();
	/** When the signal was lost last: what came before is kept, and is none of the present. */
	#lostMs = -Infinity;
	readonly #leave: () => void;

	/** @param onChange called after every reading and every change of the strap's state */
	constructor(
		readonly strap: Strap,
		onChange: () => void
	) {
		const stops = [
			strap.onReading((reading) => {
				this.#recent.push(reading);
				onChange();
			}),
			strap.onChange(() => {
				if (strap.state.kind === 'lost') this.#lostMs = strap.state.sinceMs;
				onChange();
			})
		];
		this.#leave = () => stops.forEach((stop) => stop());
	}

	get readings(): readonly StrapReading[] {
		return this.#recent.all;
	}

	viewAt(nowMs: number): SeatView {
		const { state, name: strapName, practice, details } = this.strap;
		const check = this.check(nowMs);
		return {
			strapName,
			practice,
			state: state.kind,
			...(state.kind === 'lost' && state.isAdapterOff && { isAdapterOff: true }),
			...details,
			bpm: check === 'ready' || check === 'not steady' ? this.readings.at(-1)?.measurement.bpm : undefined,
			check
		};
	}

	/** Ten seconds of steady beats make a strap ready. */
	check(nowMs: number): StrapCheck {
		const fromMs = Math.max(nowMs - steadyS * 1000, this.#lostMs);
		const recent = this.readings.filter(({ ms }) => ms > fromMs);
		const latest = recent.at(-1);
		if (!latest || nowMs - latest.ms > oldBeatMs) return 'no packets';
		if (latest.measurement.contact === 'no contact') return 'no contact';
		const rates = recent.map(({ measurement }) => measurement.bpm);
		const isSteady =
			// From first to last: packets come about once a second, so the first of ten is nine seconds old.
			latest.ms - recent[0]!.ms >= (steadyS - 1.5) * 1000 &&
			rates.length >= steadyS - 2 &&
			recent.every(({ measurement }) => measurement.contact !== 'no contact') &&
			rates.every(isPlausibleBpm) &&
			rates.every((bpm, i) => i === 0 || Math.abs(bpm - rates[i - 1]!) <= steadyStepBpm);
		return isSteady ? 'ready' : 'not steady';
	}

	/** Stops listening; the strap itself stays connected. */
	leave(): void {
		this.#leave();
	}
}
