import { secondsIn } from './corner';
import { expect, test } from './fixtures';

test('a pause in mid-rest stops the clock and not the heart, and the rest is shown but not judged', async ({
	page,
	corner
}) => {
	await corner.begin(
		{ threshold: 110 },
		{ Rounds: 2, 'Round, seconds': 60, 'Rest, seconds': 120, 'Get ready, seconds': 3 },
		'12 times as fast'
	);

	await expect(corner.clock).toContainText('Rest after round 1');
	await corner.button('Pause').click();
	await expect(corner.clock).toContainText('paused');
	const stoodAt = await corner.timeLeft.textContent();
	const beats = async () => Number(await corner.heartRate.textContent());
	const atPause = await beats();
	await expect.poll(beats, 'the heart goes on falling').toBeLessThan(atPause - 8);
	await expect(corner.timeLeft).toHaveText(stoodAt!);
	await corner.button('Resume').click();
	await expect(corner.timeLeft).not.toHaveText(stoodAt!);

	await expect(corner.clock).toContainText('Round 2 of 2');
	await corner.finish();
	await expect(await corner.cell('1', '1-minute drop')).toHaveText(/^\d+ ± \d+$/);
	await expect(await corner.cell('1', 'Verdict')).toContainText('not judged');
	await expect(await corner.cell('1', 'Verdict')).toContainText('The clock was paused');

	await corner.openSessions();
	await expect(page.getByRole('listitem')).toContainText('1-minute drop');
	const [session] = await corner.saved();
	const { rest } = session!.summary!.rounds[0]!;
	const [pause, resume] = session!.head.amendments;
	// The rest lasts as long as planned, and the pause on top.
	expect(rest!.endMs - rest!.startMs).toBeCloseTo(120_000 + resume!.atMs - pause!.atMs, 6);
});

test('a round is boxed again, one is added and a rest lasts 30 seconds longer, and the timeline says so', async ({
	page,
	corner
}) => {
	await corner.begin(
		{ threshold: 110 },
		{ Rounds: 2, 'Round, seconds': 120, 'Rest, seconds': 120, 'Get ready, seconds': 3 },
		'12 times as fast'
	);

	await expect(corner.clock).toContainText('Round 1 of 2');
	await expect(await corner.more('Rest +30 s')).toBeDisabled();
	await (await corner.more('Repeat round')).click();
	await expect(corner.clock).toContainText('Round 1 of 2 again');
	await (await corner.more('One more round')).click();
	await expect(corner.clock).toContainText('Round 1 of 3 again');

	await expect(corner.clock).toContainText('Rest after round 1');
	expect(secondsIn((await corner.timeLeft.textContent())!)).toBeLessThanOrEqual(120);
	// Noted by the page: at this pace half a minute is over in two seconds and a half.
	const noted = await page.evaluateHandle(() => {
		const readings: string[] = [];
		const look = () => {
			if (!document.body.textContent?.includes('Rest after round 1')) return;
			readings.push(document.querySelector('[role="timer"]')?.textContent ?? '');
		};
		new MutationObserver(look).observe(document.body, {
			subtree: true,
			childList: true,
			characterData: true
		});
		return readings;
	});
	await (await corner.more('Rest +30 s')).click();
	const wentUpS = async () => {
		const leftS = (await noted.jsonValue()).map(secondsIn);
		return Math.max(...leftS.slice(1).map((s, i) => s - leftS[i]!));
	};
	// Between two readings the clock itself has gone down some seconds.
	await expect.poll(wentUpS).toBeGreaterThan(15);
	expect(await wentUpS()).toBeLessThanOrEqual(30);
	await expect(corner.clock).toContainText('Round 2 of 3');

	await corner.button('Next').click();
	await expect(corner.clock).toContainText('Rest after round 2');
	await corner.button('Next').click();
	await expect(corner.clock).toContainText('Round 3 of 3');
	await (await corner.more('Stop round')).click();
	await expect(corner.clock).toContainText('The last minute');
	await corner.inReview();

	await expect(page.getByRole('rowheader')).toHaveText([
		'1, to be boxed again',
		'1 again',
		'2',
		'3, stopped'
	]);
	await expect(await corner.cell('1, to be boxed again', 'Verdict')).toHaveText('no rest followed');
	await expect(await corner.cell('1 again', 'Length')).toHaveText('2:00');
	await expect(await corner.cell('1 again', '1-minute drop')).toHaveText(/^\d+ ± \d+$/);
	await expect(await corner.cell('2', 'Verdict')).toContainText('The rest ended before 60 seconds.');
	await expect(await corner.cell('3, stopped', '1-minute drop')).toHaveText(/^-?\d+ ± \d+$/);

	await corner.openSessions();
	await expect(page.getByRole('listitem')).toContainText('1-minute drop');
	const [session] = await corner.saved();
	expect(session!.head.amendments.map(({ kind }) => kind)).toEqual([
		'repeat round',
		'add round',
		'extend rest',
		'next',
		'next',
		'stop round'
	]);
	const [dropped, again] = session!.summary!.rounds;
	// Ten seconds to get ready lie between the two tries at the first round.
	expect(again!.startMs - dropped!.endMs).toBeCloseTo(10_000, 6);
	expect(again!.endMs - again!.startMs).toBeCloseTo(120_000, 6);
	expect(again!.rest!.endMs - again!.rest!.startMs).toBeCloseTo(150_000, 6);
});
