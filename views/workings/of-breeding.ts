import type { Working } from './working.ts';

/** Kinship, starts, contacts, and the young to come. */
export const ofBreeding = {
  kinship: {
    title: 'Inbreeding, kinship and what is kept',
    answers: 'How much of the founders’ variety a culture still has, and how near of kin two cultures are.',
    inputs: [
      'founders, splits and mixings from the diary, with their numbers of animals',
      'the estimates of the animals over time',
      'of the species: days of a generation, share of females, share that passes on its genes',
    ],
    formula: [
      'Effective size = animals × the share that breeds, less when one sex is rarer. Each start, and each generation, adds 1 ÷ (2 × effective size) of what is not yet inbred. Kept = 1 − inbreeding.',
      'Mean kinship is the mean of a culture’s kinship with every culture of its species that is kept, itself included.',
    ],
    changes:
      'A split from few animals lowers what the new culture keeps; mixing with distant kin raises it; founders whose origin is corrected change everything after them.',
    sources: ['Malécot 1948', 'Wright 1931 and 1938', 'Mean kinship: Ballou and Lacy 1995'],
    calculations: ['lineage'],
  },
  mixing: {
    title: 'Which culture may strengthen which',
    answers: 'Which partner, and how many of its animals, would do most against inbreeding.',
    inputs: ['kinship of the two cultures and within each', 'animals in each', 'cultures never to be mixed'],
    formula: [
      'With a share w of newcomers the new inbreeding is (1 − w)² × its own + w² × the partner’s + 2 w (1 − w) × the kinship of the two. The best number of animals is where that is least.',
    ],
    changes: 'Other numbers of animals, corrected origins, and lines that may not be mixed.',
    sources: ['Malécot 1948'],
    calculations: ['mixing'],
  },
  start: {
    title: 'A safe start',
    answers: 'How many animals make a start that can breed.',
    inputs: [
      'share of females of the species',
      'males and females that a start must hold',
      'animals that move',
    ],
    formula: [
      'Each animal is female with the chance that is the share of females, on its own. The chance of a start is the sum over every number of females that leaves enough of both sexes (binomial). A start is called safe from 95 %.',
    ],
    changes:
      'More animals; another share of females; needing fewer of a sex; broods that are of one sex need more.',
    sources: ['Binomial distribution; the 95 % are common practice, no source'],
    calculations: ['starter-group'],
  },
  trace: {
    title: 'Who had contact',
    answers: 'Which cultures and orders a trouble can have reached, and from where it can have come.',
    inputs: ['splits, moved substrate, animals put in, feeders given and shared tools, with their days'],
    formula: [
      'From the day the trouble is taken to be there, each contact can carry it on, forward in time only. Shown is the first day on which each culture can have been reached, by the fewest contacts.',
    ],
    changes: 'Another first day, kinds of contact left out, and contacts written down later.',
    sources: [
      'Reachability over dated contacts, forward in time; which contacts carry trouble is common practice, no source',
    ],
    calculations: ['trace'],
  },
  development: {
    title: 'When they hatch and grow up',
    answers: 'On which days the first and the last of a brood reach a stage.',
    inputs: [
      'the day the stage began',
      'lowest and highest temperature of each day where the culture stands',
      'how long the stage takes at known temperatures',
    ],
    formula: [
      'The times give the temperature from which it grows and the degree-days it takes. Each day counts the area of its temperature curve (a sine through low and high) above that temperature. The stage is over when the sum reaches the degree-days; days ahead are taken to be like the last fortnight that was read. The range is from a quick brood in warmer weeks to a slow one in cooler weeks.',
    ],
    changes:
      'Warmer or cooler days, a reading taken out, and other figures of the species; stages that were seen teach it.',
    sources: ['Single sine: Baskerville and Emin 1969, Ecology 50:514-517'],
    calculations: ['development'],
  },
} as const satisfies Record<string, Working>;
