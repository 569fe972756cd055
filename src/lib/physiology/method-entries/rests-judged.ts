import { changeOver } from '../change';
import { changeSentence } from '../change-words';
import { fadeOf } from '../fade';
import type { MethodEntry } from '../method-entry';
import { bandBpm, hardFrom, measureRest } from '../recovery';
import { unusualIn } from '../unusual';
import { usualOf } from '../usual';
import { yardsticks } from '../yardstick';
import { bellS, cornerMinute, known } from './examples';
import { abstract, fromMemory } from './sources';

/** What is said of rests. */
export const restJudgementMethods: readonly MethodEntry[] = [
	{
		id: 'band',
		title: `The ${bandBpm.low} to ${bandBpm.high} band`,
		theme: 'rest',
		measures: ['measureRest', 'hardFrom', 'restErrorOf'],
		plain: `Boxing gyms expect the heart to come down by ${bandBpm.low} to ${bandBpm.high} beats in the minute after a hard round. That is a custom of the gym: no study of boxers' corner minutes was found. Most trained athletes lie under the band, as far as treadmill tests tell. So it judges a rest and not a person: look at the boxer first.`,
		formula: `drop at 60, rounded to whole beats: under ${bandBpm.low} slower than gyms look for, ${bandBpm.low} to ${bandBpm.high} what gyms look for, above it above the band (check strap and boxer, tiredness can do this too)\nhard round: bell rate at least 90 % of the threshold; without one, 80 % of the measured maximum; with only an age, 80 % of (208 - 0.7 age + 10)\n"too close to call": an edge of the band within the rest's own share of the error, 14 % of the drop (36 to 46 and 53 to 69 beats)`,
		example: () => {
			const hardFromBpm = known(hardFrom({ thresholdBpm: 170 }));
			const { bellBpm, drop60, verdict } = measureRest(cornerMinute, bellS, bellS + 60, { hardFromBpm });
			return {
				given: 'An athlete with a threshold of 170 bpm, so a round is hard from 90 % of it.',
				steps: `Hard from ${hardFromBpm.toFixed(0)} bpm; bell rate ${known(bellBpm).toFixed(1)}; drop ${known(drop60).toFixed(1)} beats.`,
				result: `${verdict}: what gyms look for`
			};
		},
		validRange:
			'Hard rounds with a rest of 60 s or more, readings in both windows, no pause or sleep of the computer from 10 s before the bell to second 60. Otherwise the rest is not judged, and the page says why.',
		error:
			'None published for the band. The drop itself is off by about 20 %, and a strap reads it a few beats low. Published falls in the first minute after a treadmill maximum: elite men 29.5 ± 15.6 beats, adolescent athletes 22.4 ± 10.8 (274 athletes together). Time constants of athletes: seated 52.5 ± 14.6 s, pedalling 74.1 ± 24.0, lying 32.0 ± 9.1. In ten overreached triathletes the fall was 8 ± 5 beats larger: tiredness can raise it.',
		sources: [
			'Common practice, no source',
			'Own rule',
			abstract('Suzic Lazic et al., Clin Physiol Funct Imaging 2017;37:117-123'),
			abstract('Barak et al., J Sports Sci Med 2011;10:369-375'),
			abstract('Aubry et al., PLoS ONE 2015;10:e0139754'),
			abstract('Bosquet, Gamelin, Berthoin, Int J Sports Med 2008;29:238-43'),
			abstract('Sabioni et al., Physiol Meas 2025;46:085001'),
			abstract('Tanaka, Monahan, Seals, J Am Coll Cardiol 2001;37:153-156')
		],
		limits:
			'When a round was hard is our own rule and can be adjusted. No verdict is given with medicine that slows the heart. A drop under the band does not mean illness, and one in it does not mean health: this is not a medical device.'
	},
	{
		id: 'fade',
		title: 'Fade round by round',
		theme: 'rest',
		measures: ['fadeOf', 'studentsT'],
		plain:
			'Whether the drop shrinks as the rounds go by. It is called a fade only where it is clearly larger than its own error. "No clear change" does not mean that the drops are the same: three rests show only a large fade.',
		formula:
			"fade (beats a round) = least-squares slope of the drop at 60 over the round number\nclear where the slope is more than 1.96 times what the rests' own share of the error (14 %) gives it, and more than Student's t (97.5 %, n - 2 degrees of freedom) times the error of the fit",
		example: () => {
			const drops = [60, 51, 40];
			const fade = known(
				fadeOf(drops.map((drop60, i) => ({ round: i + 1, drop60, verdict: 'in the band' })))
			);
			return {
				given: `Three judged rests with drops of ${drops.join(', ')} beats.`,
				result: `${fade.slopeBpm.toFixed(1)} ± ${fade.slopeErrorBpm.toFixed(1)} beats a round: ${fade.trend}`
			};
		},
		validRange: 'Three judged rests or more.',
		error:
			'The larger of the two errors is shown. Where there is no trend, at most one session in twenty is said to have one (simulated).',
		sources: ['Own rule', abstract('Bosquet, Gamelin, Berthoin, Int J Sports Med 2008;29:238-43')],
		limits:
			'It does not tell why: harder rounds, heat, lost water and tiredness can all make the drop shrink.'
	},
	{
		id: 'usual',
		title: "The athlete's own usual",
		theme: 'rest',
		measures: ['usualOf'],
		plain:
			"The drops that this athlete mostly has. A rest is compared with these first and with the gym's band second, because hearts differ.",
		formula:
			'middle = median of the judged drops of like sessions (one activity, one posture where it was noted)\nmostly = the middle four fifths of them, without the lowest and the highest tenth',
		example: () => {
			const sessions = [[40, 42], [38], [45, 41], [39], [44, 36]];
			const { middle, low, high } = known(usualOf(sessions));
			return {
				given: `Judged drops of five like sessions: ${sessions.map((drops) => drops.join(' and ')).join('; ')}.`,
				result: `${middle.toFixed(1)}, mostly ${low.toFixed(1)} to ${high.toFixed(1)} beats`
			};
		},
		validRange: 'Five like sessions or more; the rest itself is not among them.',
		error: 'None published. With few rests the ends are rough.',
		sources: ['Own rule', fromMemory('Hyndman & Fan, Am Stat 1996;50:361-365')],
		limits: 'Usual is not the same as good.'
	},
	{
		id: 'change',
		title: 'Change over weeks',
		theme: 'rest',
		measures: ['changeOver', 'spreadOf', 'byDay'],
		plain:
			'Whether drops, rates after one minute, thresholds, recovery speed or the resting rate have really changed. Only like sessions are compared, and a change counts only where it is larger than the usual difference between days. "No clear change" is not "no change": beside it stands the size of a change that such sessions would show four times in five.',
		formula:
			"a line through the days in their order, each weighted by the error of its mean\nchange: the line rises or falls by more than Student's t (97.5 %) times its error\nerror of one measurement: drop 20 %, at least 2 beats (half of the variance between days); rate after one minute as a share of the threshold 8 %; threshold 4 bpm; tau 35 %; resting rate 10 %\nfrom five days on (threshold: three) the athlete's own scatter about a line with a step half-way is pooled with it\nerrors that are shares are compared as logarithms; two sessions: the same with two days",
		example: () => {
			const values = [36, 41, 38, 43, 40, 44];
			const days = values.map((value, i) => ({ day: String(i), value, count: 3 }));
			return {
				given: `Six like sessions on six days, mean drops ${values.join(', ')} of three judged rests each.`,
				result: changeSentence(changeOver(days, yardsticks.drop), 'beats')
			};
		},
		validRange:
			'Three days of like sessions with judged rests (threshold: two runs). Sessions of one day count as one.',
		error:
			'Of 10,000 simulated athletes without a change (mean drops of 25, 35, 45; 3 to 12 sessions of 1 to 12 rests) under 5 % are told of one. Where single drops of an athlete scatter by 25 to 30 % instead of the 20 % assumed, 5 to 8 in 100 are told of a change that is none. Published scatter reaches 32 %, so one change told is a reason to look, not a proof.',
		sources: [
			'Own rule',
			abstract('Bosquet, Gamelin, Berthoin, Int J Sports Med 2008;29:238-43'),
			abstract('Al Haddad et al., Int J Sports Med 2011;32:598-605'),
			abstract('Buchheit, Front Physiol 2014;5:73'),
			abstract('Aubry et al., PLoS ONE 2015;10:e0139754'),
			abstract('Villamil Cabo et al., J Sports Sci Med 2011;10:616-623'),
			abstract('Grant et al., Eur J Appl Physiol 2002;87:159-166')
		],
		limits:
			'It does not tell why. A tired heart can fall faster, so read a rise beside effort and load. The 4 bpm of a threshold are our own rule: we found no study that repeats this run (a deflection point of rowers repeated within 1.3 bpm, lactate thresholds poorly). A sudden change shows less well early or late in the series than half-way.'
	},
	{
		id: 'unusual',
		title: 'Out of the ordinary',
		theme: 'rest',
		measures: ['unusualIn', 'isVerySmallFall', 'smallFallBpm'],
		plain:
			'Two things are pointed out: a very small fall in the minute after a hard round, and a rate far above the maximum. A dry or loose strap is the first suspect; if the trace is clean, rest and ask a doctor. The small fall is also told in the corner: check the strap; if unwell, stop and see a doctor.',
		formula:
			'small fall: drop at 60 of 12 beats or fewer, of 5 or fewer where the athlete is known to be under 19; judged rests only\nfar above: more than 208 - 0.7 age + 20 bpm, or more than 10 bpm above a measured maximum',
		example: () => ({
			given: 'An athlete of 40 years whose heart fell by 11 beats in the minute after a hard round.',
			result: known(
				unusualIn({ rests: [{ bellBpm: 172, drop60: 11, verdict: 'under the band' }], ageYears: 40 })[0]
			)
		}),
		validRange:
			'The small fall: after a hard round; without an age on file as for adults. The high rate: 8 to 100 years, or any age with a measured maximum.',
		error:
			'None published for boxers. The cut-off of 12 was found in 2428 patients aged 57 ± 12 with a walking cool-down: different people and a different rest. For the young we found none: 5 lies 1.6 SD under the 22.4 ± 10.8 of adolescent athletes. The age estimate has an SD of 10 bpm; about one person in forty lies more than 20 above it.',
		sources: [
			'Own rule',
			abstract('Cole et al., N Engl J Med 1999;341:1351-7'),
			abstract('Suzic Lazic et al., Clin Physiol Funct Imaging 2017;37:117-123'),
			abstract('Tanaka, Monahan, Seals, J Am Coll Cardiol 2001;37:153-156')
		],
		limits:
			'This is not a medical device and makes no diagnosis. If it says nothing, that does not mean that all is well. Chest pain, faintness or a racing heart at rest: stop and get help, whatever the page shows. The 10 bpm above a measured maximum is our own rule.'
	}
];
