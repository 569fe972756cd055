/** What was heard of one audio context, on its own clock. */
export interface Track {
	sampleRate: number;
	/** Samples at which sound set in after a fifth of a second of silence. */
	onsets: number[];
	/** Every start that was ever asked for, with the reading of the two clocks that it was reckoned with. */
	starts: (Reading & { atS: number })[];
	/** Readings of the two clocks in the course of the session. */
	pairs: Reading[];
}

/** The sample that leaves the loudspeaker at a moment of the page. */
interface Reading {
	contextTimeS: number;
	performanceTimeMs: number;
}

/** What was seen of the sound in a page, on the scales of its clocks. */
export interface Tapped {
	/** One for each output that the page opened. */
	ours: Track[];
	/** A bare audio context: a stroke on every full second after Start from `firstControlS` on, each planned once, by hand. */
	control: Track[];
	/** What the page read first from `performance.now()` at the press on Start. */
	originMs: number;
	/** How often a timer of 100 ms came in the last five seconds, and whether the page was hidden then. */
	ticks: { count: number; isHidden: boolean };
}

/** Seconds after Start, time for the control's output to open. */
export const firstControlS = 4;

/**
 * Runs in the page before anything of it: whatever goes to the loudspeaker also goes into a recorder on the audio
 * thread, which notes the very sample at which each sound sets in. Beside it a bare context plays control strokes into a
 * recorder of its own and to nobody's ears, since a tab that sounds is throttled less: what they miss is the machine's.
 */
export function tapSound(firstControlS: number): void {
	const tapped: Tapped = { ours: [], control: [], originMs: NaN, ticks: { count: 0, isHidden: false } };
	Object.assign(window, { tapped });
	// How far ahead of its moment a control stroke is planned: the page looks for those to plan ten times as often.
	const aheadMs = 2500;

	const recorder = `registerProcessor('onsets', class extends AudioWorkletProcessor {
		quiet = sampleRate;
		process([input]) {
			const samples = input[0];
			for (let i = 0; i < 128; i++) {
				if (!samples || Math.abs(samples[i]) < 1e-7) this.quiet++;
				else {
					if (this.quiet >= sampleRate / 5) this.port.postMessage(currentFrame + i);
					this.quiet = 0;
				}
			}
			// The one timer of a hidden page that nobody throttles.
			if (currentFrame % (Math.round(sampleRate / 512) * 128) === 0) this.port.postMessage('quarter');
			return true;
		}
	})`;
	const connect = AudioNode.prototype.connect as (this: AudioNode, to: AudioNode) => AudioNode;
	const start = AudioBufferSourceNode.prototype.start;
	const readingOf = AudioContext.prototype.getOutputTimestamp;
	const tracks = new Map<BaseAudioContext, Track>();
	const taps = new Map<BaseAudioContext, Promise<AudioWorkletNode>>();
	const lastReadings = new Map<BaseAudioContext, Reading>();

	const asReading = ({ contextTime = 0, performanceTime = 0 }: AudioTimestamp): Reading => ({
		contextTimeS: contextTime,
		performanceTimeMs: performanceTime
	});

	async function tapOf(context: AudioContext, into: Track[], eachQuarter = () => {}) {
		const track: Track = { sampleRate: context.sampleRate, onsets: [], starts: [], pairs: [] };
		into.push(track);
		tracks.set(context, track);
		const code = URL.createObjectURL(new Blob([recorder], { type: 'text/javascript' }));
		await context.audioWorklet.addModule(code);
		const node = new AudioWorkletNode(context, 'onsets', { numberOfOutputs: 1 });
		node.port.onmessage = ({ data }: MessageEvent<number | 'quarter'>) => {
			if (data !== 'quarter') return void track.onsets.push(data);
			const reading = asReading(readingOf.call(context));
			if (reading.contextTimeS) track.pairs.push(reading);
			eachQuarter();
		};
		const silent = context.createGain();
		silent.gain.value = 0;
		connect.call(node, silent);
		connect.call(silent, context.destination);
		return node;
	}

	AudioNode.prototype.connect = function (this: AudioNode, to: AudioNode, ...rest: unknown[]) {
		const { context } = this;
		if (to instanceof AudioDestinationNode && context instanceof AudioContext) {
			let tap = taps.get(context);
			if (!tap) taps.set(context, (tap = tapOf(context, tapped.ours)));
			void tap.then((node) => connect.call(this, node));
		}
		return Reflect.apply(connect, this, [to, ...rest]) as AudioNode;
	} as typeof AudioNode.prototype.connect;

	AudioContext.prototype.getOutputTimestamp = function (this: AudioContext) {
		const timestamp = readingOf.call(this);
		lastReadings.set(this, asReading(timestamp));
		return timestamp;
	};

	AudioBufferSourceNode.prototype.start = function (this: AudioBufferSourceNode, atS = 0, ...rest) {
		const reading = lastReadings.get(this.context);
		if (reading) tracks.get(this.context)?.starts.push({ atS, ...reading });
		start.call(this, atS, ...rest);
	};

	/** The plainest that can be played on a moment: no ringer, no bridge, no plan of ours. */
	async function playControl(originMs: number) {
		const context = new AudioContext();
		// Inaudible, and not zeros: an output that is given those is let go, and its clock loses time (see bell/audio-output).
		const floor = context.createConstantSource();
		floor.offset.value = 1e-9;
		connect.call(floor, context.destination);
		floor.start();
		const click = context.createBuffer(1, context.sampleRate / 20, context.sampleRate);
		click.getChannelData(0).fill(0.5);
		let second = firstControlS;
		const plan = () => {
			const { contextTime, performanceTime } = context.getOutputTimestamp();
			if (!contextTime || !performanceTime) return;
			for (; originMs + second * 1000 < performance.now() + aheadMs; second++) {
				const source = context.createBufferSource();
				source.buffer = click;
				connect.call(source, node);
				source.start(Math.max(0, contextTime + (originMs + second * 1000 - performanceTime) / 1000));
			}
		};
		const node = await tapOf(context, tapped.control, plan);
	}

	const pressed = (event: Event) => {
		const button = event.target instanceof Element && event.target.closest('button');
		if (!button || button.textContent?.trim() !== 'Start') return;
		// Elapsed zero is the page's own reading, in its handler: a busy machine may come to that some milliseconds later.
		performance.now = () => {
			Reflect.deleteProperty(performance, 'now');
			return (tapped.originMs = performance.now());
		};
		// Opening an output takes the page a tenth of a second, which is not to be Start's.
		setTimeout(() => void playControl(tapped.originMs), 1000);
	};
	addEventListener('click', pressed, { capture: true });

	let ticked: number[] = [];
	setInterval(() => {
		const nowMs = performance.now();
		ticked = [...ticked.filter((ms) => ms > nowMs - 5000), nowMs];
		if (nowMs > 5000) tapped.ticks = { count: ticked.length, isHidden: document.hidden };
	}, 100);
}
