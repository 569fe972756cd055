import { secondsIn } from '../corner';
import { expect, test } from '../fixtures';
import { arrivalsOf, dropAt, meanRate, packet, recoveryBpm, secondsOver } from '../packets';

// Two rounds of 20 s: the closing burst is the last ten, so half of a round lies outside it.
const getReadyS = 3;
const roundS = 20;
const restS = 60;
const bellS = getReadyS + roundS;
const thresholdBpm = 170;

/** Four seconds under the threshold, then 180 until the bell, then the recovery of packets.ts. */
function rateAt(elapsedS: number): number {
	if (elapsedS < getReadyS + 4) return 150;
	return elapsedS < bellS ? 180 : Math.round(recoveryBpm(elapsedS - bellS));
}

const mss = (s: number) => `${Math.floor(s / 60)}:${String(s % 60).padStart(2, '0')}`;
const beatsIn = (text: string | null) => Number(/\d+/.exec(text ?? '')?.[0]);

test('the drop on the screen and in the kept session is the drop of the packets that the strap sent', async ({
	page,
	radio,
	corner
}) => {
	const strap = await radio.addStrap({ address: '02:00:00:00:00:21', name: 'Chest strap A' });
	await corner.open(
		{ threshold: thresholdBpm },
		{
			Rounds: 2,
			'Round, seconds': roundS,
			'Rest, seconds': restS,
			'Get ready, seconds': getReadyS
		}
	);
	await corner.pair(strap);
	const startMs = await corner.start();
	const fromS = await corner.middleOfSecond(startMs);
	strap.stream((second) => packet({ bpm: rateAt(fromS + second) }));
	const sent = () => arrivalsOf(strap.delivered, startMs);

	await expect(corner.clock).toContainText('Round 1 of 2');
	await expect(corner.heartRate).toHaveText('180');
	await expect(corner.restDrop).toContainText('–');

	await expect(corner.clock).toContainText('Rest after round 1');
	const { overS, burstOverS } = secondsOver(sent(), getReadyS, bellS, thresholdBpm);
	// Worked by hand 6 and 10, if every packet comes in its own second; some of each must be there to be counted.
	expect(Math.min(overS, burstOverS)).toBeGreaterThan(0);
	const asClock = (s: number) => `0:${String(s).padStart(2, '0')}`;
	await expect(corner.overThreshold).toContainText(`${asClock(overS)} this round`);
	await expect(corner.overThreshold).toContainText(`+ ${asClock(burstOverS)} closing burst`);
	await expect(corner.overThreshold).toContainText(`${asClock(overS)} this session`);

	// Half-way through: 180 - 154.6 by hand; a second more or less is 0.6 beats.
	await corner.clockDownTo('0:25');
	await expect(
		page.getByRole('img', { name: /^Bell rate 180, down .* heading for \d+ to \d+$/ })
	).toBeVisible();
	const restedS = restS - secondsIn((await corner.timeLeft.textContent())!);
	const soFar = beatsIn(await corner.restDrop.locator('.number').textContent());
	expect(Math.abs(soFar - dropAt(sent(), bellS, restedS))).toBeLessThan(3);

	// While there is a rest left to act in, a plain line says where it is heading.
	await corner.clockDownTo('0:15');
	await expect(page.getByText(/^Heading for \d+ to \d+$/)).toBeVisible();

	// Whoever held the bottle at second 60 still reads it in the next round.
	await expect(corner.clock).toContainText('Round 2 of 2', { timeout: 120_000 });
	const drop60 = dropAt(sent(), bellS, 60);
	const drop30 = dropAt(sent(), bellS, 30);
	const rate60 = meanRate(sent(), bellS + 55, bellS + 60)!;
	// By hand, at the middle of the seconds 55 to 59: 180 - (120 + 60 exp(-57.5/60)) = 37.0.
	expect(Math.abs(drop60 - 37)).toBeLessThan(0.6);
	await expect(corner.restDrop).toContainText(
		`${Math.round(drop60)} in rest 1, to ${Math.round(rate60)}: too close to call`
	);

	await corner.finish();
	await expect(await corner.cell('1', 'At the bell')).toHaveText('180');
	await expect(await corner.cell('1', 'Drop at 0:30')).toHaveText(`${Math.round(drop30)}`);
	await expect(await corner.cell('1', '1-minute drop')).toHaveText(
		`${Math.round(drop60)} ± ${Math.round(0.2 * drop60)}`
	);
	await expect(await corner.cell('1', 'After 1 min')).toHaveText(`${Math.round(rate60)}`);
	await expect(await corner.cell('1', 'Verdict')).toHaveText('slower than gyms look for, too close to call');
	await expect(await corner.cell('1', 'Over threshold')).toHaveText(mss(overS));
	await expect(await corner.cell('1', 'Closing burst')).toHaveText(mss(burstOverS));
	await expect(await corner.cell('2', '1-minute drop')).toHaveText('–');
	await expect(await corner.cell('2', 'Verdict')).toContainText('The rest ended before 60 seconds.');

	await corner.openSessions();
	await expect(page.getByRole('listitem')).toContainText(
		new RegExp(`${Math.round(drop60)}\\s*1-minute drop`)
	);
	const [session] = await corner.saved();
	const [first] = session!.summary!.rounds;
	expect(first!.over).toMatchObject({ overS, burstOverS });
	expect(first!.rest!.drop60).toBeCloseTo(drop60, 6);
	expect(first!.rest!.startMs).toBe(bellS * 1000);
	expect(session!.head.practice).toBe(false);

	// Packet by packet: every rate as sent, each at the page's own time of arrival.
	expect(session!.packets.map(({ bpm }) => bpm)).toEqual(
		sent()
			.slice(0, session!.packets.length)
			.map(({ bpm }) => bpm)
	);
	// None that came in its time is missing; one at the very end may still have been under way.
	const inTime = sent().filter(({ s }) => s * 1000 < session!.head.endedMs - 500);
	expect(session!.packets.length).toBeGreaterThanOrEqual(inTime.length);
	expect(inTime.length).toBeGreaterThan(60);
	const lateMs = session!.packets.map(({ ms }, i) => Math.abs(sent()[i]!.s * 1000 - ms));
	// But for the moments in which the machine itself stood still.
	expect(lateMs.filter((ms) => ms >= 250).length).toBeLessThan(lateMs.length / 10);
});
