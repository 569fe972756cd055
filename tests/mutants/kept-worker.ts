import { ForksPoolWorker, type PoolOptions, type PoolWorker, type WorkerRequest } from 'vitest/node';

type Listener = (told: unknown) => void;

/**
 * One process for all runs. A mutant is switched on and off inside it, and to start a process and read all modules anew
 * takes ten times as long as its tests do. Test files are read anew for each run, other modules once.
 */
export function keptWorker() {
	let kept: ForksPoolWorker | undefined;
	return {
		name: 'kept',
		createPoolWorker(options: PoolOptions): PoolWorker {
			const isNew = kept === undefined;
			const worker = (kept ??= new ForksPoolWorker(options));
			const listeners: [event: string, listener: Listener][] = [];
			let config: object | undefined;
			const answer = (type: 'started' | 'stopped') => {
				for (const [event, listener] of listeners) {
					if (event === 'message') listener({ type, __vitest_worker_response__: true });
				}
			};
			return {
				name: 'kept',
				cacheFs: worker.cacheFs,
				on(event, listener) {
					listeners.push([event, listener]);
					worker.on(event, listener);
				},
				off: (event, listener) => worker.off(event, listener),
				deserialize: (told) => worker.deserialize(told),
				async start() {
					if (isNew) await worker.start();
				},
				send(request: WorkerRequest) {
					if (request.type === 'stop') answer('stopped');
					else if (request.type === 'start') {
						({ config } = request.context);
						if (isNew) worker.send(request);
						else answer('started');
					} else if (request.type === 'cancel') worker.send(request);
					else worker.send(withConfig(request, config));
				},
				async stop() {
					for (const [event, listener] of listeners) worker.off(event, listener);
				}
			};
		}
	};
}

/** What is to be run, by the settings of the run that it belongs to. */
function withConfig(
	request: Extract<WorkerRequest, { type: 'run' | 'collect' }>,
	config: object | undefined
) {
	return { ...request, context: { ...request.context, config } as typeof request.context };
}
