import { shortDayWords } from '$lib/review/day-words';
import type { Chart } from 'chart.js';
import type { Range } from '$lib/physiology/range';
import { lineOptions, type LineChart } from './line-chart';
import type { Look } from './look';

/** Days are counted from 1 January 1970; weights in kg. */
export interface WeightPicture {
	weights: readonly { day: number; kg: number; medianKg?: number }[];
	path?: {
		fromDay: number;
		fromKg: number;
		weeks: readonly { toDay: number; kg: Range }[];
		goalDay: number;
		goalKg: number;
		safeKgPerWeek: number;
	};
	/** The eye's unit: how many kg are one of it. Stones are drawn in pounds. */
	kgPerUnit: number;
}

const dayMs = 86_400_000;
/** Weights of three figures stand beside the axis. */
const weightAxisWidthPx = 52;
const dateRoomPx = 92;

const dateWords = (day: number) => shortDayWords(day * dayMs, 'UTC');

/** Evenly spaced marks, `count` at the most, on steps that people count in. */
function ticksBetween(low: number, high: number, count: number, steps: readonly number[]): number[] {
	const step = steps.find((one) => (high - low) / one <= count) ?? steps.at(-1)!;
	const ticks: number[] = [];
	for (let tick = Math.ceil(low / step) * step; tick <= high; tick += step) ticks.push(tick);
	return ticks;
}

/**
 * Weights as rings with their 7-day median; ahead of them the planned line to the goal with the band in which the
 * weight may lie, the fastest loss that is safe, and the weigh-in. `kg` throughout; only the axis speaks the unit.
 */
export function weightChart(
	{ weights, path, kgPerUnit }: WeightPicture,
	look: Look,
	widthPx: number
): LineChart {
	const ahead = path && [
		{ day: path.fromDay, kg: { low: path.fromKg, value: path.fromKg, high: path.fromKg } },
		...path.weeks.map(({ toDay, kg }) => ({ day: path.fromDay + toDay, kg }))
	];
	const days = [...weights.map(({ day }) => day), ...(ahead ?? []).map(({ day }) => day)];
	const kgs = [...weights.map(({ kg }) => kg), ...(ahead ?? []).flatMap(({ kg }) => [kg.low, kg.high])];
	const fromDay = Math.min(...days);
	const toDay = Math.max(...days, fromDay + 7);
	const least = Math.min(...kgs) - 0.5;
	const most = Math.max(...kgs) + 0.5;
	const limitKg = path && path.fromKg - (path.safeKgPerWeek * (path.goalDay - path.fromDay)) / 7;

	const options = lineOptions(
		look,
		{
			min: fromDay - 0.5,
			max: toDay + 0.5,
			ticks: ticksBetween(fromDay, toDay, Math.max(2, Math.floor(widthPx / dateRoomPx) - 1), [
				...[1, 2, 7, 14, 28, 56, 112, 182, 364]
			]),
			textOf: dateWords
		},
		{
			min: least,
			max: most,
			ticks: ticksBetween(least / kgPerUnit, most / kgPerUnit, 6, [0.5, 1, 2, 5, 10, 20, 50]).map(
				(tick) => tick * kgPerUnit
			),
			textOf: (kg) => String(Math.round((kg / kgPerUnit) * 10) / 10)
		}
	);
	options.layout = { padding: { top: 8, right: 14 } };
	options.scales!.y!.afterFit = (axis) => {
		axis.width = weightAxisWidthPx;
	};

	const line = (data: { x: number; y: number }[], colour: string, widthPx: number, dash: number[] = []) => ({
		data,
		borderColor: colour,
		borderWidth: widthPx,
		borderDash: dash,
		pointRadius: 0
	});
	return {
		data: {
			datasets: [
				{
					data: weights.map(({ day, kg }) => ({ x: day, y: kg })),
					showLine: false,
					pointRadius: 4,
					pointBorderWidth: 2,
					pointBorderColor: look.chalkDim,
					pointBackgroundColor: look.canvas,
					order: 1
				},
				line(
					weights.flatMap(({ day, medianKg }) => (medianKg === undefined ? [] : { x: day, y: medianKg })),
					look.chalk,
					3
				),
				...(path && ahead && limitKg !== undefined
					? [
							line(
								ahead.map(({ day, kg }) => ({ x: day, y: kg.value })),
								look.chalk,
								2.5,
								[12, 6]
							),
							line(
								[
									{ x: path.fromDay, y: path.fromKg },
									{ x: path.goalDay, y: limitKg }
								],
								look.chalkDim,
								2,
								[2, 5]
							)
						]
					: [])
			]
		},
		options,
		paintBelow: (chart) => ahead && paintBand(chart, ahead, look),
		paintAbove: (chart) => path && paintWeighIn(chart, path.goalDay, path.goalKg, look)
	};
}

function paintBand(chart: Chart, ahead: readonly { day: number; kg: Range }[], look: Look): void {
	const { ctx, scales } = chart;
	const at = (day: number, kg: number) =>
		[scales.x!.getPixelForValue(day), scales.y!.getPixelForValue(kg)] as const;
	ctx.save();
	ctx.fillStyle = look.line;
	ctx.globalAlpha = 0.55;
	ctx.beginPath();
	for (const { day, kg } of ahead) ctx.lineTo(...at(day, kg.high));
	for (const { day, kg } of ahead.toReversed()) ctx.lineTo(...at(day, kg.low));
	ctx.fill();
	ctx.restore();
}

/** An upright at the day, with a mark at the goal, as a scale's beam has one. */
function paintWeighIn(chart: Chart, day: number, kg: number, look: Look): void {
	const { ctx, chartArea, scales } = chart;
	const x = scales.x!.getPixelForValue(day);
	const y = scales.y!.getPixelForValue(kg);
	ctx.save();
	ctx.strokeStyle = look.chalk;
	ctx.lineWidth = 1.5;
	ctx.beginPath();
	ctx.moveTo(x, chartArea.top);
	ctx.lineTo(x, chartArea.bottom);
	ctx.stroke();
	ctx.lineWidth = 4;
	ctx.beginPath();
	ctx.moveTo(x - 12, y);
	ctx.lineTo(x + 8, y);
	ctx.stroke();
	ctx.fillStyle = look.chalk;
	ctx.font = `600 18px ${look.text}`;
	ctx.textAlign = 'right';
	ctx.textBaseline = 'top';
	ctx.fillText('weigh-in', x - 8, chartArea.top + 4);
	ctx.restore();
}
