import type { Working } from './working.ts';

/** The air, the water, the substrate and the feeders. */
export const ofKeeping = {
  air: {
    title: 'How dry the air is',
    answers:
      'How much more vapour the air of a room could take up, in kPa; the more, the faster cultures dry.',
    inputs: ['temperature and humidity of the readings'],
    formula: [
      'Saturation pressure = 0.6108 × exp(17.27 × T ÷ (T + 237.3)) kPa, with T in °C. Deficit = saturation pressure × (1 − humidity ÷ 100).',
      'Of an hour or a day the lowest and the highest reading are shown, and between them the mean of its readings.',
    ],
    changes: 'A new reading; a warmer room at the same humidity is drier.',
    sources: ['FAO Irrigation and Drainage Paper 56, equation 11: Allen and others 1998'],
    calculations: ['vapour', 'climate-day'],
  },
  drying: {
    title: 'When water is due',
    answers: 'On which day the surface of a culture is more likely dry than not.',
    inputs: [
      'looks at the surface and waterings, from the diary',
      'the deficit of the air where it stands; of a living room where nobody measured',
      'what is believed of such boxes: about ten days in a living room',
    ],
    formula: [
      'Water leaves in proportion to the deficit. A full watering lasts until days × deficit reaches the culture’s own amount; every look (wet, moist or dry) says whether it was reached and sharpens that amount. Due is the day on which dry becomes more likely than not.',
    ],
    changes: 'Looking and writing down what the surface is like; readings of the air; another lid.',
    sources: [
      'Evaporation in proportion to the deficit: Dalton 1802',
      'Bayes’ rule; ten days are common practice, no source',
    ],
    calculations: ['drying'],
  },
  substrate: {
    title: 'Substrate to mix',
    answers: 'How many litres of each material the coming work takes, and how many bags to buy.',
    inputs: [
      'enclosures to be filled and their inside measures',
      'layers: height, parts of each material, how much a material settles',
      'the share mixed on top, what is on the shelf, the size of a bag',
    ],
    formula: [
      'Litres of a layer = the room between its two heights. A material takes layer × its parts ÷ the sum of (parts × share kept when settled), times the enclosures, plus the share on top. Bags = (litres − on the shelf) ÷ litres of a bag, rounded up.',
    ],
    changes: 'Other plans, recipes, measures or stock on the shelf.',
    sources: ['Volumes of a box, a cylinder and a cut cone; units: NIST Handbook 44, Appendix C'],
    calculations: ['substrate'],
  },
  volume: {
    title: 'Litres of an enclosure',
    answers: 'How much an enclosure, and the substrate in it, takes up.',
    inputs: ['inside length, width and height, or the diameters', 'depth of the substrate'],
    formula: [
      'A box is length × width × depth. A round one is the volume of a cylinder, or of a cone without its tip. Ribs and rounded corners are not counted.',
    ],
    changes: 'Measuring again; another depth of substrate.',
    sources: ['Elementary geometry'],
  },
  feeders: {
    title: 'How many feeder cultures to start',
    answers: 'What to start in which week, so that no week runs short.',
    inputs: [
      'what each colony eats in a week, from its species’ figure and how full it is',
      'what a feeder culture gives, after how many days and for how long',
      'feeder cultures that run, and the share on top for safety',
    ],
    formula: [
      'Needed in a week = the sum of what is eaten × the safety. Supply in a week = what the running cultures and the planned starts give in it. The starts are chosen so that the fewest weeks are short, then by the fewest starts, then as late as can be.',
    ],
    changes: 'Another figure for eating, yield or safety; a feeder culture that fails or is started.',
    sources: ['Integer linear program; the figures to begin with are common practice, no source'],
    calculations: ['feeders'],
  },
} as const satisfies Record<string, Working>;
