import type { Chart, ChartData, ChartOptions, ScaleOptionsByType } from 'chart.js';
import type { Look } from './look';

export interface XY {
	x: number;
	y: number | null;
}

/** A whole line chart: what a picture hands to the canvas, with what we paint around the lines ourselves. */
export interface LineChart {
	data: ChartData<'line', XY[]>;
	options: ChartOptions<'line'>;
	/** Painted before the grid. */
	paintGround?: (chart: Chart) => void;
	/** Painted between the grid and the lines. */
	paintBelow: (chart: Chart) => void;
	/** Painted over the lines. */
	paintAbove: (chart: Chart) => void;
}

/** Fixed room for the axes, so that the width left for the trace is known before Chart.js lays out. */
export const axisWidthPx = 40;

type Axis = Pick<ScaleOptionsByType<'linear'>, 'min' | 'max'> & {
	ticks: number[];
	textOf: (tick: number) => string;
	/** Pixels between the plot and its figures, where more than usual. */
	padding?: number;
};

/** Options all our pictures share: no animation, our own ticks, gaps left open. */
export function lineOptions(look: Look, x: Axis, y: Axis & { reverse?: boolean }): ChartOptions<'line'> {
	const scale = ({ ticks, textOf, padding = 8, ...rest }: Axis & { reverse?: boolean }, grid: boolean) => ({
		...rest,
		type: 'linear' as const,
		border: { display: false },
		grid: { display: grid, color: look.line, lineWidth: 1, drawTicks: false },
		afterBuildTicks: (axis: { ticks: { value: number }[] }) => {
			axis.ticks = ticks.map((value) => ({ value }));
		},
		ticks: {
			color: look.chalkDim,
			font: { family: look.figures, size: 17 },
			padding,
			autoSkip: false,
			maxRotation: 0,
			callback: (value: string | number) => textOf(Number(value))
		}
	});
	return {
		responsive: false,
		maintainAspectRatio: false,
		animation: false,
		normalized: true,
		parsing: false,
		spanGaps: false,
		scales: {
			x: {
				...scale(x, false),
				// Chart.js keeps the padding free on both sides of the figures; only the plot's side needs it.
				afterFit: (axis: { height: number }) => {
					axis.height -= Math.max(0, (x.padding ?? 0) - 8);
				}
			},
			y: {
				...scale(y, true),
				afterFit: (axis: { width: number }) => {
					axis.width = axisWidthPx;
				}
			}
		},
		plugins: { tooltip: { enabled: false } }
	};
}
