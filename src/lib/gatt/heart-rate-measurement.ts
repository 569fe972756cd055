/** One decoded Heart Rate Measurement (0x2A37). */
export interface HeartRateMeasurement {
	/** Beats per minute as sent, 0 to 65535. */
	bpm: number;
	contact: 'not supported' | 'no contact' | 'contact';
	/** Energy expended since the last reset, kJ; absent from most packets, which does not mean zero. */
	energyKJ?: number;
	/** RR intervals in milliseconds (multiples of 1000/1024), oldest first. */
	rrMs: number[];
}
