/** Whence the numbers on customers' pages are known, in English. */
export const enKnown = {
  ask: 'How do we know?',
  arrives: 'It should arrive on {day}, if the carrier keeps its times.',
  counter: 'It should be ready for you at the counter on {day}, if the carrier keeps its times.',
  dayChosen:
    'The day: we choose one on which the carrier goes and the weather forecast is good enough for the animals. A newer forecast can change it; then we write to you.',
  arrival:
    'The arrival: the day it leaves and the days that the carrier needs. Its rest days are counted in.',
  inside:
    'The temperature: by the forecast it stays at {inside} in the box, also if the weather is colder or warmer than forecast or the parcel is late. All animals in it bear {borne}. Forecasts can be wrong, so it is no promise.',
  animals:
    'The animals: groups × animals in a group. We put in a few more than ordered where we expect that some may not stand the journey.',
  until:
    'How long we take reports: the parcel left on {sent}; {onWay} for the way as a rule, and {more} to look at the animals.',
  days: { one: '{count} day', other: '{count} days' },
  spare:
    'How many are spare: we count and estimate how many animals live in each culture, on the cautious side. Enough stay to go on breeding, and what others were promised is taken off. What is left makes whole groups.',
  mostShown: 'Of more than {most} groups we do not say how many there are.',
  ready:
    'When the next are ready: from how fast they have been breeding we reckon the first week in which one more group can go. It is a forecast, not a promise.',
  price: 'The price is for one group of the animals named. Postage comes on top.',
  priceHeld: 'The price is for one group of the animals named, tax included. Postage comes on top.',
  priceAdded: 'The price is for one group of the animals named. Tax and postage come on top.',
  changes: 'A new count or somebody else’s order changes the numbers at once.',
} as const;
