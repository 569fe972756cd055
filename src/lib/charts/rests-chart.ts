import type { Chart } from 'chart.js';
import { bandFarBeats, bandNearBeats, judgedAtS } from './landing-geometry';
import { lineOptions, type LineChart } from './line-chart';
import type { Look } from './look';
import { minuteScale } from './minute-scale';
import { spreadLabels } from './spread-labels';

export interface RestTrace {
	round: number;
	/** What was done before it, in a session of several activities. */
	activity?: string;
	bellBpm: number;
	/** Seconds after the bell. */
	points: readonly { s: number; bpm: number | null }[];
	/** Absent where it could not be measured. */
	drop60?: number;
}

const dashes = [[], [12, 5], [3, 5], [16, 4, 3, 4], [7, 4], [22, 4, 3, 4, 3, 4]] as const;

/** The stroke of a rest: dashes take turns, and later rests are heavier, so that order shows as well. */
export function strokeOf(index: number, count: number): { dash: number[]; widthPx: number } {
	const share = count > 1 ? index / (count - 1) : 1;
	return { dash: [...dashes[index % dashes.length]!], widthPx: 1.75 + 2.25 * share };
}

const stripFromS = 42;
const labelRoomPx = 74;
const labelGapPx = 23;

/**
 * All rests of a session from one bell: seconds to the right, beats below the bell rate downwards. The minute that is
 * judged has the width; what a longer rest goes on with is drawn closer together at the right.
 */
export function restsChart(rests: readonly RestTrace[], picked: number | undefined, look: Look): LineChart {
	const scale = minuteScale(rests.flatMap(({ points }) => points.at(-1)?.s ?? []));
	const drops = rests.map(({ bellBpm, points }) =>
		points.map(({ s, bpm }) => ({ x: scale.xOf(s), y: bpm === null ? null : bellBpm - bpm }))
	);
	const all = drops.flat();
	const top = all.reduce((least, { y }) => Math.min(least, (y ?? 0) - 3), -8);
	const bottom = all.reduce((most, { y }) => Math.max(most, (y ?? 0) + 4), bandFarBeats + 8);
	const isDim = (index: number) => picked !== undefined && picked !== index;

	const ticks = [];
	for (let drop = 0; drop <= bottom; drop += 20) ticks.push(drop);
	const options = lineOptions(
		look,
		{
			min: 0,
			max: scale.end,
			ticks: scale.ticks.map(({ x }) => x),
			textOf: (at) => scale.ticks.find(({ x }) => x === at)?.text ?? ''
		},
		{ min: top, max: bottom, reverse: true, ticks, textOf: (drop) => (drop === 0 ? 'bell' : `${drop}`) }
	);
	options.layout = { padding: { top: 6, right: labelRoomPx } };

	return {
		data: {
			datasets: drops.map((data, index) => {
				const { dash, widthPx } = strokeOf(index, rests.length);
				return {
					data,
					borderColor: isDim(index) ? look.chalkDim : look.chalk,
					borderWidth: isDim(index) ? 1 : picked === index ? 5 : widthPx,
					borderDash: dash,
					borderJoinStyle: 'round',
					pointRadius: 0,
					order: picked === index ? 0 : 1
				};
			})
		},
		options,
		paintBelow: (chart) => paintStrip(chart, look),
		paintAbove: (chart) => paintNames(chart, rests, drops, isDim, look)
	};
}

function paintStrip(chart: Chart, look: Look): void {
	const { ctx, chartArea, scales } = chart;
	const left = scales.x!.getPixelForValue(stripFromS);
	const right = scales.x!.getPixelForValue(judgedAtS);
	const top = scales.y!.getPixelForValue(bandNearBeats);
	const bottom = scales.y!.getPixelForValue(bandFarBeats);
	const bell = scales.y!.getPixelForValue(0);
	ctx.save();
	ctx.fillStyle = look.strip;
	ctx.fillRect(left, top, right - left, bottom - top);
	ctx.strokeStyle = look.rest;
	ctx.lineWidth = 2;
	ctx.strokeRect(left, top, right - left, bottom - top);
	ctx.fillStyle = look.rest;
	for (let bar = 0; bar < 5; bar++) {
		ctx.fillRect(left + 7, top + ((bar + 0.5) / 5) * (bottom - top) - 2, 16, 4);
	}
	// The lines never come down here: they fall from the upper left to the lower right.
	ctx.fillStyle = look.chalkDim;
	ctx.font = `400 17px ${look.text}`;
	ctx.textBaseline = 'bottom';
	const words = 'beats below the bell rate';
	// On a phone there is no room for them beside the strip.
	if (chartArea.left + 16 + ctx.measureText(words).width < left)
		ctx.fillText(words, chartArea.left + 8, bottom - 6);
	ctx.strokeStyle = look.chalkDim;
	ctx.lineWidth = 1.5;
	ctx.beginPath();
	ctx.moveTo(chartArea.left, bell);
	ctx.lineTo(chartArea.right, bell);
	ctx.stroke();
	if (right < chartArea.right - 1) {
		// The scale changes here.
		ctx.setLineDash([2, 5]);
		ctx.beginPath();
		ctx.moveTo(right, chartArea.top);
		ctx.lineTo(right, chartArea.bottom);
		ctx.stroke();
	}
	ctx.restore();
}

/** Each rest named at the right, level with its end as far as the names leave each other room. */
function paintNames(
	chart: Chart,
	rests: readonly RestTrace[],
	drops: readonly { x: number; y: number | null }[][],
	isDim: (index: number) => boolean,
	look: Look
): void {
	const { ctx, chartArea, scales } = chart;
	const ends = drops.flatMap((points, index) => {
		const end = points.findLast(({ y }) => y !== null);
		if (!end) return [];
		return [
			{ index, at: end.x, x: scales.x!.getPixelForValue(end.x), y: scales.y!.getPixelForValue(end.y!) }
		];
	});
	const levels = spreadLabels(
		ends.map(({ y }) => y),
		labelGapPx,
		chartArea.top + 10,
		chartArea.bottom - 10
	);
	ctx.save();
	ctx.textBaseline = 'middle';
	ctx.lineWidth = 1;
	for (const [place, { index, at, x, y }] of ends.entries()) {
		const level = levels[place]!;
		ctx.strokeStyle = look.chalkDim;
		ctx.beginPath();
		ctx.moveTo(x + 3, y);
		ctx.lineTo(chartArea.right + 12, level);
		ctx.stroke();
		ctx.fillStyle = isDim(index) ? look.chalkDim : look.chalk;
		ctx.font = `700 22px ${look.figures}`;
		const { round, drop60 } = rests[index]!;
		ctx.fillText(`R${round}`, chartArea.right + 16, level);
		// A line that goes on past second 60 does not end at the drop there.
		if (drop60 === undefined || at > judgedAtS + 1) continue;
		ctx.font = `400 22px ${look.figures}`;
		ctx.fillText(`${Math.round(drop60)}`, chartArea.right + 48, level);
	}
	ctx.restore();
}
