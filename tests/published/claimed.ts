/**
 * Which test file checks which row of checks.json. A new check of ours goes here by its file's name; each id
 * stands once, here or in `background`, and the file must name every id that it claims.
 */
export const claimed: Record<string, readonly string[]> = {
  'climate.test.ts': [
    'i01-fao-ex3',
    'i02-fao-table-2.3',
    'i03-fao-ex5-ea',
    'i04-fao-ex5-vpd',
    'i05-fao-delta',
    'i06-rh-mean-ea',
    'i07-vpd-simple',
  ],
  'count.test.ts': [
    'a01-petersen-krebs',
    'a02-chapman-krebs',
    'a03-chapman-ricker',
    'a04-chapman-seber-3.7',
    'a07-zero-recaptures',
    'b01-carlestrub-ex1',
    'b02-carlestrub-cowx5',
    'b04-seber2-cowx',
    'b05-burnham-vandeventer',
    'b06-zippin-moran-schnute-s1',
    'b07-zippin-moran-schnute-s2',
    'b08-zippin-moran-schnute-s4',
    'b09-zippin-moran-schnute-s7',
    'b10-zippin-moran-schnute-s8',
    'b11-zippin-moran-schnute-s12',
    'b12-zippin-1958',
    'b13-no-depletion-2pass',
  ],
  'development.test.ts': [
    'g01-zalom-single-sine-dev',
    'g07-degday-readme',
    'g08-mcmaster-simple-average',
    'g09-ucipm-average-example',
    'g10-symmetric-sine',
    'h02-dmel-two-point-thermal-constant',
    'h07-folsomia',
  ],
  'genetics.test.ts': [
    'f01-kinship2-ped2',
    'f02-mrode-2.1-A',
    'f03-basic-relationships',
    'f04-full-sib-mating',
    'f05-selfing',
    'f06-expected-F',
    'f07-harmonic-ne',
    'f08-sex-ratio-ne',
    'f09-delta-F',
    'f10-bottleneck-H',
  ],
  'growth.test.ts': [
    'd03-gause-app-t3-aurelia',
    'd04-carlson-yeast',
    'd05-pearl-yeast-curve',
    'd06-closed-form',
    'd07-time-to-level',
    'd19-doubling-time',
    'e01-basic',
    'e02-fin-whale',
    'e04-constant-quota-equilibria',
    'e07-surplus-from-level',
  ],
  'parcels.test.ts': [
    'g22-hourly-linvill-lat40',
    'j01-incropera-5.1',
    'j02-cengel-4.1',
    'j03-cengel-4.2',
    'j04-som-4.2',
    'j05-sachdeva-5.2',
    'j06-icebox-ncert',
    'j08-R-from-k',
    'j10-openstax-icebox',
    'j21-latent-heats',
  ],
  'proportion.test.ts': [
    'c01-exact-7-10',
    'c04-exact-4-20',
    'c05-exact-4-20-90',
    'c06-wilson-newcombe-81-263',
    'c07-wilson-newcombe-0-20',
  ],
  'starter-group.test.ts': ['k01-12-2-2', 'k02-one-each', 'k06-impossible'],
};

/** Rows that no calculation of ours answers, and why. */
export const background: Record<string, string> = {
  'b03-seber3-cowx':
    'the explicit three-pass formula solves the large-number approximation of the likelihood; zippin here uses the exact one',
  'c02-wilson-7-10': 'no interval of ours is Wilson’s; the exact ones rest on the beta quantile',
  'c03-wilson-4-20': 'no interval of ours is Wilson’s; the exact ones rest on the beta quantile',
  'd08-r-docs-sslogis-chick':
    'the row names its data but does not hold them, and the weights of one growing bird are no colony',
  'g02-zalom-single-triangle-dev': 'no calculation of ours takes a day as a triangle; the sine is asked for',
  'g03-zalom-double-sine-dev': 'no calculation of ours takes half days; one sine per civil day is asked for',
  'h06-tmolitor-doubling':
    'how fast a mealworm population doubles is a belief of that species, not a development time; the arithmetic is d19’s',
};
