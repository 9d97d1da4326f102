import type { Working } from './working.ts';

/** How many are there, what they can spare, and when to look again. */
export const ofStock = {
  population: {
    title: 'How many are there',
    answers: 'How many animals live in a culture now, how fast they grow, and how full their enclosure is.',
    inputs: [
      'the founding group and its day',
      'every count of the diary, with the doubt of its method',
      'animals taken out and put in, by day and number',
      'what is believed of the species: growth, what a litre holds, the share that shows',
      'the litres of substrate in the enclosure',
    ],
    formula: [
      'The number grows week by week: growth rate × animals × (1 − animals ÷ what the enclosure holds), with ups and downs around it. Animals taken out or put in are added and subtracted exactly.',
      'Many rates of growth, limits of the enclosure and numbers of animals are held possible at once, on a fine grid. Each count gives weight to those that agree with it: a full count much, a glance at the wall little. The middle is the median of all that weight; the interval holds nine tenths of it.',
    ],
    changes:
      'A fresh count moves it most, a full count more than a glance; so do an entry that was forgotten, other figures of the species, and another enclosure.',
    sources: ['Logistic growth: Verhulst 1838', 'Weights on a grid (point-mass filter): Bucy and Senne 1971'],
    calculations: ['population', 'count'],
  },
  detection: {
    title: 'The share that shows',
    answers: 'Of the animals in there, how many are seen at a glance.',
    inputs: ['what is believed to begin with', 'pairs of a glance and a full count within five days'],
    formula: [
      'The belief is a share with its doubt, weighed as so many visits. Each pair is one visit more: animals seen ÷ animals there. What each visit says is added to what was believed, by its weight.',
      'A glance is turned into a head count by the same share: animals seen ÷ share, with the doubt of the share in the interval.',
    ],
    changes: 'Another pair of a glance and a full count; the more pairs, the less each one changes.',
    sources: ['Hierarchical beta-binomial model: Gelman and others, Bayesian Data Analysis'],
    calculations: ['count'],
  },
  surplus: {
    title: 'What a culture can spare',
    answers: 'How many animals, and how many starter groups, can leave a culture today without harm to it.',
    inputs: [
      'the estimate of the animals, with its doubt',
      'what must stay: a number and a share of what the enclosure holds',
      'how sure one must be, as set for the species',
      'animals promised to open orders',
      'animals and adults in one starter group',
      'trouble: mites, a die-off, quarantine',
    ],
    formula: [
      'Spare = the number that is there with the certainty set for the species − what must stay − what is promised, and never below none. What must stay is the larger of the number and the share. Groups = spare ÷ animals in a group, rounded down, and no more than the adults allow.',
      'The next group is the first of the eight weeks ahead in which one group more is spare. For good a culture gives a quarter of growth rate × what the enclosure holds.',
    ],
    changes:
      'A fresh count of a culture whose doubt is wide; an order taken or given up; another reserve, certainty or group in the figures of the species; an end of the trouble.',
    sources: [
      'Steady harvest of a logistic stock: Schaefer 1954',
      'Reserve and certainty: the figures of the species, the owner’s own',
    ],
    calculations: ['surplus'],
  },
  'count-next': {
    title: 'Which count frees the most',
    answers: 'How many starter groups more could be sold, on average, if a culture were counted now.',
    inputs: [
      'the estimate of each culture, with its doubt',
      'what must stay, what is promised, the size of a group',
      'the way of counting and its minutes',
    ],
    formula: [
      'For every number a count may find, weighed by how likely it is: groups that could be spared after it. The mean of these − groups spare now = the gain; gain ÷ minutes orders the list.',
    ],
    changes: 'Any count; other minutes or ways of counting; orders taken in the meantime.',
    sources: ['Preposterior analysis: Raiffa and Schlaifer 1961'],
    calculations: ['count-next'],
  },
  label: {
    title: 'What fits on a label',
    answers: 'How large a label, and the squares of its code, come out on a sheet.',
    inputs: ['paper, margins and gaps', 'labels across and down', 'the address in the code'],
    formula: [
      'Width of a label = (paper − margins − gaps) ÷ labels across; its height likewise. Square = side of the code ÷ (squares of the code + 4 on either side that stay white).',
    ],
    changes: 'Another sheet; a shorter address of the service makes fewer and larger squares.',
    sources: ['White margin: ISO/IEC 18004', 'The smallest square for phones is common practice, no source'],
  },
  due: {
    title: 'When something is due',
    answers: 'When a culture wants a look, a count, water, food or new substrate, and why.',
    inputs: [
      'the days between looks, meals and renewals, as set for the species',
      'the day on which each was last done, or the day of founding',
      'what was noted: food left over, a dry surface, fresh food put in',
      'the estimate, what must stay and what is promised, for counts',
      'days that were put off',
    ],
    formula: [
      'Due on = the day it was last done + the days between. Where plenty of food was left, the next meal comes half of its days later; where none was left, at once. Fresh food is taken out after three days. Water is due when the surface was found dry, else on the day it is expected to be.',
      'A count is due when not one group is sure by the lower end of the interval while two or more are there by its upper end, and not before four weeks after the last. The reason stands beside each day; what was put off comes back on the day that was chosen.',
    ],
    changes: 'Writing the work down as done; putting it off; other days in the figures of the species.',
    sources: ['Common practice, no source: the days are the owner’s, on the page of the species'],
  },
} as const satisfies Record<string, Working>;
