// The one door to Chart.js. Loaded on demand, so that pages without a picture do not carry it; only the
// parts our pictures use are registered, the rest is left out of the bundle.
import { Chart, LinearScale, LineController, LineElement, PointElement, Tooltip } from 'chart.js';

Chart.register(LinearScale, LineController, LineElement, PointElement, Tooltip);

export { Chart };
