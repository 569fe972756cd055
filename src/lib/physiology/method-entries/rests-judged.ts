import { fadeOf } from '../fade';
import type { MethodEntry } from '../method-entry';
import { bandBpm, hardFrom, measureRest } from '../recovery';
import { unusualIn } from '../unusual';
import { bellS, cornerMinute, known } from './examples';
import { abstract } from './sources';

/** What is said of rests. */
export const restJudgementMethods: readonly MethodEntry[] = [
	{
		id: 'band',
		title: `The ${bandBpm.low} to ${bandBpm.high} band`,
		theme: 'rest',
		measures: ['measureRest', 'hardFrom'],
		plain: `Boxing gyms expect the heart to come down by ${bandBpm.low} to ${bandBpm.high} beats in the minute after a hard round. That is a custom of the gym: no study of boxers' corner minutes was found.`,
		formula: `drop at 60, rounded to whole beats: under ${bandBpm.low} under the band, ${bandBpm.low} to ${bandBpm.high} in the band, above it over the band\nhard round: bell rate at least 90 % of the threshold; without one, 80 % of the measured maximum; with only an age, 80 % of (208 - 0.7 age + 10)\n"near the edge": an edge of the band within the typical error`,
		example: () => {
			const hardFromBpm = known(hardFrom({ thresholdBpm: 170 }));
			const { bellBpm, drop60, verdict } = measureRest(cornerMinute, bellS, bellS + 60, { hardFromBpm });
			return {
				given: 'An athlete with a threshold of 170 bpm, so a round is hard from 90 % of it.',
				steps: `Hard from ${hardFromBpm.toFixed(0)} bpm; bell rate ${known(bellBpm).toFixed(1)}; drop ${known(drop60).toFixed(1)} beats.`,
				result: verdict
			};
		},
		validRange:
			'Hard rounds with a rest of 60 s or more, readings in both windows, no pause or sleep of the computer from 10 s before the bell to second 60. Otherwise the rest is not judged, and the reason is shown.',
		error: 'None published for the band. The drop itself is off by about 20 %.',
		sources: [
			'Common practice, no source',
			'Own rule',
			abstract('Tanaka, Monahan, Seals, J Am Coll Cardiol 2001;37:153-156')
		],
		limits:
			'When a round was hard is our own rule and can be adjusted. No verdict is given with medicine that slows the heart. A drop under the band is no illness, and one in it is no bill of health: this is not a medical device.'
	},
	{
		id: 'fade',
		title: 'Fade from rest to rest',
		theme: 'rest',
		measures: ['fadeOf'],
		plain:
			'Whether the drop shrinks as the rounds go by. It is called a fade only where it is clearly larger than its own error.',
		formula:
			'fade (beats a round) = least-squares slope of the drop at 60 over the round number\nclear where the slope is more than 2 standard errors (n - 2 degrees of freedom)',
		example: () => {
			const drops = [52, 47, 45];
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
			'The standard error stands beside it. With three rests even a clear fade is a weak claim, because each drop alone is off by about 20 %.',
		sources: ['Own rule', abstract('Bosquet, Gamelin, Berthoin, Int J Sports Med 2008;29:238-43')],
		limits: 'It does not tell why: harder rounds, heat and lost water fade the drop as tiredness does.'
	},
	{
		id: 'unusual',
		title: 'Out of the ordinary',
		theme: 'rest',
		measures: ['unusualIn'],
		plain:
			'Two things are pointed out calmly: a very small fall in the minute after a hard round, and a rate far above the maximum. A dry or loose strap is the first suspect; if the trace is clean, rest and ask a doctor.',
		formula:
			'small fall: drop at 60 of 12 beats or fewer, adults only, judged rests only\nfar above: more than 208 - 0.7 age + 20 bpm, or more than 10 bpm above a measured maximum',
		example: () => ({
			given: 'An athlete of 40 years whose heart fell by 11 beats in the minute after a hard round.',
			result: known(
				unusualIn({ rests: [{ bellBpm: 172, drop60: 11, verdict: 'under the band' }], ageYears: 40 })[0]
			)
		}),
		validRange:
			'The small fall: adults, after a hard round. The high rate: 8 to 100 years, or any age with a measured maximum.',
		error:
			'None published for boxers. The cut-off of 12 was found in 2428 patients aged 57 ± 12 with a walking cool-down: other people and another rest. The age estimate has an SD of 10 bpm; about one person in forty lies more than 20 above it.',
		sources: [
			'Own rule',
			abstract('Cole et al., N Engl J Med 1999;341:1351-7'),
			abstract('Tanaka, Monahan, Seals, J Am Coll Cardiol 2001;37:153-156')
		],
		limits:
			'This is not a medical device and makes no diagnosis; that nothing is said here does not mean that all is well. Chest pain, faintness or a racing heart at rest: stop and get help, whatever the page shows. The 10 bpm above a measured maximum is our own rule.'
	}
];
