/** A column by its place in the row, from 0, and what its header calls it. */
export interface Column {
	at: number;
	name: string;
}

// A file's own words, without signs, capitals and accents. Each list goes from what says it outright to what may be
// meant; names that say the same are equally good, and then the page asks.
const heartWords = [
	/\b(heart\w*|hr ?\d*|pulse|puls(frequenz|schlag|schlage|zahl|aciones|azioni)?|herz\w*|cardia\w*|cardio|hart(slag|frequentie)|latidos|battiti|fc)\b/,
	/\b(bpm|beats?|ppm|hf)\b/,
	/^(rate|frequen\w*|frecuencia)( (value|wert|in|per|pro|1|min|minute))*$/
];
/** What has a rate or beats of its own, or is made of the heart's rate and is not it. */
const otherMeasures =
	/\b(steps?|stride\w*|schritt\w*|tritt\w*|strokes?|schlagzahl|cad|cade\w*|kadenz|spm|rpm|revolutions?|pedal\w*|breath\w*|brpm|respir\w*|atem\w*|power|leistung|potencia|puissance|potenza|watts?|speed|geschwindigkeit|velocidad|vitesse|velocita|pace|tempo|km|kmh|mph|altitude|elevation|hohe\w*|altura|distan\w*|temp|temperatur\w*|grade|slope|sampl\w*|sampling|abtast\w*|frame|hz|zones?|herz\w*(zone|variab)\w*|hrv|variab\w*|rmssd|sdnn|rr|ibi|interval\w*|quality|confidence|status|contact|hrmax|reserve|threshold|schwelle|target|alarm|change|percent|kcal|calor\w*|kalorien|energy|energie|load)\b|%/;
/** A figure of a stretch, not of the moment: taken only where there is no other. */
const sums =
	/\b(avg|average|mean|max\w*|min|minimum|highest|lowest|durchschnitt\w*|mittel\w*|moy\w*|rest\w*|ruhe\w*)\b/;
// There "min" is the minute and no minimum.
const perMinute = /(\/|\bper|\bpro|\bpor|\bpar)\s*min\w*\.?|[([]\s*(1\/)?min\s*[)\]]|min\^?-1/gi;

const timeWords = [
	/^(elapsed|elapsed time|time|timestamp|date ?time|zeit|uhrzeit|zeitstempel|temps|hora|tiempo|t|s)( (s|sec|secs|seconds?|sek\w*|ms|msec|millisec\w*|millisek\w*|min|mins|minutes?|minuten|utc|local|iso ?8601|hh|mm|ss|hms))*$/,
	/\b(elapsed|time\w*|zeit\w*|uhrzeit|temps|hora|tiempo|seconds?|sekunden?)\b/,
	/\b(tempo)\b|\bs$/
];
const otherTimes = /\b(zone\w*|moving|lap|split|pause\w*|rest|contact|zeitzone|time ?zone)\b/;

/** Seconds that one unit of a time without form is, by its header; 1 where it names none. */
export function secondsInUnit(header: string): number {
	const words = wordsOf(header);
	if (/\b(ms|msecs?|millisec\w*|millisek\w*)\b/.test(words)) return 0.001;
	return /\b(mins?|minutes?|minuten)\b/.test(words) && !/\b(s|secs?|ss|seconds?|hh)\b/.test(words) ? 60 : 1;
}

/** The columns that may be the heart rate, all equally good; none where no header speaks of one. */
export function rateColumns(header: readonly string[]): Column[] {
	const named = columnsIn(header).filter(
		({ words }) => !otherMeasures.test(words) && !/\b(time|elapsed|duration|dauer|zeit)\b/.test(words)
	);
	const moments = best(
		named.filter(({ words }) => !sums.test(words)),
		heartWords
	);
	return moments.length > 0 ? moments : best(named, heartWords);
}

/** The columns that may be the time, the likeliest first; of those that say the same the first is as good as any. */
export function timeColumns(header: readonly string[]): Column[] {
	const named = columnsIn(header).filter(({ words }) => !otherMeasures.test(words.replace(/\btempo\b/, '')));
	const whole = best(
		named.filter(({ words }) => !otherTimes.test(words)),
		timeWords
	);
	return whole.length > 0 ? whole : best(named, timeWords);
}

interface Named extends Column {
	words: string;
}

const columnsIn = (header: readonly string[]): Named[] =>
	header.map((name, at) => ({ at, name, words: wordsOf(name.replace(perMinute, ' ')) }));

const longestName = 200;

/** "HeartRate_(bpm)" as `heart rate bpm`: words of small letters, one blank between them. */
export function wordsOf(name: string): string {
	return name
		.slice(0, longestName)
		.replace(/([a-z])([A-Z])/g, '$1 $2')
		.normalize('NFD')
		.replace(/\p{Diacritic}/gu, '')
		.toLowerCase()
		.replace(/[^a-z0-9%]+/g, ' ')
		.trim();
}

/** Those that the first of the patterns matches that matches any. */
function best(columns: readonly Named[], patterns: readonly RegExp[]): Column[] {
	for (const pattern of patterns) {
		const found = columns.filter(({ words }) => pattern.test(words));
		if (found.length > 0) return found.map(({ at, name }) => ({ at, name }));
	}
	return [];
}
