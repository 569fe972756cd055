import type { Chart, TooltipItem } from 'chart.js';
import { axisWidthPx, lineOptions, type LineChart } from './line-chart';
import type { Look } from './look';
import { reduceToPixels } from './reduce-to-pixels';
import { clockText, type OverStretch, type Stretch, type TracePhase, type TracePoint } from './trace';
import * as layers from './trace-layers';
import { paintDrops, paintMarks } from './trace-marks';
import { clockTicks, type XWindow } from './x-window';

/** A whole session as its picture needs it. */
export interface SessionPicture {
	points: readonly TracePoint[];
	phases: readonly TracePhase[];
	thresholdBpm?: number;
	spells: readonly OverStretch[];
	gaps: readonly Stretch[];
	peak?: { tS: number; bpm: number };
	/** Moments that were marked, in order. */
	marksS?: readonly number[];
}

/** Pixels left and right of the plot: what a pointer's position is measured against. */
export const plotInset = { left: axisWidthPx, right: 10 };

const headPx = 34;
/** Room under the plot for the drops, where there are any. */
const dropsPx = 26;
/** A picture lower than this has half of the rates at its side. */
const lowPx = 260;
/** Chart.js takes up to this off the plot, for what the last mark's figures reach out beyond it. */
const lastLabelPx = 30;

/** What Chart.js's own thinning sets: without it a second one runs over ours and draws up to five points a column. */
const alreadyThinned = { _decimated: true };

/** The trace of a session over its phases, for the part that is `shown`. */
export function traceChart(
	session: SessionPicture,
	shown: XWindow,
	look: Look,
	widthPx: number,
	heightPx: number
): LineChart {
	const plotPx = Math.max(1, widthPx - plotInset.left - plotInset.right);
	const reduced = reduceToPixels(session.points, shown.fromS, shown.toS, Math.max(1, plotPx - lastLabelPx));
	const data = reduced.map(({ tS, bpm }) => ({ x: tS, y: bpm }));
	const [low, high] = rateRange(session);
	const isLow = heightPx < lowPx;
	const hasDrops = session.phases.some(({ drop60 }) => drop60 !== undefined);

	const stageOf = (chart: Chart): layers.Stage => ({
		ctx: chart.ctx,
		area: chart.chartArea,
		headTop: chart.chartArea.top - headPx,
		xOf: (tS) => chart.scales.x!.getPixelForValue(tS),
		yOf: (bpm) => chart.scales.y!.getPixelForValue(bpm),
		look,
		pixelRatio: chart.currentDevicePixelRatio
	});

	const rates = rateTicks(low, high, isLow ? 40 : 20);
	const options = lineOptions(
		look,
		{
			min: shown.fromS,
			max: shown.toS,
			ticks: clockTicks(shown, Math.max(2, Math.floor(plotPx / 64))),
			textOf: clockText,
			...(hasDrops && { padding: 8 + dropsPx })
		},
		{ min: low, max: high, ticks: rates, textOf: String }
	);
	options.layout = { padding: { top: headPx, right: plotInset.right } };
	options.interaction = { mode: 'nearest', axis: 'x', intersect: false };
	options.plugins = { tooltip: tooltip(session, look) };

	return {
		data: {
			datasets: [
				{
					data,
					borderColor: look.chalk,
					borderWidth: 2,
					borderJoinStyle: 'round',
					pointRadius: 0,
					pointBackgroundColor: look.chalk,
					pointBorderWidth: 0,
					pointHoverRadius: 4,
					...alreadyThinned
				}
			]
		},
		options,
		paintGround: (chart) => layers.paintPhases(stageOf(chart), session.phases),
		paintBelow: (chart) => layers.paintSpells(stageOf(chart), session.spells, data),
		paintAbove: (chart) => {
			const stage = stageOf(chart);
			if (session.thresholdBpm !== undefined) layers.paintThreshold(stage, session.thresholdBpm, rates);
			layers.paintLoneReadings(stage, data);
			layers.paintGaps(stage, session.gaps);
			layers.paintPauses(stage, session.phases);
			if (session.peak) layers.paintPeak(stage, session.peak);
			paintMarks(stage, session.marksS ?? []);
			if (hasDrops) paintDrops(stage, session.phases, dropsPx);
		}
	};
}

/** The same for every part shown, so that moving along never rescales the rates. */
function rateRange({ points, thresholdBpm }: SessionPicture): [low: number, high: number] {
	let low = Infinity;
	let high = thresholdBpm ?? -Infinity;
	for (const { bpm } of points) {
		if (bpm === null) continue;
		low = Math.min(low, bpm);
		high = Math.max(high, bpm);
	}
	if (!Number.isFinite(low)) return [60, 200];
	return [Math.floor((low - 12) / 10) * 10, Math.ceil((high + 10) / 10) * 10];
}

function rateTicks(low: number, high: number, step: number): number[] {
	const ticks: number[] = [];
	for (let rate = Math.ceil(low / step) * step; rate <= high; rate += step) ticks.push(rate);
	return ticks;
}

function tooltip({ phases }: SessionPicture, look: Look) {
	const titleOf = (tS: number) => {
		const phase = phases.find(({ startS, endS }) => tS >= startS && tS < endS);
		if (!phase) return clockText(tS);
		const name = phase.kind === 'work' ? `round ${phase.round ?? ''}` : phase.kind;
		return `${name}, ${clockText(tS - phase.startS)} in`;
	};
	return {
		displayColors: false,
		backgroundColor: look.canvasRaised,
		borderColor: look.chalkDim,
		borderWidth: 1,
		cornerRadius: 0,
		caretSize: 0,
		caretPadding: 14,
		titleColor: look.chalkDim,
		titleFont: { family: look.text, size: 14, weight: 400 },
		bodyColor: look.chalk,
		bodyFont: { family: look.figures, size: 22, weight: 700 },
		callbacks: {
			title: (items: TooltipItem<'line'>[]) => titleOf(items[0]?.parsed.x ?? 0),
			label: (item: TooltipItem<'line'>) => `${item.parsed.y} at ${clockText(item.parsed.x ?? 0)}`
		}
	};
}
