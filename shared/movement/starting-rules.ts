import type { RuleValues } from './form.ts';

const base: RuleValues = {
  name: '',
  fromCountry: 'US',
  fromRegion: null,
  toCountry: 'US',
  toRegion: null,
  border: 'any',
  about: 'all',
  animalGroup: null,
  genus: null,
  speciesId: null,
  effect: 'warn',
  words: '',
  source: '',
  checkedOn: null,
  permitNumber: '',
  permitExpiresOn: null,
};

const mail = (section: string) => `US Postal Service, Publication 52, ${section}; as read in 2026`;

/**
 * Public rules to begin with, in our own words. None of them has been checked by whoever uses this: so they only warn until
 * the owner has read each where it is published and writes down the day. They are not all there is, and rules change.
 *
 * Sources: named in each; "secondary" where the text itself was seen only in a copy or in others' words.
 */
export const startingRules: readonly RuleValues[] = [
  {
    ...base,
    name: 'US mail: fit to travel',
    words:
      'By US mail: the post weighs harm, damage, smell, time and weather on the way. No food or water is given on the way; about four hours in a closed vehicle is the limit to think of.',
    source: mail('section 521'),
  },
  {
    ...base,
    name: 'US mail: the box',
    words:
      'By US mail: a box of double-wall corrugated fibreboard (275-lb test) or equal, which nothing escapes from and nothing crushes, with air; not the free packaging of the post.',
    source: mail('sections 522.1 and 522.2'),
  },
  {
    ...base,
    name: 'US mail: the address side',
    words:
      'By US mail: the full return address and what is inside stand on the address side. The instruction to abandon the parcel is not accepted.',
    source: mail('section 522.3'),
  },
  {
    ...base,
    name: 'US mail: spiders and poisonous insects',
    about: 'group',
    animalGroup: 'other',
    effect: 'block',
    words:
      'By US mail: no spiders at all and no poisonous insects, harmless or not. Put your own species in place of the group “other” where that is too wide.',
    source: mail('section 525.4'),
  },
  {
    ...base,
    name: 'US mail: scorpions',
    about: 'group',
    animalGroup: 'other',
    effect: 'block',
    words:
      'By US mail: true scorpions only for medical research or antivenin, by surface, in double containers, within the continental states. Put your own species in place of the group “other” where that is too wide.',
    source: `${mail('section 526.5')}; 18 USC 1716 (secondary)`,
  },
  {
    ...base,
    name: 'US mail: small cold-blooded animals',
    words:
      'By US mail: small harmless cold-blooded animals (no snakes, no turtles) may go when they arrive in good condition in the normal time, need no care on the way and make no mess or smell.',
    source: `${mail('section 526.6')} (secondary)`,
  },
  {
    ...base,
    name: 'US: plant pests between states',
    border: 'region',
    effect: 'permit',
    words:
      'Plant pests cross a state line only under a permit, an exception or a general permit, even to where the species already lives. The permit is asked for with form PPQ 526. Put your own species in place of “all”.',
    source: '7 CFR 330.200 (secondary); APHIS questions and answers, 2024',
  },
  {
    ...base,
    name: 'US: species freed from permits',
    border: 'region',
    words:
      'Some species are freed from single permits by regulation, with limits by state. Look your species up before you ask for a permit.',
    source: 'APHIS list under 7 CFR 330, since 2019 (list itself not read)',
  },
  {
    ...base,
    name: 'US: house crickets',
    fromCountry: null,
    about: 'group',
    animalGroup: 'other',
    words:
      'House crickets need no permit inside the continental states; bringing them into the country does.',
    source: 'APHIS page on pet food and animal feed, 2024',
  },
  {
    ...base,
    name: 'US: isopods between states',
    border: 'region',
    about: 'group',
    animalGroup: 'isopod',
    words:
      'Land isopods are treated as regulated. What that means by species and state is disputed: ask the authority before you send any.',
    source: 'common practice, secondary sources',
  },
  {
    ...base,
    name: 'US: label on permitted plant pests',
    border: 'region',
    words:
      'A permitted parcel of plant pests carries a label that names what is inside and by which authority it goes.',
    source: 'US Postal Service, Publication 14, section 33',
  },
  {
    ...base,
    name: 'US: containers of wildlife are marked',
    border: 'region',
    words: 'Containers of wildlife that cross a state line are plainly marked; invertebrates are included.',
    source: '16 USC 3372(b) (secondary)',
  },
  {
    ...base,
    name: 'Air cargo: containers for insects',
    fromCountry: null,
    toCountry: null,
    words:
      'As air cargo: an inner container in a rigid outer one, with small covered air holes, that cannot open by accident; labels “Live Animals” and “This way up”.',
    source: 'IATA Live Animals Regulations, container requirements 61 to 66 (excerpt of 2009)',
  },
  {
    ...base,
    name: 'Protected species across borders',
    fromCountry: null,
    toCountry: null,
    border: 'country',
    words:
      'Some invertebrates need papers to cross a border. Look every species up before it leaves the country.',
    source: 'CITES, appendices',
  },
];
