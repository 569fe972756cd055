/** What was seen of the sound in a page, on the scales of its two clocks. */
export interface Tapped {
	sampleRate: number;
	/** Samples at which sound set in after a fifth of a second of silence. */
	onsets: number[];
	/** Every start that was ever asked for, with the reading of the two clocks at that moment. */
	starts: { atS: number; contextTimeS: number; performanceTimeMs: number }[];
	/** Readings of the two clocks in the course of the session. */
	pairs: { contextTimeS: number; performanceTimeMs: number }[];
	/** `performance.now()` at the press on Start. */
	originMs: number;
	/** How often a timer of 100 ms came in the last five seconds, and whether the page was hidden then. */
	ticks: { count: number; isHidden: boolean };
}

/**
 * Runs in the page before anything of it: whatever goes to the loudspeaker also goes into a recorder on the audio
 * thread, which notes the very sample at which each sound sets in.
 */
export function tapSound(): void {
	const tapped: Tapped = {
		sampleRate: 0,
		onsets: [],
		starts: [],
		pairs: [],
		originMs: NaN,
		ticks: { count: 0, isHidden: false }
	};
	Object.assign(window, { tapped });

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
			return true;
		}
	})`;
	const taps = new Map<BaseAudioContext, Promise<AudioWorkletNode>>();
	async function tapOf(context: AudioContext): Promise<AudioWorkletNode> {
		await context.audioWorklet.addModule(
			URL.createObjectURL(new Blob([recorder], { type: 'text/javascript' }))
		);
		const node = new AudioWorkletNode(context, 'onsets', { numberOfOutputs: 1 });
		node.port.onmessage = ({ data }: MessageEvent<number>) => void tapped.onsets.push(data);
		tapped.sampleRate = context.sampleRate;
		const silent = context.createGain();
		silent.gain.value = 0;
		connect.call(node, silent);
		connect.call(silent, context.destination);
		const note = () => {
			const { contextTime, performanceTime } = context.getOutputTimestamp();
			if (contextTime && performanceTime)
				tapped.pairs.push({ contextTimeS: contextTime, performanceTimeMs: performanceTime });
		};
		setInterval(note, 250);
		return node;
	}
	const connect = AudioNode.prototype.connect as (this: AudioNode, to: AudioNode) => AudioNode;
	AudioNode.prototype.connect = function (this: AudioNode, to: AudioNode, ...rest: unknown[]) {
		const { context } = this;
		if (to instanceof AudioDestinationNode && context instanceof AudioContext) {
			let tap = taps.get(context);
			if (!tap) taps.set(context, (tap = tapOf(context)));
			void tap.then((node) => connect.call(this, node));
		}
		return Reflect.apply(connect, this, [to, ...rest]) as AudioNode;
	} as typeof AudioNode.prototype.connect;

	const start = AudioBufferSourceNode.prototype.start;
	AudioBufferSourceNode.prototype.start = function (this: AudioBufferSourceNode, atS = 0, ...rest) {
		if (this.context instanceof AudioContext) {
			const { contextTime = NaN, performanceTime = NaN } = this.context.getOutputTimestamp();
			tapped.starts.push({ atS, contextTimeS: contextTime, performanceTimeMs: performanceTime });
		}
		start.call(this, atS, ...rest);
	};

	const pressed = (event: Event) => {
		const button = event.target instanceof Element && event.target.closest('button');
		if (button && button.textContent?.trim() === 'Start') tapped.originMs = performance.now();
	};
	addEventListener('click', pressed, { capture: true });

	let ticked: number[] = [];
	setInterval(() => {
		const nowMs = performance.now();
		ticked = [...ticked.filter((ms) => ms > nowMs - 5000), nowMs];
		if (nowMs > 5000) tapped.ticks = { count: ticked.length, isHidden: document.hidden };
	}, 100);
}
