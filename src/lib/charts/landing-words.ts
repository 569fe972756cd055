import type { LandingPoint } from './landing-geometry';

/** The 80 % interval of the drop at second 60, in beats. */
export interface LandingForecast {
	low: number;
	high: number;
}

/** What the rest came to; no drop where it could not be measured. */
export interface LandingResult {
	drop60?: number;
	verdict: string;
}

/** A drop as its figure: whole beats; a heart that still climbs carries a plus. */
export function dropFigure(drop: number): string {
	const beats = Math.round(drop);
	return beats < 0 ? `+${-beats}` : `${Math.abs(beats)}`;
}

/** The last second with a reading. */
export function lastReading(points: readonly LandingPoint[]): { s: number; bpm: number } | undefined {
	return points.findLast((point): point is { s: number; bpm: number } => point.bpm !== null);
}

/** The picture in one sentence, for those who do not see it. */
export function landingWords(
	bellBpm: number | undefined,
	points: readonly LandingPoint[],
	forecast?: LandingForecast,
	result?: LandingResult
): string {
	if (bellBpm === undefined) return 'No bell rate, so the drop of this rest cannot be measured';
	const bell = `Bell rate ${Math.round(bellBpm)}`;
	if (result) {
		const drop = result.drop60 === undefined ? 'not measured' : dropFigure(result.drop60);
		return `${bell}, 1-minute drop ${drop}, ${result.verdict}`;
	}
	const last = lastReading(points);
	if (!last) return `${bell}, no reading yet`;
	const drop = Math.round(bellBpm - last.bpm);
	const so = drop < 0 ? `up ${-drop}` : `down ${Math.abs(drop)}`;
	const ahead = forecast ? `, heading for ${dropFigure(forecast.low)} to ${dropFigure(forecast.high)}` : '';
	return `${bell}, ${so} after ${Math.round(last.s)} seconds${ahead}`;
}
