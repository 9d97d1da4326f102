import type { Working } from './working.ts';

/** Which culture fills which order, what it costs, and how it travels. */
export const ofSelling = {
  allocation: {
    title: 'Which cultures fill which orders',
    answers: 'From which cultures the groups of the orders are best taken.',
    inputs: [
      'groups wished for, in the order of the wishes',
      'animals each culture can spare',
      'lines to keep apart',
    ],
    formula: [
      'First the most groups of the first orders, then from the fewest cultures, then so that what stays to spare is shared most evenly. A group comes whole from one culture.',
    ],
    changes: 'A fresh count, another order of the wishes, groups reserved by hand.',
    sources: ['Integer linear program, solved to the proof or saying how far off it may be'],
    calculations: ['allocate'],
  },
  total: {
    title: 'What an order costs',
    answers: 'The sum of an order.',
    inputs: ['groups and the price of one, line by line', 'postage'],
    formula: ['Each line is groups × price of one. The order is the sum of its lines + postage.'],
    changes: 'Other groups, prices or postage.',
    sources: ['Whole minor units, exactly; nothing is rounded'],
  },
  invoice: {
    title: 'Sums and taxes of an invoice',
    answers: 'What an invoice comes to, with each tax.',
    inputs: [
      'lines: number × price',
      'each tax: its rate, what it is on, and whether prices hold it already',
      'payments and credit',
    ],
    formula: [
      'A tax that prices hold already is price × rate ÷ (100 % + all rates held), once for all goods and once for carriage; what is left is without tax. A tax that comes on top is the sum without tax that it is on × rate. Each is rounded half up to whole minor units. Total = without tax + taxes; open = total − paid − credited.',
    ],
    changes: 'Other lines, other taxes before the invoice is written, a payment or a credit note afterwards.',
    sources: [
      'Taxable amount × rate, rounded: EN 16931-1:2017, BR-CO-17; the rates are the owner’s, local law decides',
    ],
  },
  parcel: {
    title: 'How warm a parcel stays',
    answers:
      'The lowest and the highest temperature the animals feel on the way, and which day, box and pack keep them safe.',
    inputs: [
      'the forecast of the places on the way, and how far off it may be',
      'hours of each leg, the days the carrier works, and a delay',
      'what the box lets through (W/K), what is in it, and the packs',
      'what the most delicate animal bears',
    ],
    formula: [
      'The inside follows the air outside: change in an hour = (what the box lets through × (outside − inside) + watts of the packs) ÷ heat capacity. A cold pack also holds it at its melting point until it is melted.',
      'It is run for the forecast, for colder and warmer weather and for a late parcel. An option is offered when all of them stay within what the animals bear. On the first day that is safe at all the cheapest is taken, of equals the one farthest from the limits.',
    ],
    changes:
      'A newer forecast, a box measured with a cooling log, another pack, carrier, day, or other limits of the species.',
    sources: [
      'Lumped heat capacity: Incropera and DeWitt, chapter 5 (from memory)',
      'Forecast: MET Norway or the US National Weather Service, or typed in',
    ],
    calculations: ['parcel', 'parcel-options', 'dispatch-days', 'climate-day'],
  },
  box: {
    title: 'What a box lets through',
    answers: 'How many watts leave a box for each degree between inside and outside.',
    inputs: ['inside measures, wall and material', 'or a cooling log with known contents'],
    formula: [
      'By its wall: mean surface ÷ (inside film of air + wall ÷ conductivity + outside film). By a log: the value whose curve lies nearest to the readings (least squares).',
    ],
    changes: 'A log taken over, another wall or measure; a box that is worn.',
    sources: ['Resistances in series: Incropera and DeWitt, chapter 3 (from memory)'],
    calculations: ['parcel'],
  },
  weight: {
    title: 'What a parcel weighs',
    answers: 'The weight of a packed parcel, as far as its parts were weighed.',
    inputs: ['weight of the empty box, each cup and each pack', 'how many of each'],
    formula: [
      'Sum of number × weight of one. Parts that nobody weighed are named, never guessed. Padding and paper are in no figure.',
    ],
    changes: 'Weighing a part; other cups or packs. The scales have the last word.',
    sources: ['The owner’s own figures'],
  },
  cups: {
    title: 'How many cups',
    answers: 'How many cups the groups of an order take, and whether they stand in the box.',
    inputs: ['groups and animals in each', 'animals a cup takes', 'measures of cups and box'],
    formula: [
      'Animals in all = groups × animals in one, extras included.',
      'A group has its own cup; with more animals than a cup takes it has animals ÷ animals in a cup, rounded up. Cups stand upright in rows and layers, the tallest at the bottom; a tighter fit may exist.',
    ],
    changes: 'Another cup for the species, another number for a cup.',
    sources: ['Common practice, no source: the numbers are the owner’s'],
  },
  arrivals: {
    title: 'What arrivals teach',
    answers: 'At which temperatures animals began to die on the way, and which limit that would mean.',
    inputs: [
      'lowest and highest temperature of each trip, as worked out',
      'animals sent and animals dead, as customers told',
      'the limits in use',
    ],
    formula: [
      'A curve of the chance to die over the temperature is laid through all parcels that were told of. The limit proposed is where it passes the share that is borne, between temperatures that parcels really had. Nothing changes until the owner takes it over.',
    ],
    changes: 'More reports, above all from cold and warm trips; missing animals are not counted as dead.',
    sources: [
      'Logistic regression, widened by what parcels differ more than chance (quasi-binomial); interval: Fieller 1954',
      'The share that is borne is ours, no source',
    ],
  },
} as const satisfies Record<string, Working>;
