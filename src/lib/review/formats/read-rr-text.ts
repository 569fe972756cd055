import { longestMeasuredMs } from '$lib/record/limits';
import { firstLines, linesOf, refused, short, type CsvAnswer, type TracePoint } from '../csv-import';
import { readNumber } from '../csv-times';

const mostIntervals = 400_000;
/** So many characters tell what a text is. */
const looksLikeBy = 4000;
// What the 16 bits of a record hold in 1/1024 s.
const longestRrMs = 63_999;
// Under the shortest interval of any heart in ms, and over the longest in seconds.
const leastTypicalMs = 20;
/** How long a gap is no file says; so long it is shown (own rule), which is enough to join no beats across it. */
const gapMs = 3000;
// As often as a strap sends.
const packetMs = 1000;
const mostInPacket = 255;
const mostBpm = 0xffff;

/**
 * Reads RR intervals from plain text, one in ms a line. A line that begins with # tells nothing, unless it says "gap", or
 * "simulated". The beats are put into packets of about a second, as a strap would have sent them, each with the mean rate of its
 * intervals. A line that cannot be read refuses the whole.
 *
 * @returns undefined where it is no such text: where one of its first lines is no number
 */
export function readRrText(text: string): CsvAnswer | undefined {
	const beginning = firstLines(text.slice(0, looksLikeBy), looksLikeBy).map(({ line }) => line.trim());
	const first = beginning.find((line) => !line.startsWith('#')) ?? '';
	if (!/^\d+([.,]\d+)?$/.test(first)) return undefined;
	const lines = linesOf(text, mostIntervals);
	if (!lines)
		return refused(
			`The file has over ${mostIntervals.toLocaleString('en')} lines, more than any recording has.`
		);
	const beats = new BeatsTaken();
	let isSimulated = false;
	for (const { line, number } of lines) {
		const told = line.trim();
		if (told.startsWith('#')) {
			isSimulated ||= /\bsimulated\b/i.test(told);
			if (/\bgap\b/i.test(told)) beats.gap();
			continue;
		}
		const rrMs = readNumber(told);
		if (rrMs === undefined || rrMs < 0 || rrMs > longestRrMs)
			return refused(`Line ${number}: "${short(told)}" is no RR interval in milliseconds.`);
		beats.take(rrMs);
	}
	const { points, typicalMs, gaps } = beats.end();
	if (points.length < 2) return refused('The file has fewer than two seconds of RR intervals.');
	if (typicalMs < leastTypicalMs)
		return refused('The intervals look like seconds. They must be in milliseconds: multiply each by 1,000.');
	if (points.at(-1)!.s * 1000 > longestMeasuredMs)
		return refused('The intervals come to more than a week, which no recording does.');
	const gapWords =
		gaps === 0 ? 'none' : `${gaps}, each shown as ${gapMs / 1000} s: the file does not say how long`;
	return {
		status: 'read',
		trace: {
			points,
			...(isSimulated && { isSimulated: true }),
			recognised: { form: 'RR intervals, one a line', gaps: gapWords }
		}
	};
}

class BeatsTaken {
	readonly #points: TracePoint[] = [];
	#packet: number[] = [];
	#sumMs = 0;
	#count = 0;
	#total = 0;
	#atMs = 0;
	#gaps = 0;

	take(rrMs: number): void {
		this.#packet.push(rrMs);
		this.#sumMs += rrMs;
		this.#count++;
		this.#total += rrMs;
		if (this.#sumMs >= packetMs || this.#packet.length === mostInPacket) this.#send();
	}
	/** Before the first beat there is nothing to be parted. */
	gap(): void {
		this.#send();
		if (this.#points.length === 0) return;
		this.#gaps++;
		this.#atMs += gapMs;
	}
	end() {
		this.#send();
		return { points: this.#points, typicalMs: this.#total / Math.max(1, this.#count), gaps: this.#gaps };
	}
	#send(): void {
		if (this.#packet.length === 0) return;
		this.#atMs += this.#sumMs;
		const meanMs = this.#sumMs / this.#packet.length;
		const bpm = meanMs > 0 ? Math.min(mostBpm, Math.round(60_000 / meanMs)) : 0;
		this.#points.push({ s: Math.round(this.#atMs) / 1000, bpm, rrMs: this.#packet });
		this.#packet = [];
		this.#sumMs = 0;
	}
}
