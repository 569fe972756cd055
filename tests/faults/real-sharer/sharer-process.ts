import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { accessSync, constants, mkdirSync, writeFileSync } from 'node:fs';
import { delimiter, join } from 'node:path';

const folder = 'gym';
const key = 'for-this-run-alone';
const answerMs = 180_000;

/** Where Debian's package `syncthing` has put the program; undefined where it is not installed. */
export function sharerPath(): string | undefined {
	return (process.env.PATH ?? '')
		.split(delimiter)
		.map((path) => join(path, 'syncthing'))
		.find((path) => {
			try {
				accessSync(path, constants.X_OK);
				return true;
			} catch {
				return false;
			}
		});
}

/** A file sharer of one laptop: it speaks to the others on the loopback alone, finds nobody and tells nobody. */
export class SharerProcess {
	readonly path: string;
	readonly id: string;
	readonly #home: string;
	#process: ChildProcess | undefined;

	constructor(
		private readonly program: string,
		private readonly number: number,
		private readonly firstPort: number,
		base: string
	) {
		this.path = join(base, `folder-${number}`);
		this.#home = join(base, `home-${number}`);
		mkdirSync(join(this.path, '.stfolder'), { recursive: true });
		const home = `--home=${this.#home}`;
		execFileSync(program, ['generate', home, '--no-default-folder', '--skip-port-probing'], {
			stdio: 'ignore'
		});
		this.id = execFileSync(program, ['--device-id', home], { encoding: 'utf8' }).trim();
	}

	/** Tells it of the others; before it is started. */
	introduce(all: readonly SharerProcess[]): void {
		writeFileSync(join(this.#home, 'config.xml'), this.#config(all));
	}

	/** One that ends before it answers, as after it was killed at a bad moment, is started again. */
	async start(): Promise<void> {
		const endMs = Date.now() + answerMs;
		for (;;) {
			this.#process ??= this.#spawned();
			if (await this.#answers()) return;
			if (Date.now() > endMs) throw new Error('The file sharer did not answer.');
			await new Promise((resolve) => setTimeout(resolve, 200));
		}
	}

	#spawned(): ChildProcess {
		const ways = [`--home=${this.#home}`, '--no-browser', '--no-restart', '--no-upgrade'];
		const made = spawn(this.program, ways, { stdio: 'ignore' });
		made.once('exit', () => (this.#process = undefined));
		return made;
	}

	async #answers(): Promise<boolean> {
		return (await this.#ask('system/ping').catch(() => undefined))?.ping === 'pong';
	}

	/** SIGKILL, at whatever it is. */
	async kill(): Promise<void> {
		const running = this.#process;
		if (!running) return;
		const isOver = new Promise((resolve) => running.once('exit', resolve));
		running.kill('SIGKILL');
		await isOver;
	}

	get isRunning(): boolean {
		return this.#process !== undefined;
	}

	/** Has it look at its folder now, if it is there. */
	async scan(): Promise<void> {
		await this.#ask(`db/scan?folder=${folder}`, 'POST').catch(() => undefined);
	}

	/** It is there, and it and the others have all that the others have; in words, what each of them lacks. */
	async standing(others: readonly SharerProcess[]): Promise<{ isUpToDate: boolean; words: string }> {
		try {
			const { connections } = await this.#ask('system/connections');
			const status = await this.#ask(`db/status?folder=${folder}`);
			const lacks = [`${this.number} is ${String(status.state)} and lacks ${String(status.needBytes)} bytes`];
			let isUpToDate = status.state === 'idle' && status.needTotalItems === 0;
			for (const { id, number } of others) {
				const isConnected = (connections as Record<string, { connected: boolean }>)[id]?.connected ?? false;
				const { completion, needItems } = await this.#ask(`db/completion?folder=${folder}&device=${id}`);
				isUpToDate &&= isConnected && completion === 100 && needItems === 0;
				lacks.push(
					`${number} ${isConnected ? 'lacks' : 'is away and lacks'} ${String(needItems)} of its files`
				);
			}
			return { isUpToDate, words: lacks.join(', ') };
		} catch (problem) {
			return { isUpToDate: false, words: `${this.number} does not answer (${String(problem)})` };
		}
	}

	async #ask(what: string, method = 'GET'): Promise<Record<string, unknown>> {
		const answer = await fetch(`http://127.0.0.1:${this.#apiPort}/rest/${what}`, {
			method,
			headers: { 'X-API-Key': key }
		});
		const text = await answer.text();
		return text.startsWith('{') ? (JSON.parse(text) as Record<string, unknown>) : {};
	}

	get #apiPort(): number {
		return this.firstPort + 2 * this.number;
	}

	#config(all: readonly SharerProcess[]): string {
		const device = ({ id, number }: SharerProcess) =>
			`<device id="${id}" compression="never"><address>tcp://127.0.0.1:${this.firstPort + 2 * number + 1}</address></device>`;
		return `<configuration version="36">
	<folder id="${folder}" path="${this.path}" type="sendreceive" rescanIntervalS="5" fsWatcherEnabled="true" fsWatcherDelayS="1">
		${all.map(({ id }) => `<device id="${id}"></device>`).join('')}
		<maxConflicts>-1</maxConflicts>
		<minDiskFree unit="%">0</minDiskFree>
	</folder>
	${all.map(device).join('')}
	<gui enabled="true" tls="false"><address>127.0.0.1:${this.#apiPort}</address><apikey>${key}</apikey></gui>
	<options>
		<listenAddress>tcp://127.0.0.1:${this.#apiPort + 1}</listenAddress>
		<globalAnnounceEnabled>false</globalAnnounceEnabled>
		<localAnnounceEnabled>false</localAnnounceEnabled>
		<relaysEnabled>false</relaysEnabled>
		<natEnabled>false</natEnabled>
		<stunKeepaliveStartS>0</stunKeepaliveStartS>
		<reconnectionIntervalS>1</reconnectionIntervalS>
		<maxSendKbps>200</maxSendKbps>
		<limitBandwidthInLan>true</limitBandwidthInLan>
		<startBrowser>false</startBrowser>
		<urAccepted>-1</urAccepted>
		<autoUpgradeIntervalH>0</autoUpgradeIntervalH>
		<crashReportingEnabled>false</crashReportingEnabled>
		<minHomeDiskFree unit="%">0</minHomeDiskFree>
	</options>
</configuration>
`;
	}
}
