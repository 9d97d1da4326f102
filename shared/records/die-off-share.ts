export interface Survival {
  survivalMedian: number;
  survivalSdLog: number;
  /** The share was put roughly, or in words such as "half". */
  rough: boolean;
}

// 95 % quantile of the standard normal distribution: half of a 90 % interval in standard deviations.
const HALF_OF_90_PERCENT = 1.6449;
const PLAIN_DOUBT = 0.05;
const ROUGH_DOUBT = 0.1;
/** Stands for "all": leaves less than half an animal of any colony up to 500. */
const LEAST_SURVIVAL = 0.001;

const PERCENT = /(\d{1,3}(?:[.,]\d{1,2})?)\s?(?:%|percent|per cent|pct)/;
const ROUGH =
  /~|≈|about|around|approx|circa|\bca\b|roughly|maybe|perhaps|nearly|almost|over|more than|at least|\+|\?/;
const SURVIVED = /\b(?:left|surviv\w*|alive|remain\w*)\b/;
const WORDS: readonly [RegExp, number][] = [
  [/\b(?:three quarters|3\/4)\b/, 75],
  [/\b(?:two thirds|2\/3)\b/, 66.7],
  [/\b(?:half|1\/2)\b/, 50],
  [/\b(?:a third|one third|1\/3)\b/, 33.3],
  [/\b(?:a quarter|one quarter|quarter|1\/4)\b/, 25],
  [/\b(?:all|everything|total loss|whole colony|every one)\b/, 100],
];

/**
 * How many of the animals came through a die-off, from its note: "lost about 48%", "half dead", "20 % left".
 * The doubt is stated: the share lost is taken to be within 5 points with a probability of 90 %, within 10 points
 * where it is put roughly or in words; survivalSdLog is that half width as a factor on the survivors. null where
 * the note tells no share.
 *
 * @example readDieOffNote('lost about 48%') // survivalMedian 0.52, survivalSdLog 0.107
 */
export function readDieOffNote(note: string): Survival | null {
  const text = note.toLowerCase();
  const percent = PERCENT.exec(text);
  const byWord = WORDS.find(([pattern]) => pattern.test(text));
  const share = percent ? Number(percent[1]!.replace(',', '.')) : byWord?.[1];
  if (share === undefined || share > 100) return null;
  const lost = SURVIVED.test(text) ? 100 - share : share;
  return lost <= 0 ? null : survivalOf(lost, !percent || ROUGH.test(text));
}

/** The survival after losing so many percent, with the doubt that goes with a plain or a rough figure. */
export function survivalOf(lostPercent: number, rough: boolean): Survival {
  const median = Math.max(LEAST_SURVIVAL, round(1 - lostPercent / 100));
  const doubt = rough ? ROUGH_DOUBT : PLAIN_DOUBT;
  // Near "all lost" the points would be a factor of hundreds; the logarithm of 2 is doubt enough there.
  const sdLog = Math.min(Math.LN2, Math.log((median + doubt) / median) / HALF_OF_90_PERCENT);
  return { survivalMedian: median, survivalSdLog: round(sdLog), rough };
}

function round(value: number): number {
  return Math.round(value * 10_000) / 10_000;
}
